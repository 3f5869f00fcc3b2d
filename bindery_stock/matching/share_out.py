"""Sharing the hoard out over every open part: a plan at once, then a better one, then a bound."""

import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import partial

from bindery_stock.errors import EntryError
from bindery_stock.matching.bound import Bound
from bindery_stock.matching.campaign import Campaign, Pin
from bindery_stock.matching.orders import (
    closest_first,
    fill_by_regret,
    fill_closest,
    plain_regret,
    regret_order,
    waiting,
)
from bindery_stock.matching.plan import Plan, outcome
from bindery_stock.matching.prices import Prices
from bindery_stock.matching.rough_bound import by_area, floor
from bindery_stock.matching.search import better
from bindery_stock.matching.share_values import Sharing
from bindery_stock.matching.shelf import Row
from bindery_stock.matching.time_given import Now, TimeGiven
from bindery_stock.matching.values import Part, Piece

Tell = Callable[[str, float, float], None]
"""Told what is being done, the objective so far and the bound so far."""

_PROVED = 1e-4  # a plan no dearer than the bound by more is the best: HiGHS rounds to 1e-7
_ROUGHLY = 0.1  # of the time, for the bound by area
_FIRST_SEARCH = 0.15  # of the time, before the first bound
_ROUNDS_BETWEEN = 12  # of the bound, before loads are picked
_AFTER = 0.03  # of the time left, for bettering what was picked
_TO_THE_END = 0.97  # of the time left, for the last search; then the bound may be proved anew
_NEARER = (0.25, 0.5, 1.0)  # of the gap, within which every load is looked for
_TIMES = 3  # the bound is closed anew where the packer has corrected itself
_NODES = 300  # at most, where steps are counted and not time


def share_out(  # noqa: PLR0913 - one keyword for each thing the binder may decide
    parts: Sequence[Part],
    pieces: Sequence[Piece],
    *,
    pins: Iterable[Pin] = (),
    seconds: float = 10,
    steps: int | None = None,
    prices: Prices = Prices(),  # noqa: B008 - frozen
    knife: float = 0.0,
    shelf: Sequence[Row] = (),
    stop: Callable[[], bool] | None = None,
    progress: Tell | None = None,
    now: Now = time.monotonic,
) -> Plan:
    """Share ``pieces`` out over ``parts``, several parts to a piece, each really placed.

    First the best of three plans: closest first, in plain regret order, and in regret order with
    the shown parts first; then search for a better one, with a bound from below, for ``seconds`` as
    ``now`` tells them. They bind the first plan too; closest-first alone is always made whole, and
    nothing given is worse. With no seconds the first plan is given. With ``steps`` the search ends
    after that many steps however long they take, and the same input gives the same answer; with
    none the first plan is given. There is always a bound, if a rough one. ``prices`` say what is
    counted, and ``knife`` mm are kept between parts of one piece. ``shelf`` are rows of volumes by
    name, as they stand; jumps are counted between neighbours of one row.
    ``stop`` is asked throughout: when it says yes, the best plan so far is given. ``progress``
    hears what is being done, the objective and the bound. Raises ``EntryError`` for a senseless
    time, number of steps or pin, and for pinned parts that do not go together.
    """
    if not seconds >= 0 or (steps is not None and steps < 0):
        raise EntryError("Time", "Give the sharing-out no less than no time and no steps.")
    if not knife >= 0:
        raise EntryError("Lost to the knife", "Give the knife no less than no width.")
    campaign = Campaign(parts, pieces, tuple(pins), prices, knife, shelf)
    work = _Work(campaign, TimeGiven(seconds, steps, stop or _never, now), progress or _nobody)
    work.run()
    found = outcome(work.best)
    return Plan(
        found.placed,
        found.unplaced,
        found.objective,
        min(work.bound, found.objective),
        outcome(work.closest),
        work.clock.taken,
        work.clock.interrupted,
        work.best,
    )


def _never() -> bool:
    return False


def _nobody(doing: str, objective: float, bound: float) -> None:
    """Nobody listens."""


