"""Sharing the hoard out over every open part: a plan at once, then a better one, then a bound."""

import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from bindery_stock.errors import EntryError
from bindery_stock.matching.bound import Programme, Relaxed
from bindery_stock.matching.campaign import Campaign, Pin
from bindery_stock.matching.orders import closest_first, fill_by_regret, regret_order, waiting
from bindery_stock.matching.plan import Plan, outcome
from bindery_stock.matching.search import Budget, better
from bindery_stock.matching.sharing import Sharing
from bindery_stock.matching.values import Part, Piece

Tell = Callable[[str, float, float], None]
"""Told what is being done, the objective so far and the bound so far."""

_PROVED = 1e-4  # a plan no dearer than the bound by more is the best: HiGHS rounds to 1e-7
_FIRST_SEARCH = 0.15  # of the time, before the first bound
_ROUNDS = 40  # of the linear programme between two looks at whole numbers
_HINT_EVERY = 8  # rounds
_FLAGS, _FLAGGING = 4, 2e-3  # rounds that together raise the bound by no more than this share
_NODES = 200  # of the search for whole numbers, where steps are counted and not time
_LOOKS = 2  # at whole numbers, likewise


def share_out(
    parts: Sequence[Part],
    pieces: Sequence[Piece],
    *,
    pins: Iterable[Pin] = (),
    seconds: float = 10,
    steps: int | None = None,
    stop: Callable[[], bool] | None = None,
    progress: Tell | None = None,
) -> Plan:
    """Share ``pieces`` out over ``parts``, several parts to a piece, each really placed.

    First a plan in regret order; then search for a better one, with a bound from below, for
    ``seconds``. With ``steps`` the search ends after that many steps however long they take, and
    the same input gives the same answer. ``stop`` is asked throughout: when it says yes, the best
    plan so far is given. ``progress`` hears what is being done, the objective and the bound. Raises
    ``EntryError`` for a senseless time, number of steps or pin, and for pinned parts that do not go
    together.
    """
    if not seconds >= 0 or (steps is not None and steps < 0):
        raise EntryError("Time", "Give the sharing-out no less than no time and no steps.")
    campaign = Campaign(parts, pieces, tuple(pins))
    work = _Work(campaign, _Clock(seconds, steps, stop or _never), progress or _nobody)
    work.run()
    found = outcome(work.best)
    return Plan(
        found.placed,
        found.unplaced,
        found.objective,
        min(work.bound, found.objective),
        outcome(closest_first(campaign)),
        work.clock.taken,
        work.clock.interrupted,
        work.best,
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

    @property
    def by_steps(self) -> bool:
        """Whether steps are counted rather than time."""
        return self._steps is not None

    def asked_to_stop(self) -> bool:
        """Whether the binder wants the best so far."""
        self.interrupted = self.interrupted or self._stop()
        return self.interrupted

    def left(self) -> float:
        """Seconds left; without end where steps are counted."""
        return 1e6 if self.by_steps else self._begun + self._seconds - time.monotonic()

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

    def run(self) -> None:
        """Everything, until it is proved best or the time is up."""
        self.best = regret_order(self.campaign, self.clock.asked_to_stop)
        self._say("first plan")
        if self.clock.over():
            return
        self._search(self.best, _FIRST_SEARCH)
        programme = Programme(self.campaign)
        looks = 0
        while not self._done() and not (self.clock.by_steps and looks == _LOOKS):
            self._rounds(programme)
            if not self._done():
                self._look(programme)
            looks += 1
        if not self._done():
            self._search(self.best, 1.0)

    def _done(self) -> bool:
        return self.clock.over() or self.best.objective() <= self.bound + _PROVED

    def _rounds(self, programme: Programme) -> None:
        """The linear programme, row by row, with a plan after its hints now and then."""
        reached: list[float] = []
        for turn in range(_ROUNDS):
            flagging = len(reached) > _FLAGS and reached[-1] < reached[-_FLAGS] * (1 + _FLAGGING)
            if self._done() or flagging:
                return
            found = programme.relaxed(self.clock.left())
            if found is None:
                return
            self._raise_bound(found)
            reached.append(found.bound)
            if turn % _HINT_EVERY == _HINT_EVERY - 1 or found.settled:
                self._follow(found)
            if found.settled:
                return

    def _look(self, programme: Programme) -> None:
        """Whole numbers for a while, and a plan after them."""
        programme.forget_dear(self.best.objective(), self.clock.left())
        by_steps = self.clock.by_steps
        limit = self.clock.left() if by_steps else max(self.clock.left() / 3, 0.1)
        found = programme.whole_numbers(limit, _NODES if by_steps else None)
        if found is not None:
            self._raise_bound(found)
            self._follow(found)

    def _raise_bound(self, found: Relaxed) -> None:
        self.bound = max(self.bound, min(found.bound, self.best.objective()))
        self._say("bound")

    def _follow(self, found: Relaxed) -> None:
        """A plan that takes the shares for hints, bettered for a while."""
        sharing = Sharing(self.campaign)
        for part, piece in sorted(found.shares, key=lambda pair: (-found.shares[pair], pair)):
            unplaced = sharing.where[part] < 0 and part not in self.campaign.pins
            if unplaced and found.shares[part, piece] > 0.5 and sharing.packs(part, piece):
                sharing.put(part, piece)
        fill_by_regret(sharing, waiting(sharing), self.clock.asked_to_stop)
        self._search(sharing, 0.15)

    def _search(self, sharing: Sharing, share: float) -> None:
        budget = self.clock.budget(share)
        better(sharing, budget, lambda _: self._say("searching"))
        self.clock.taken += budget.taken
        if sharing.objective() <= self.best.objective():
            self.best = sharing
        self._say("searching")

    def _say(self, doing: str) -> None:
        self.tell(doing, self.best.objective(), self.bound)
