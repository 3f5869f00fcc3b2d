"""Dates of a table that comes in: read where they mean one day, asked about where they mean two."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.bench.exchange.import_dates import (
    DatesSeen,
    DayOrder,
    read_day,
    read_source_date,
    seen_in,
)
from bindery_stock.errors import EntryError
from bindery_stock.trade.written_dates import read_date

DAYS = st.dates(date(1400, 1, 1), date(2099, 12, 31))


def seen(*typed: str) -> DatesSeen:
    return seen_in(enumerate(typed, start=2))


@given(DAYS)
def test_a_day_as_the_standard_writes_it_needs_no_order(day: date) -> None:
    """ISO 8601-1:2019: year, month, day."""
    for order in (None, *DayOrder):
        assert read_day(day.isoformat(), "Bought", order) == day
        assert read_day(f"{day:%Y/%m/%d}", "Bought", order) == day
    assert read_source_date(day.isoformat(), "Source date", None) == day.isoformat()


@given(DAYS, st.sampled_from(["/", ".", "-", " / ", ". "]))
def test_a_day_in_figures_comes_back_in_the_order_it_was_written(day: date, sign: str) -> None:
    by_day = f"{day.day:02d}{sign}{day.month:02d}{sign}{day.year}"
    by_month = f"{day.month}{sign}{day.day}{sign}{day.year}"
    assert read_day(by_day, "Bought", DayOrder.DAY) == day
    assert read_day(by_month, "Bought", DayOrder.MONTH) == day
    if day.day > 12 or day.day == day.month:
        assert read_day(by_day, "Bought", None) == read_day(by_month, "Bought", None) == day
        assert seen(by_day, by_month).doubtful is None
    else:
        assert seen(by_day).doubtful is not None


@pytest.mark.parametrize(
    "typed",
    ["4 Mar 2024", "04-Mar-2024", "4. March 2024", "March 4, 2024", "4th march 2024",
     "2024-03-04 00:00:00", "2024-03-04T09:15"],
)  # fmt: skip
def test_a_month_in_words_and_a_time_behind_are_read(typed: str) -> None:
    assert read_day(typed, "Bought", None) == date(2024, 3, 4)


def test_one_cell_that_can_be_read_one_way_settles_the_table_and_is_named() -> None:
    dates = seen("03/04/2024", "12/31/2024", "1868-01-02")
    assert dates.order(None) is DayOrder.MONTH
    assert dates.words(None) == (
        "Dates are read month first: “12/31/2024” on line 3 can be nothing else."
    )
    assert seen("31.12.2024", "03.04.2024").order(None) is DayOrder.DAY
    assert dates.order(DayOrder.DAY) is DayOrder.DAY, "the binder's word goes before it"
    assert dates.words(DayOrder.DAY) == "Dates are read day first, as chosen."


def test_without_such_a_cell_or_with_both_kinds_the_order_is_asked() -> None:
    with pytest.raises(EntryError, match="“03/04/1868” on line 2 can be read two ways"):
        seen("03/04/1868", "05/06/1868").order(None)
    with pytest.raises(EntryError, match="“31/12/1868” on line 3 has the day first, “12/31/1868”"):
        seen("03/04/1868", "31/12/1868", "12/31/1868").order(None)
    assert seen("03/03/1868", "1868", "about 1868", "1868-12-31").order(None) is None
    assert seen("1868").words(None) == ""


@pytest.mark.parametrize(
    ("typed", "order", "words"),
    [
        ("12/31/2024", DayOrder.DAY,
         "no day “12/31/2024” with the day first. If 31 Dec 2024 is meant, write 2024-12-31"),
        ("31/12/2024", DayOrder.MONTH,
         "no day “31/12/2024” with the month first. If 31 Dec 2024 is meant, write 2024-12-31"),
        ("31/12/2024", DayOrder.YEAR, "does not have the year first"),
        ("31/31/2024", None, "there is no day"),
        ("2023-02-29", None, "there is no day “2023-02-29”. Write it like 1868-12-31"),
        ("29 Feb 2023", None, "there is no day"),
        ("03/04/24", DayOrder.DAY, "its century is not told"),
        ("4-Mar-24", None, "its century is not told"),
        ("24/03/04", DayOrder.YEAR, "its century is not told"),
        ("45383", None, "is no day. Write it like"),
        ("about 2020", None, "is no day. Write it like"),
        ("today", None, "is no day"),
    ],
)  # fmt: skip
def test_a_cell_that_is_no_day_in_that_order_is_named_with_the_mend(
    typed: str, order: DayOrder | None, words: str
) -> None:
    with pytest.raises(EntryError) as refused:
        read_day(typed, "Bought", order)
    assert words in str(refused.value)
    assert str(refused.value).startswith("Bought: ")


@pytest.mark.parametrize(
    "typed",
    ["", "1868", "about 1868", "c. 1850", "1868-9", "1868–69", "1840s", "mid-19th century", "new",
     "4 Feb 1868", "MDCCCLXVIII", "before 1850", "my grandfather's", "=1+1", "n.d."],
)  # fmt: skip
def test_a_source_date_in_a_binders_words_stays_as_it_was_typed(typed: str) -> None:
    for order in (None, *DayOrder):
        assert read_source_date(typed, "Source date", order) == typed


def test_a_source_date_in_figures_becomes_one_that_the_rules_can_read() -> None:
    for typed, order, kept in (
        ("31.12.1868", None, "1868-12-31"),
        ("03/04/1868", DayOrder.DAY, "1868-04-03"),
        ("03/04/1868", DayOrder.MONTH, "1868-03-04"),
        ("04-Mar-1868", None, "1868-03-04"),
        ("12/1868", None, "Dec 1868"),
    ):
        assert read_source_date(typed, "Source date", order) == kept
        assert read_date(kept).earliest == 1868


@pytest.mark.parametrize("typed", ["03/04", "45383", "868", "31121868", "1868-13-01", "13/1868"])
def test_figures_that_are_no_date_are_not_kept_without_a_word(typed: str) -> None:
    with pytest.raises(EntryError, match=r"Source date: .*[Ww]rite"):
        read_source_date(typed, "Source date", DayOrder.DAY)
