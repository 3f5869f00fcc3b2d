"""The bench on which a scenario is played: its clock, its stockroom, what is called what."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta

from bindery_stock.colour import Sitting
from bindery_stock.stock import Stockroom


@dataclass
class BenchClock:
    """A clock that is set by hand."""

    now: datetime

    def __call__(self) -> datetime:
        """The instant it is set to; each look moves it on by some minutes."""
        self.now += timedelta(minutes=4)
        return self.now

    def turn_to(self, day: date, hour: int = 9) -> None:
        """Set it to a morning, never back."""
        self.now = max(self.now, datetime(day.year, day.month, day.day, hour, tzinfo=UTC))


@dataclass
class Bench:
    """A stockroom being filled."""

    room: Stockroom
    clock: BenchClock
    sitting: Sitting
    """The correction of colours found from the card of the sitting."""
    day: date
    """The day on which the sample is looked at."""
    size: tuple[int, int]
    """Width and height of its photographs, px."""
    codes: dict[str, str] = field(default_factory=dict)
    """What the scenario calls a piece, and its code."""

    def ago(self, days: int | None) -> date | None:
        """The day so many days before the sample is looked at."""
        return None if days is None else self.day - timedelta(days=days)
