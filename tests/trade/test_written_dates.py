"""Dates of cloth as people write them. The widths of circa, early, mid and late are our own."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.trade import read_date


@pytest.mark.parametrize(
    ("text", "earliest", "latest"),
    [
        ("1868", 1868, 1868),
        (" [1868] ", 1868, 1868),
        ("c. 1850", 1840, 1860),
        ("c.1850", 1840, 1860),
        ("ca 1850", 1840, 1860),
        ("circa 1850", 1840, 1860),
        ("1850?", 1840, 1860),
        ("1840s", 1840, 1849),
        ("c. 1840s", 1830, 1859),
        ("1800s", 1800, 1899),
        ("mid-19th century", 1830, 1870),
        ("early 19th century", 1800, 1840),
        ("late nineteenth century", 1860, 1900),
        ("19th c.", 1800, 1900),
        ("1868-9", 1868, 1869),
        ("1840–60", 1840, 1860),
        ("1840s to 1860s", 1840, 1869),
        ("1858/1862", 1858, 1862),
        ("MDCCCLXVIII", 1868, 1868),
        ("MDCCCXLIV", 1844, 1844),
        ("Christmas 1868", 1868, 1868),
        ("12 May 1868", 1868, 1868),
        ("1868-05-12", 1868, 1868),
        ("before 1850", None, 1849),
        ("after 1850", 1851, None),
        ("Victorian", 1837, 1901),
    ],
)
def test_a_date_is_read_as_the_years_it_may_mean(text, earliest, latest):
    dated = read_date(text)
    assert (dated.earliest, dated.latest) == (earliest, latest)


@pytest.mark.parametrize("text", ["", "  ", "n.d.", "undated", "?"])
def test_no_date_is_unknown_and_said(text):
    dated = read_date(text)
    assert not dated.known
    assert dated.words == "no date recorded"


@pytest.mark.parametrize(
    "text", ["a green novel", "18", "18th May", "c.", "1868 or so, maybe", "m"]
)
def test_what_cannot_be_read_is_unknown_and_says_so(text):
    dated = read_date(text)
    assert not dated.known
    assert "could not be read" in dated.words


def test_a_span_that_runs_backwards_is_unknown():
    assert not read_date("1868-1840").known


def test_an_unknown_date_may_be_any_year():
    assert read_date("").may_fall_within(1830, 1870)


def test_new_cloth_cannot_be_of_the_arsenic_years():
    assert not read_date("new").may_fall_within(1800, 1935)


@pytest.mark.parametrize(
    ("text", "within"), [("1829", False), ("1830", True), ("1870", True), ("1871", False)]
)
def test_both_ends_of_a_window_belong_to_it(text, within):
    assert read_date(text).may_fall_within(1830, 1870) is within


@given(st.text(max_size=40))
def test_no_text_breaks_the_reading_of_dates(text):
    dated = read_date(text)
    assert dated.text == text
    if dated.earliest is not None and dated.latest is not None:
        assert dated.earliest <= dated.latest


@given(st.integers(1400, 2099))
def test_a_plain_year_is_itself(year):
    assert read_date(str(year)).earliest == read_date(str(year)).latest == year