@dataclass
class _Work:
    """The sharing-out under way."""

    campaign: Campaign
    clock: TimeGiven
    tell: Tell
    best: Sharing = field(init=False)
    closest: Sharing = field(init=False)
    bound: float = 0.0
    floor: float = 0.0
    """The bound that is told at once."""
    rounds: int = 0
    """Of the bound, so far."""

    def run(self) -> None:
        """Everything, until it is proved best or the time is up."""
        self._first_plan()
        hurried = self.clock.hurry_over()
        rough = floor if hurried else partial(by_area, time_limit=self.clock.share(_ROUGHLY))
        self.floor = rough(self.campaign)
        self.bound = min(self.floor, self.best.objective())
        self._say("first plan")
        if self.clock.over():
            return
        self._search(self.best, _FIRST_SEARCH)
        proof = Bound(self.campaign, self.clock.left(), self.clock.nearly_over)
        self._raise(proof)
        for _ in range(_TIMES):
            if not self._done():
                self._close(proof)
                proof.confirm(self.clock.out_of_time)
                self._raise(proof)
        if not self._done():
            self._search(self.best, 1.0 if self.clock.by_steps else _TO_THE_END)
            proof.confirm(self.clock.out_of_time)
            self._raise(proof)

    def _first_plan(self) -> None:
        """The best of the plans that are made at once."""
        self.best = regret_order(self.campaign, self.clock.first_plan_over)
        plain = plain_regret(self.campaign, self.clock.first_plan_over)
        self.closest = closest_first(self.campaign)
        if self.clock.short:
            fill_closest(self.best, self.clock.hurry_over)
        least = min(self.best, plain, self.closest, key=Sharing.objective)
        self.best.restore(least.snapshot())

    def _done(self) -> bool:
        return self.clock.over() or self.best.objective() <= self.bound + _PROVED

    def _no_more_rounds(self) -> bool:
        most = self.clock.rounds
        return self.clock.nearly_over() or (most is not None and self.rounds >= most)

    def _close(self, proof: Bound) -> None:
        """Raise the bound and better the plan until they meet, or as far as they come."""
        while not (proof.closed or self._done() or self._no_more_rounds()):
            proof.learn(self.best)
            if not proof.round(self.clock.nearly_over, self.clock.left()):
                break
            self._raise(proof)
            self.rounds += 1
            if self.rounds % _ROUNDS_BETWEEN == 0:
                self._pick(proof)
        self._pick(proof)
        for share in _NEARER:
            if not proof.closed or self._done():
                return
            upper = self.bound + share * (self.best.objective() - self.bound)
            complete = proof.complete(upper, self.clock.nearly_over)
            self._pick(proof, upper if complete else None)
            if not complete:
                return

    def _pick(self, proof: Bound, proved_below: float | None = None) -> None:
        """A plan of the loads known, bettered for a while.

        ``proved_below`` is given where these loads are all that a plan cheaper than that can have.
        """
        if self._done() or self.clock.at_once:
            return
        nodes = _NODES if self.clock.by_steps else None
        picked = proof.pick(self.best.objective(), self.clock.for_picking(), nodes)
        if picked is None:
            return
        if proved_below is not None:
            proof.prove(picked, proved_below)
            self._raise(proof)
        sharing = Sharing(self.campaign)
        for piece, load in picked.choices:
            for part in load:
                if sharing.where[part] < 0 and sharing.packs(part, piece):
                    sharing.put(part, piece)
        fill_by_regret(sharing, waiting(sharing), self.clock.over)
        self._take(sharing)
        if not self._done():
            self._search(sharing, _AFTER)

    def _raise(self, proof: Bound) -> None:
        # Not the highest so far: what rested on a wrong 'no' of the packer is taken back.
        self.bound = min(max(proof.value, self.floor), self.best.objective())
        self._say("bound")

    def _search(self, sharing: Sharing, share: float) -> None:
        budget = self.clock.budget(share)
        better(sharing, budget, lambda _: self._say("searching"))
        self.clock.taken += budget.taken
        self._take(sharing)

    def _take(self, sharing: Sharing) -> None:
        if sharing.objective() <= self.best.objective():
            self.best = sharing
        self._say("searching")

    def _say(self, doing: str) -> None:
        self.tell(doing, self.best.objective(), self.bound)
