"""How good a sharing-out could be at best: a bound from below, and the loads of a best one.

The linear programme says what serving each part is worth; for each piece the load worth most under
these prizes is looked for and added, until none brings anything more (P. Gilmore and R. Gomory,
*Operations Research* 9, 1961, 849-859). Under any prizes their sum, less what the best load of each
piece brings, is a bound (A. Geoffrion, *Mathematical Programming Study* 2, 1974, 82-114). The
prizes are drawn towards the best known, so that they do not swing (P. Wentges, *International
Transactions in Operational Research* 4, 1997, 151-162).

Jumps on the shelf cost no less than nothing: left out of the mixture, they leave the bound true;
where loads are picked whole they are counted.

The packer's 'no' is not exact, so the bound is one on what this packer can do.
"""

from collections.abc import Callable, Iterable

import numpy as np

from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.hoard import Floats
from bindery_stock.matching.load_search import Load
from bindery_stock.matching.orders import never
from bindery_stock.matching.pricing import Priced, Pricing
from bindery_stock.matching.programme import Picked, Programme, first_prizes
from bindery_stock.matching.rough_bound import floor
from bindery_stock.matching.share_values import Sharing

Over = Callable[[], bool]

_DRAWN = 0.6  # how far the prizes are drawn towards the best known
_ASKS, _MORE = 12.0, 1.6  # new questions to the packer for a piece in a round, and their growth
_STALLED = 1e-3  # share of its value by which the programme falls less when more is to be asked
_CLOSED = 1e-5  # share of the programme's value that the bound may lack
_ALONE = 6  # closest pieces for each part that begin with it alone
_ALL = 30_000  # loads looked through in all where every one near the best is wanted


