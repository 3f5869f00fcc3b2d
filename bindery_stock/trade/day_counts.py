"""Counting days and months from a date, with month ends and leap days kept honest."""

import calendar
from datetime import date, timedelta

from bindery_stock.errors import EntryError

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
"""Written out here because the standard library's names follow the machine's language."""


def after(start: date, *, months: int = 0, days: int = 0) -> date:
    """The date ``months`` and then ``days`` later.

    A month later than 31 January is the last day of February; a year later than 29 February is
    28 February. Raises ``EntryError`` beyond the calendar's last year.
    """
    year, month0 = divmod(start.year * 12 + start.month - 1 + months, 12)
    if not date.min.year <= year <= date.max.year:
        raise EntryError(
            "Date", f"{months} months from {start.isoformat()} is beyond the calendar."
        )
    month = month0 + 1
    day = min(start.day, calendar.monthrange(year, month)[1])
    try:
        return date(year, month, day) + timedelta(days=days)
    except OverflowError as trouble:
        raise EntryError(
            "Date", f"{days} days from {start.isoformat()} is beyond the calendar."
        ) from trouble


def in_words(days: int) -> str:
    """``today``, ``1 day``, ``12 days``, ``3 months``, ``2 years``: for a bar's caption."""
    if days == 0:
        return "today"
    count = abs(days)
    if count == 1:
        return "1 day"
    if count < 60:
        return f"{count} days"
    if count < 730:
        return f"{round(count / 30.44)} months"
    return f"{round(count / 365.25)} years"


def written(day: date) -> str:
    """``29 Feb 2024``: the same on every machine, whatever its language."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
