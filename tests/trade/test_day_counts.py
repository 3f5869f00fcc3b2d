"""Days counted and written for people. The calendar is the Gregorian one of ISO 8601."""

from datetime import date

import pytest

from bindery_stock.errors import EntryError
from bindery_stock.trade.day_counts import MONTHS, after, in_words, written


# Worked by hand on the calendar; 2024 and 2000 are leap years, 1900 and 2100 are not.
@pytest.mark.parametrize(
    ("start", "months", "days", "end"),
    [
        (date(2024, 1, 31), 1, 0, date(2024, 2, 29)),
        (date(2025, 1, 31), 1, 0, date(2025, 2, 28)),
        (date(2024, 2, 29), 12, 0, date(2025, 2, 28)),
        (date(2025, 11, 30), 3, 0, date(2026, 2, 28)),
        (date(2025, 12, 15), 1, 0, date(2026, 1, 15)),
        (date(2025, 6, 15), 0, 0, date(2025, 6, 15)),
        (date(2024, 2, 28), 0, 1, date(2024, 2, 29)),
        (date(2100, 2, 28), 0, 1, date(2100, 3, 1)),
        (date(2024, 1, 31), 1, 1, date(2024, 3, 1)),
    ],
)
def test_months_are_counted_first_and_then_days(start, months, days, end):
    assert after(start, months=months, days=days) == end


@pytest.mark.parametrize("count", [{"months": 120_000}, {"days": 4_000_000}])
def test_a_day_beyond_the_calendar_is_refused(count):
    with pytest.raises(EntryError, match="beyond the calendar"):
        after(date(2025, 1, 1), **count)


# A month is 365.25 / 12 = 30.44 days and a year 365.25, in the mean of the Julian calendar.
@pytest.mark.parametrize(
    ("days", "words"),
    [
        (0, "today"),
        (1, "1 day"),
        (-1, "1 day"),
        (2, "2 days"),
        (59, "59 days"),
        (60, "2 months"),
        (-91, "3 months"),
        (365, "12 months"),
        (715, "23 months"),
        (720, "24 months"),
        (729, "24 months"),
        (730, "2 years"),
        (1278, "3 years"),
        (-1826, "5 years"),
    ],
)
def test_a_count_of_days_is_told_in_the_largest_unit_that_fits(days, words):
    assert in_words(days) == words


def test_a_day_is_written_by_its_number_the_month_in_letters_and_the_year():
    assert written(date(2024, 2, 29)) == "29 Feb 2024"
    assert written(date(1868, 12, 1)) == "1 Dec 1868"
    assert [written(date(2025, month, 9)) for month in range(1, 13)] == [
        f"9 {name} 2025" for name in MONTHS
    ]