class Bound:
    """The bound of a campaign, raised round by round."""

    def __init__(self, campaign: Campaign, time_limit: float, over: Over = never) -> None:
        """Begin with each part alone in its closest pieces."""
        self.value = floor(campaign)
        """No plan of this packer costs less, as far as was proved."""
        self.closed = False
        """Whether further rounds bring nothing."""
        self._campaign = campaign
        self._bare = bare = Sharing(campaign)
        count = len(campaign.pieces)
        self._pricings: list[Pricing | None] = [None] * count
        self._pinned = (
            sum(bare.cost(part) for part in campaign.pins)
            + sum(self._pricing(n).base for n in range(count) if bare.parts_in[n])
            + campaign.volumes.price * campaign.volumes.broken
            + campaign.prices.jump * campaign.shelf.all_jumps(bare.where)
        )
        self._programme = Programme(campaign)
        self._prizes = np.zeros(len(campaign.parts))
        self._worths = np.full(count, np.inf)
        """Of the best load of each piece under the prizes that gave the bound, at most."""
        self._overturned = [0] * count
        self._drawn, self._asks, self._last = _DRAWN, _ASKS, np.inf
        if len(campaign.pins) == len(campaign.parts) or not campaign.pieces:
            self.value, self.closed = bare.objective(), True
        else:
            self._begin(time_limit, over)

    def _begin(self, time_limit: float, over: Over) -> None:
        campaign = self._campaign
        self._prizes = first_prizes(campaign, time_limit)
        for part, candidates in enumerate(campaign.candidates):
            if over():
                return
            for piece in candidates[:_ALONE] if part not in campaign.pins else ():
                if self._pricing(piece).holds(part):
                    self._add(piece, [(part,)])

    def _pricing(self, piece: int) -> Pricing:
        """Of that piece, made when first needed: with many pieces that takes a while."""
        pricing = self._pricings[piece]
        if pricing is None:
            pricing = Pricing(self._campaign, piece, self._bare.content(piece))
            self._pricings[piece] = pricing
        return pricing

    def _add(self, piece: int, loads: Iterable[Load]) -> int:
        return self._programme.add(piece, loads, self._pricing(piece).cost)

    def learn(self, sharing: Sharing) -> None:
        """Take up the loads of a plan."""
        pins = self._campaign.pins
        for piece, parts in enumerate(sharing.parts_in):
            load = tuple(sorted(part for part in parts if part not in pins))
            self._add(piece, [load])

    def round(self, over: Over, time_limit: float) -> bool:
        """Solve and look for better loads once; false where it was over before it was through."""
        solved = self._programme.solve(time_limit)
        if solved is None:
            return False
        prizes = self._drawn * self._prizes + (1.0 - self._drawn) * solved.prizes
        priced = self._price(prizes, over)
        if priced is None:
            return False
        added = sum(self._add(n, found.loads) for n, found in enumerate(priced))
        self._raise(prizes, priced)
        exact = all(found.exact for found in priced)
        if added == 0 and exact:
            self._drawn /= 2.0
        if not exact and self._last - solved.value < _STALLED * solved.value:
            self._asks *= _MORE
        self._last = solved.value
        value = solved.value + self._pinned
        self.closed = self.value >= value * (1.0 - _CLOSED) or (added == 0 and self._drawn < 0.01)
        return True

    def pick(self, upper: float, time_limit: float, nodes: int | None) -> Picked | None:
        """The best plan of loads known so far, better than ``upper`` if there is one."""
        dearer = self._dearer(upper)
        return self._programme.pick(self._prizes, self._worths, dearer, time_limit, nodes)

    def complete(self, upper: float, over: Over) -> bool:
        """Add every load that a plan better than ``upper`` may have; false where they are too many.

        Then the best plan of the loads known is the best of all.
        """
        dearer, left = self._dearer(upper), _ALL
        for piece in range(len(self._pricings)):
            if over() or left <= 0:
                return False
            least = float(self._worths[piece]) - dearer
            loads, all_of_them = self._pricing(piece).every(self._prizes, least, dearer, left, over)
            self._add(piece, loads)
            left -= len(loads)
            if not all_of_them:
                return False
        return True

    def prove(self, picked: Picked, upper: float) -> None:
        """Take the best plan of loads for a bound, these being all that one below ``upper`` has."""
        self.value = max(self.value, min(picked.bound + self._pinned, upper))
        self._note()

    def confirm(self, over: Over = never) -> None:
        """Where the packer has since laid what it had refused, prove the bound anew.

        When it is over, what such a piece is worth is told roughly: the bound may fall.
        """
        pieces = [n for n, then in enumerate(self._overturned) if then != self._overturns(n)]
        if pieces and np.isfinite(self._worths).all():
            for piece in pieces:
                self._worths[piece] = self._priced(piece, self._prizes, over).at_most
            self.value = max(self._under(self._prizes, self._worths), 0.0)
            self.closed = False
            self._note()

    def _price(self, prizes: Floats, over: Over) -> list[Priced] | None:
        priced = []
        for piece in range(len(self._pricings)):
            if over():
                return None
            priced.append(self._priced(piece, prizes, over))
        return None if over() else priced

    def _priced(self, piece: int, prizes: Floats, over: Over) -> Priced:
        known = self._programme.known(piece)
        return self._pricing(piece).best(prizes, known, int(self._asks), over)

    def _raise(self, prizes: Floats, priced: list[Priced]) -> None:
        worths = np.array([found.at_most for found in priced])
        value = self._under(prizes, worths)
        if value > self.value or not np.isfinite(self._worths).all():
            self.value, self._prizes, self._worths = max(value, 0.0), prizes, worths
            self._note()

    def _dearer(self, upper: float) -> float:
        """By how much a load of a plan below ``upper`` may be worth less than its piece's best."""
        return max(upper - self._under(self._prizes, self._worths), 0.0)

    def _under(self, prizes: Floats, worths: Floats) -> float:
        """The bound under these prizes, where no load of a piece is worth more than that."""
        return self._pinned + self._programme.sum_of(prizes) - float(worths.sum())

    def _note(self) -> None:
        """How often each packer has corrected itself so far."""
        self._overturned = [self._overturns(piece) for piece in range(len(self._pricings))]

    def _overturns(self, piece: int) -> int:
        return self._campaign.packers[piece].overturned
