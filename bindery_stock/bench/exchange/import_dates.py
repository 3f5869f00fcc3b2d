"""The dates of a table that comes in: read where they can mean one day, asked about where two.

``03/04/1868`` is one day in London and another in Boston. A cell that can be read one way only
(``12/31/1868``) tells the order for its table, and that is said; without one the order is asked.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from bindery_stock.errors import EntryError
from bindery_stock.trade.day_counts import MONTHS, written
from bindery_stock.trade.written_dates import read_date

_TIME = r"(?:[ T]\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*(?:[ap]m)?Z?)?"
_FIGURES = re.compile(
    rf"(\d{{1,4}})\s*([./\-–])\s*(\d{{1,2}})\s*\2\s*(\d{{1,4}}){_TIME}", re.IGNORECASE
)
_DAY_MONTH = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[\s.\-/]+([a-z]{3})[a-z]*[\s.,\-/]+(\d{2,4})")
_MONTH_DAY = re.compile(r"([a-z]{3})[a-z]*[\s.\-/]+(\d{1,2})(?:st|nd|rd|th)?[\s,.\-/]+(\d{2,4})")
_MONTH_YEAR = re.compile(r"(\d{1,2})\s*[./\-]\s*(\d{4})")
_ALL_FIGURES = re.compile(r"[\d\s./\-–—]*\d[\d\s./\-–—]*")
_LAST_MONTH = 12
_YEAR_FIGURES = 4


class DayOrder(StrEnum):
    """In which order the figures of a date stand."""

    DAY = "day first"
    MONTH = "month first"
    YEAR = "year first"


EXAMPLES = {
    DayOrder.DAY: "31/12/1868",
    DayOrder.MONTH: "12/31/1868",
    DayOrder.YEAR: "1868/12/31",
}


@dataclass(frozen=True, slots=True)
class Written:
    """One cell with a date, and the line of its row."""

    line: int
    typed: str

    def __str__(self) -> str:
        """``“12/31/1868” on line 5``."""
        return f"“{self.typed}” on line {self.line}"


@dataclass(frozen=True, slots=True)
class DatesSeen:
    """What the date columns of a table tell of their order."""

    day: Written | None = None
    """The first that can only have the day first."""
    month: Written | None = None
    """The first that can only have the month first."""
    doubtful: Written | None = None
    """The first that can be read two ways."""

    def order(self, chosen: DayOrder | None) -> DayOrder | None:
        """The order to read by; None where no cell needs one.

        Raises ``EntryError`` where one is needed and neither chosen nor told by the table.
        """
        if chosen is not None or self.doubtful is None:
            return chosen
        if self.day is not None and self.month is not None:
            told = f"{self.day} has the day first, {self.month} the month. "
        elif self.day is None and self.month is None:
            told = ""
        else:
            return DayOrder.DAY if self.month is None else DayOrder.MONTH
        raise EntryError(
            "Order of dates",
            f"Order of dates: {self.doubtful} can be read two ways. {told}Choose whether the day "
            "or the month stands first.",
        )

    def words(self, chosen: DayOrder | None) -> str:
        """How the dates were read and why; empty where nothing had to be settled."""
        order = self.order(chosen)
        if order is None or (self.doubtful is None and self.day is None and self.month is None):
            return ""
        if chosen is not None:
            return f"Dates are read {order}, as chosen."
        proof = self.day if order is DayOrder.DAY else self.month
        return f"Dates are read {order}: {proof} can be nothing else."


def seen_in(cells: Iterable[tuple[int, str]]) -> DatesSeen:
    """Look through the cells of the date columns, each with the line of its row."""
    day = month = doubtful = None
    for line, typed in cells:
        figures = _FIGURES.fullmatch(typed)
        if figures is None or len(figures[1]) > 2 or len(figures[4]) != _YEAR_FIGURES:
            continue
        first, second = int(figures[1]), int(figures[3])
        if first == second:
            continue
        if first > _LAST_MONTH >= second:
            day = day or Written(line, typed)
        elif second > _LAST_MONTH >= first:
            month = month or Written(line, typed)
        elif max(first, second) <= _LAST_MONTH:
            doubtful = doubtful or Written(line, typed)
    return DatesSeen(day, month, doubtful)


def read_day(typed: str, field: str, order: DayOrder | None) -> date | None:
    """A calendar day; None where the cell is empty. Raises ``EntryError`` with the mend."""
    text = typed.strip()
    if not text:
        return None
    found = _by_figures(text, field, order) or _by_words(text, field)
    if found is None:
        raise EntryError(field, f"{field}: “{text}” is no day. Write it like 1868-12-31.")
    return found


def read_source_date(typed: str, field: str, order: DayOrder | None) -> str:
    """The date of a source: a day as ISO 8601, what is in words as it was typed.

    ``about 1868``, ``1868-9`` or ``1840s`` stay. Raises ``EntryError`` for figures that are no
    date, or a date of doubtful order.
    """
    text = typed.strip()
    if not text:
        return ""
    day = _by_figures(text, field, order)
    if day is not None:
        return day.isoformat()
    if read_date(text).known:
        return text
    month = _MONTH_YEAR.fullmatch(text)
    if month is not None and 1 <= int(month[1]) <= _LAST_MONTH:
        return f"{MONTHS[int(month[1]) - 1]} {month[2]}"
    if _ALL_FIGURES.fullmatch(text):
        raise EntryError(
            field,
            f"{field}: “{text}” is no date that can be read. Write a year, 1868, a day, "
            "1868-12-31, or words: about 1868.",
        )
    day = _by_words(text, field)
    return text if day is None else day.isoformat()


def _by_figures(text: str, field: str, order: DayOrder | None) -> date | None:
    figures = _FIGURES.fullmatch(text)
    if figures is None:
        return None
    first, second, third = figures[1], figures[3], figures[4]
    if len(first) == _YEAR_FIGURES:
        return _day(text, field, (int(first), int(second), int(third)))
    if len(third) != _YEAR_FIGURES:
        raise _short_year(text, field)
    if order is DayOrder.YEAR:
        raise EntryError(
            field, f"{field}: “{text}” does not have the year first. Write it like 1868-12-31."
        )
    day_first = (int(third), int(second), int(first))
    month_first = (int(third), int(first), int(second))
    if order is None:
        order = DayOrder.DAY if int(first) > _LAST_MONTH else DayOrder.MONTH
    wanted, other = (day_first, month_first) if order is DayOrder.DAY else (month_first, day_first)
    return _day(text, field, wanted, other, order)


def _by_words(text: str, field: str) -> date | None:
    plain = text.casefold()
    if found := _DAY_MONTH.fullmatch(plain):
        day, month, year = found[1], found[2], found[3]
    elif found := _MONTH_DAY.fullmatch(plain):
        month, day, year = found[1], found[2], found[3]
    else:
        return None
    if month.capitalize() not in MONTHS:
        return None
    if len(year) != _YEAR_FIGURES:
        raise _short_year(text, field)
    return _day(text, field, (int(year), MONTHS.index(month.capitalize()) + 1, int(day)))


def _short_year(text: str, field: str) -> EntryError:
    return EntryError(
        field,
        f"{field}: the year of “{text}” does not have four figures, so its century is not told. "
        "Write it like 1868-12-31.",
    )


def _day(
    text: str,
    field: str,
    wanted: tuple[int, int, int],
    other: tuple[int, int, int] | None = None,
    order: DayOrder | None = None,
) -> date:
    """The day of a year, month and day. ``other`` is what it would be in the other order."""
    try:
        return date(*wanted)
    except ValueError as error:
        how = f" with the {str(order).removesuffix(' first')} first" if order else ""
        meant = ""
        if other is not None:
            try:
                turned = date(*other)
            except ValueError:
                pass  # it is no day in the other order either: nothing to propose
            else:
                meant = f" If {written(turned)} is meant, write {turned.isoformat()}."
        raise EntryError(
            field,
            f"{field}: there is no day “{text}”{how}.{meant or ' Write it like 1868-12-31.'}",
        ) from error
