"""Sharing the hoard out over every open part: a plan at once, then a better one, then a bound."""

import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from bindery_stock.errors import EntryError
from bindery_stock.matching.bound import Bound, floor
from bindery_stock.matching.campaign import Campaign, Pin
from bindery_stock.matching.orders import (
    closest_first,
    fill_by_regret,
    fill_closest,
    regret_order,
    waiting,
)
from bindery_stock.matching.plan import Plan, outcome
from bindery_stock.matching.prices import Prices
from bindery_stock.matching.search import Budget, better
from bindery_stock.matching.share_values import Sharing
from bindery_stock.matching.values import Part, Piece

Tell = Callable[[str, float, float], None]
"""Told what is being done, the objective so far and the bound so far."""

_PROVED = 1e-4  # a plan no dearer than the bound by more is the best: HiGHS rounds to 1e-7
_FIRST_SEARCH = 0.03  # of the time, before the first bound
_FOR_FIRST = 0.5  # of the time, kept when the first plan is made
_ROUNDS_BETWEEN = 12  # of the bound, before loads are picked
_FOR_PICKING = 0.15  # of the time, kept for picking loads at the end; each picking may take as much
_AFTER = 0.03  # of the time left, for bettering what was picked
_NEARER = (0.25, 0.5, 1.0)  # of the gap, within which every load is looked for
_TIMES = 3  # the bound is closed anew where the packer has corrected itself
_ROUNDS, _NODES = 60, 300  # at most, where steps are counted and not time


def share_out(  # noqa: PLR0913 - one keyword for each thing the binder may decide
    parts: Sequence[Part],
    pieces: Sequence[Piece],
    *,
    pins: Iterable[Pin] = (),
    seconds: float = 10,
    steps: int | None = None,
    prices: Prices = Prices(),  # noqa: B008 - frozen
    knife: float = 0.0,
    stop: Callable[[], bool] | None = None,
    progress: Tell | None = None,
) -> Plan:
    """Share ``pieces`` out over ``parts``, several parts to a piece, each really placed.

    First a plan in regret order; then search for a better one, with a bound from below, for
    ``seconds``, which bind the first plan too: what they leave no time for is laid closest first.
    With no seconds the first plan is given. With ``steps`` the search ends after that many steps
    however long they take, and the same input gives the same answer; with none the first plan is
    given. There is always a bound, if a rough one. ``prices`` say what is counted, and ``knife`` mm
    are kept between parts of one piece.
    ``stop`` is asked throughout: when it says yes, the best plan so far is given. ``progress``
    hears what is being done, the objective and the bound. Raises ``EntryError`` for a senseless
    time, number of steps or pin, and for pinned parts that do not go together.
    """
    if not seconds >= 0 or (steps is not None and steps < 0):
        raise EntryError("Time", "Give the sharing-out no less than no time and no steps.")
    if not knife >= 0:
        raise EntryError("Lost to the knife", "Give the knife no less than no width.")
    campaign = Campaign(parts, pieces, tuple(pins), prices, knife)
    work = _Work(campaign, _Clock(seconds, steps, stop or _never), progress or _nobody)
    work.run()
    closest = closest_first(campaign)
    # A short search may end where plain closest-first would have done better: then that is given.
    best = min(work.best, closest, key=Sharing.objective)
    found = outcome(best)
    return Plan(
        found.placed,
        found.unplaced,
        found.objective,
        min(work.bound, found.objective),
        outcome(closest),
        work.clock.taken,
        work.clock.interrupted,
        best,
    )


def _never() -> bool:
    return False


def _nobody(doing: str, objective: float, bound: float) -> None:
    """Nobody listens."""


class _Clock:
    """Time or steps, whichever the binder chose, and the wish to stop."""

    def __init__(self, seconds: float, steps: int | None, stop: Callable[[], bool]) -> None:
        self._begun = time.monotonic()
        self._seconds, self._steps, self._stop = seconds, steps, stop
        self.taken = 0
        self.interrupted = False
        self.short = False
        """Whether the time was too short for the first plan."""

    def first_plan_over(self) -> bool:
        """Whether the first plan must end; none is asked for in no time."""
        late = not self.by_steps and self._seconds > 0 and self.left() <= self._seconds * _FOR_FIRST
        self.short = self.short or late
        return self.asked_to_stop() or late

    @property
    def by_steps(self) -> bool:
        """Whether steps are counted rather than time."""
        return self._steps is not None

    def asked_to_stop(self) -> bool:
        """Whether the binder wants the best so far."""
        self.interrupted = self.interrupted or self._stop()
        return self.interrupted

    @property
    def rounds(self) -> int | None:
        """Of the bound, where steps are counted: one at least, and no more than steps."""
        return None if self._steps is None else max(min(self._steps, _ROUNDS), 1)

    @property
    def at_once(self) -> bool:
        """Whether the first plan is all that is wanted."""
        return self._steps == 0

    def left(self) -> float:
        """Seconds left; without end where steps are counted."""
        return 1e6 if self.by_steps else self._begun + self._seconds - time.monotonic()

    def share(self, share: float) -> float:
        """So much of all the seconds, but no more than are left."""
        return self.left() if self.by_steps else max(min(self._seconds * share, self.left()), 0.01)

    def nearly_over(self) -> bool:
        """Whether only the time kept for picking is left."""
        if self.asked_to_stop():
            return True
        return not self.by_steps and self.left() <= self.share(_FOR_PICKING)

    def budget(self, share: float) -> Budget:
        """Some of what is left for a search."""
        steps = None if self._steps is None else int((self._steps - self.taken) * share)
        until = self.left() * (1 - share)
        return Budget(steps, lambda: self.asked_to_stop() or self.left() <= until)

    def over(self) -> bool:
        """Whether nothing more is to be begun."""
        return self.asked_to_stop() or self.left() <= 0


@dataclass
class _Work:
    """The sharing-out under way."""

    campaign: Campaign
    clock: _Clock
    tell: Tell
    best: Sharing = field(init=False)
    bound: float = 0.0
    rounds: int = 0
    """Of the bound, so far."""

    def run(self) -> None:
        """Everything, until it is proved best or the time is up."""
        self.bound = floor(self.campaign)
        self.best = regret_order(self.campaign, self.clock.first_plan_over)
        if self.clock.short:
            fill_closest(self.best, self.clock.asked_to_stop)
        self._say("first plan")
        if self.clock.over():
            return
        self._search(self.best, _FIRST_SEARCH)
        proof = Bound(self.campaign, self.clock.left(), self.clock.nearly_over)
        self._raise(proof)
        for _ in range(_TIMES):
            if not self._done():
                self._close(proof)
                proof.confirm()
                self._raise(proof)
        if not self._done():
            self._search(self.best, 1.0)
            proof.confirm()
            self._raise(proof)

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
        picked = proof.pick(self.best.objective(), self.clock.share(_FOR_PICKING), nodes)
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
        fill_by_regret(sharing, waiting(sharing), self.clock.asked_to_stop)
        self._take(sharing)
        if not self._done():
            self._search(sharing, _AFTER)

    def _raise(self, proof: Bound) -> None:
        self.bound = min(max(proof.value, self.bound), self.best.objective())
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
