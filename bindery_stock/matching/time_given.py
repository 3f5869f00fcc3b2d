"""The time, or the number of steps, that a sharing-out may take."""

from collections.abc import Callable

from bindery_stock.matching.search import Budget

Now = Callable[[], float]
"""What a clock says, in seconds from any beginning."""

_FOR_FIRST = 0.5  # of the time, kept when the first plan is made
_FOR_PICKING = 0.15  # of the time, kept for picking loads at the end; each picking may take as much
_LITTLE = 0.5  # s
_ROUNDS = 60  # of the bound at most, where steps are counted and not time


class TimeGiven:
    """Time or steps, whichever the binder chose, and the wish to stop."""

    def __init__(
        self,
        seconds: float,
        steps: int | None,
        stop: Callable[[], bool],
        now: Now,
    ) -> None:
        """The clock begins to run."""
        self._now, self._begun = now, now()
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

    def hurry_over(self) -> bool:
        """Whether even what is laid in a hurry must end; never for a first plan in no time."""
        return self.asked_to_stop() or (self._seconds > 0 and self.left() <= 0)

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
        return 1e6 if self.by_steps else self._begun + self._seconds - self._now()

    def out_of_time(self) -> bool:
        """Whether no time is left, stopped or not."""
        return self.left() <= 0

    def share(self, share: float) -> float:
        """So much of all the seconds, but no more than are left; a little where none were given."""
        if self.by_steps:
            return self.left()
        return max(min(self._seconds * share, self.left()), _LITTLE)

    def for_picking(self) -> float:
        """Seconds that one picking of loads may take."""
        return self.share(_FOR_PICKING)

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
