"""What a sharing-out found: who gets what, why, and how good it is."""

from dataclasses import dataclass, field
from functools import cached_property

from bindery_stock.colour import family
from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.fits import Lying
from bindery_stock.matching.price_account import Reckoning, reckoned
from bindery_stock.matching.ranking import match_at
from bindery_stock.matching.search import exchange, leavers
from bindery_stock.matching.seen_cloth import by_seen_cloth
from bindery_stock.matching.share_values import NOWHERE, Sharing
from bindery_stock.matching.values import Part, Piece

_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class PartServed:
    """A part and the piece it is to be cut from."""

    number: int
    """Of the part, in the list of parts."""
    part: Part
    piece: Piece
    delta_e: float | None
    """ΔE00; nothing where colour does not matter or was not measured."""
    u: float | None
    """95 % uncertainty of that ΔE00, where it is known."""
    placement: Lying
    cost: float
    """What it adds to the objective."""
    pinned: bool
    under: bool = False
    """True where ΔE00 is of the cloth under the part as it lies, by the piece's colour map."""

    @property
    def code(self) -> str:
        """The piece's code."""
        return self.piece.code


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A part that gets nothing."""

    number: int
    part: Part
    fits_nothing: bool
    """True where no piece of the hoard would serve it even alone: such a part is wanted."""
    reason: str
    """One sentence."""
    best: str = ""
    """Code of the piece that would serve it best if it were alone; empty where none would."""
    taken_by: tuple[str, ...] = ()
    """Names of the parts that this piece goes to."""


@dataclass(frozen=True)
class Outcome:
    """One way to share out."""

    placed: tuple[PartServed, ...]
    unplaced: tuple[Unplaced, ...]
    objective: float
    """The whole sum, as ``Prices`` counts it."""
    _sharing: Sharing = field(repr=False, compare=False)

    @cached_property
    def reckoning(self) -> Reckoning:
        """What each price cost. Takes a moment."""
        return reckoned(self._sharing)


@dataclass(frozen=True, slots=True)
class Why:
    """Why a part gets the piece it gets."""

    best: str
    """Code of the piece that would serve it best if it were alone."""
    best_delta_e: float | None
    taken_by: tuple[str, ...]
    """Names of the parts that the best piece goes to, where it is another."""
    swap: float | None
    """By how much the objective would rise if it took its best piece and the others made way;
    nothing where it has its best piece, or where pinned parts keep it."""
    sentence: str


@dataclass(frozen=True)
class Plan:
    """The best sharing-out found."""

    placed: tuple[PartServed, ...]
    unplaced: tuple[Unplaced, ...]
    objective: float
    """The whole sum, as ``Prices`` counts it."""
    bound: float
    """No plan of this packer costs less, as far as was proved."""
    closest_first: Outcome
    """What taking the parts in turn, each from the closest piece, would give."""
    steps: int
    """How many steps of the search were taken."""
    stopped: bool
    """True where it was stopped before its time or steps were up."""
    _sharing: Sharing = field(repr=False, compare=False)

    @property
    def to_buy(self) -> float:
        """What the parts that nothing serves count, and the volumes that wait for them."""
        return self._sharing.campaign.volumes.to_buy

    @property
    def gap(self) -> float:
        """How far the objective may lie above the best, as a share of the bound.

        What is to be bought in any case is left out of both.
        """
        bound, objective = self.bound - self.to_buy, self.objective - self.to_buy
        if bound <= _NOTHING:
            return 0.0 if objective <= _NOTHING else float("inf")
        return max(objective - bound, 0.0) / bound

    @property
    def relative_to(self) -> str:
        """What the gap is relative to, in a sentence."""
        return (
            "The gap is measured against what the program's own way of laying parts into a piece "
            "can do: a cleverer cutter may get more parts out of one."
        )

    @cached_property
    def reckoning(self) -> Reckoning:
        """What each price cost. Takes a moment."""
        return reckoned(self._sharing)

    @cached_property
    def _by_number(self) -> dict[int, PartServed]:
        return {placed.number: placed for placed in self.placed}

    def why(self, number: int) -> Why:
        """Why the part of this number gets its piece. Raises ``KeyError`` for an unplaced part.

        The price of a swap is found by trying it, so this takes a moment, and one thread at a time.
        """
        return explained(self._sharing, self._by_number[number])


def outcome(sharing: Sharing) -> Outcome:
    """A sharing-out as plain values."""
    campaign = sharing.campaign
    laid = sharing.placements()
    placed = tuple(_placed(sharing, number, laid[number]) for number in sorted(laid))
    unplaced = tuple(
        _unplaced(campaign, sharing, number)
        for number, piece in enumerate(sharing.where)
        if piece == NOWHERE
    )
    return Outcome(placed, unplaced, sharing.objective(), sharing)


def _placed(sharing: Sharing, number: int, placement: Lying) -> PartServed:
    campaign, piece = sharing.campaign, sharing.where[number]
    part, of = campaign.parts[number], campaign.pieces[piece]
    known, under = campaign.known(campaign.delta_e, number, piece), False
    if known is not None and of.colour_map is not None:
        seen = by_seen_cloth(match_at(part, of, placement))
        known, under = seen.delta_e, seen.alone is not None
    return PartServed(
        number,
        part,
        of,
        known,
        campaign.known(campaign.u, number, piece),
        placement,
        sharing.cost(number),
        number in campaign.pins,
        under,
    )


def _best(campaign: Campaign, number: int) -> int:
    """The piece that would serve the part best if it were alone, or ``NOWHERE``."""
    fitting = (p for p in campaign.candidates[number] if campaign.fits_alone(number, p))
    return next(fitting, NOWHERE)


def _unplaced(campaign: Campaign, sharing: Sharing, number: int) -> Unplaced:
    part = campaign.parts[number]
    if part.visibility == 0:
        return Unplaced(number, part, False, "It counts nothing (weight 0), so it takes no cloth.")
    best = _best(campaign, number)
    if best == NOWHERE:
        return Unplaced(
            number, part, True, f"Nothing in the hoard serves: looking for {_card(part)}."
        )
    code = campaign.pieces[best].code
    takers = tuple(campaign.name(taker) for taker in sorted(sharing.parts_in[best]))
    reason = f"{code} would hold it; the search was stopped before it was given a place."
    if takers:
        goes = ", ".join(takers)
        reason = f"All that would hold it is given to others: {code}, its best, goes to {goes}."
    return Unplaced(number, part, False, reason, code, takers)


def _card(part: Part) -> str:
    """What to look for: ``ribbed red cloth, L* 38 a* 42 b* 24, at least 58 × 228 mm``."""
    kind = part.kind.value if part.kind else "material"
    kind = "plain cotton" if part.plain else kind
    words = [part.pattern, family(part.lab) if part.lab else "", kind]
    margin = 2 * part.margin
    size = f"at least {part.width + margin:g} × {part.height + margin:g} mm"
    colour = "L* {:.0f} a* {:.0f} b* {:.0f}".format(*part.lab) if part.lab else ""
    within = f"within ΔE00 {part.tolerance:g}" if part.lab and part.tolerance is not None else ""
    described = " ".join(word for word in words if word)
    return ", ".join(word for word in (described, colour, within, size) if word)


def explained(sharing: Sharing, placed: PartServed) -> Why:
    """The best piece, who took it, and the price of a swap."""
    campaign, number = sharing.campaign, placed.number
    best = _best(campaign, number)
    here = sharing.where[number]
    if best in (NOWHERE, here) or placed.pinned:
        how = "pinned to it" if placed.pinned else "the best that would hold it"
        return Why(placed.code, placed.delta_e, (), None, f"{placed.code} is {how}.")
    code = campaign.pieces[best].code
    taken_by = tuple(campaign.name(part) for part in sorted(sharing.parts_in[best]))
    swap = _price_of_swap(sharing, number, best)
    delta_e = campaign.known(campaign.delta_e, number, best)
    shade = "" if delta_e is None else f" (ΔE00 {delta_e:.1f})"
    goes = f"goes to {', '.join(taken_by)}" if taken_by else "is kept free"
    price = "" if swap is None else f"; {_price_words(swap)}"
    return Why(
        code, delta_e, taken_by, swap, f"{code}{shade} would suit it best but {goes}{price}."
    )


def _price_words(swap: float) -> str:
    if abs(swap) < 0.05:
        return "giving it up would make no difference that can be told"
    more = "more" if swap > 0 else "less"
    return f"giving it up would cost the whole {abs(swap):.1f} {more}"


def _price_of_swap(sharing: Sharing, number: int, best: int) -> float | None:
    """What the whole would cost more if the part took its best piece, others making way."""
    before, now = sharing.snapshot(), sharing.objective()
    prices: list[float] = []
    for leaving in leavers(sharing, best):
        if sharing.packs(number, best, leaving):
            exchange(sharing, number, best, leaving)
            prices.append(sharing.objective() - now)
            sharing.restore(before)
    return min(prices, default=None)
