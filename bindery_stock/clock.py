"""The clock, handed in wherever time matters so that a test can set it."""

from collections.abc import Callable
from datetime import UTC, date, datetime

Clock = Callable[[], datetime]
"""Gives the present instant, in UTC and aware of it."""


def system_clock() -> datetime:
    """The machine's own clock, in UTC."""
    return datetime.now(UTC)


def local_date(instant: datetime) -> date:
    """The calendar date at the bench: shelf life counts local days, not hours."""
    return instant.astimezone().date()
