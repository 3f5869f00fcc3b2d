"""A long text is cut into pages between what must not be parted."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.records.breaks import Keep, Measured, PageCut, TableHead, broken


def text(*heights: float, gap: float = 0.0, **more: tuple[Keep, ...]) -> Measured:
    """Rows of these heights, each one line, one below the other."""
    tops = [sum(heights[:n]) + n * gap for n in range(len(heights))]
    rows = tuple(Keep(top, top + high) for top, high in zip(tops, heights, strict=True))
    end = rows[-1].bottom if rows else 0.0
    return Measured(end, more.get("lines", rows), rows, more.get("joined", ()))


def spans(pages: tuple[PageCut, ...]) -> list[tuple[float, float]]:
    return [(page.top, page.bottom) for page in pages]


def test_a_text_shorter_than_a_page_is_one_page() -> None:
    assert spans(broken(text(10, 10), 50)) == [(0, 20)]
    assert spans(broken(text(), 50)) == [(0, 0)]


def test_a_row_that_does_not_fit_goes_to_the_next_page_whole() -> None:
    assert spans(broken(text(40, 40, 40), 100)) == [(0, 80), (80, 120)]


def test_a_page_does_not_begin_with_the_gap_above_its_first_row() -> None:
    assert spans(broken(text(40, 40, 40, gap=15), 100)) == [(0, 100), (110, 150)]
    assert spans(broken(text(40, 45, gap=15), 50)) == [(0, 50), (55, 100)]


def test_a_heading_goes_with_what_it_heads() -> None:
    heading = (Keep(80, 120),)
    assert spans(broken(text(40, 40, 10, 30, joined=heading), 100)) == [(0, 80), (80, 120)]


def test_a_heading_over_something_too_high_for_any_page_is_not_held_up() -> None:
    lines = tuple(Keep(10.0 * n, 10.0 * n + 10) for n in range(30))
    measured = Measured(300, lines, (Keep(0, 10), Keep(10, 300)), (Keep(0, 300),))
    pages = broken(measured, 100)
    assert spans(pages) == [(0, 100), (100, 200), (200, 300)]


def test_a_row_higher_than_a_page_is_parted_between_its_lines() -> None:
    lines = tuple(Keep(7.0 * n, 7.0 * n + 7) for n in range(40))
    pages = broken(Measured(280, lines, (Keep(0, 280),), ()), 100)
    assert spans(pages) == [(0, 98), (98, 196), (196, 280)]


def test_a_line_higher_than_a_page_still_comes_to_an_end() -> None:
    assert spans(broken(text(250), 100)) == [(0, 100), (100, 200), (200, 250)]


def test_the_heading_of_a_table_takes_room_on_every_page_it_goes_on() -> None:
    rows = tuple(Keep(10.0 * n, 10.0 * n + 10) for n in range(12))
    head = TableHead(0, 10, 120)
    pages = broken(Measured(120, rows, rows, (Keep(0, 20),), (head,)), 50)
    assert spans(pages) == [(0, 50), (50, 90), (90, 120)]
    assert [page.head for page in pages] == [None, head, head]


def test_what_follows_a_table_has_no_table_heading_over_it() -> None:
    rows = tuple(Keep(10.0 * n, 10.0 * n + 10) for n in range(8))
    pages = broken(Measured(80, rows, rows, (), (TableHead(0, 10, 50),)), 50)
    assert [page.head for page in pages] == [None, None]


def test_a_page_without_room_is_refused() -> None:
    with pytest.raises(ValueError, match="no room"):
        broken(text(10), 0)


@given(
    st.lists(st.floats(1, 140), min_size=1, max_size=60),
    st.floats(0, 12),
    st.lists(st.integers(0, 58), max_size=10),
)
def test_every_row_stands_once_and_only_what_is_too_high_is_parted(
    heights: list[float], gap: float, headings: list[int]
) -> None:
    plain = text(*heights, gap=gap)
    rows = plain.whole
    joined = tuple(Keep(rows[n].top, rows[n + 1].bottom) for n in headings if n + 1 < len(rows))
    pages = broken(Measured(plain.end, rows, rows, joined), 100)
    assert all(page.bottom - page.top <= 100 + 1e-6 for page in pages)
    assert all(a.bottom <= b.top + 1e-6 for a, b in pairwise(pages))
    for row in rows:
        on = [p for p in pages if p.top < row.bottom - 1e-6 and p.bottom > row.top + 1e-6]
        assert len(on) == 1 or row.bottom - row.top > 100
        seen = sum(min(p.bottom, row.bottom) - max(p.top, row.top) for p in on)
        assert seen == pytest.approx(row.bottom - row.top, abs=0.01)
    for pair in joined:
        if pair.bottom - pair.top <= 50:  # a page has room for it wherever it begins
            assert not any(pair.top + 1e-6 < page.top < pair.bottom - 1e-6 for page in pages)
