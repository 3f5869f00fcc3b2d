"""Laying the hoard out in rows."""

from hypothesis import given, settings
from hypothesis import strategies as st

from bindery_stock.bench.shelf.layout import GREATEST_SCALE, lay, lay_to_fit
from bindery_stock.bench.shelf.layout_values import ShelfGroup, ShelfItem, ShelfWords

WORDS = ShelfWords()
sizes = st.tuples(st.floats(5, 500), st.floats(5, 500))


def lots_of(groups: list[list[tuple[float, float]]]) -> list[ShelfGroup]:
    number = iter(range(10_000))
    return [
        ShelfGroup(f"group {at}", tuple(ShelfItem(next(number), w, h) for w, h in group))
        for at, group in enumerate(groups)
    ]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.lists(sizes, min_size=1, max_size=8), min_size=1, max_size=5))
def test_no_two_pieces_overlap_and_none_is_lost(groups) -> None:
    lots = lots_of(groups)
    laid = lay(lots, 1500, 1.0, WORDS)
    spots = list(laid.spots.values())
    assert sorted(laid.spots) == sorted(item.id for lot in lots for item in lot.items)
    for at, one in enumerate(spots):
        assert one.x >= 0
        assert one.x + one.width <= laid.width
        assert one.y + one.height <= laid.height
        for other in spots[at + 1 :]:
            apart_x = one.x + one.width <= other.x + 1e-9 or other.x + other.width <= one.x + 1e-9
            apart_y = one.y + one.height <= other.y + 1e-9 or other.y + other.height <= one.y + 1e-9
            assert apart_x or apart_y


@settings(max_examples=25, deadline=None)
@given(st.lists(sizes, min_size=1, max_size=40), st.floats(300, 2000), st.floats(300, 1200))
def test_the_whole_hoard_is_laid_so_that_it_is_in_view(pieces, width, height) -> None:
    laid = lay_to_fit(lots_of([pieces]), (width, height), WORDS)
    assert laid.width * laid.scale <= width + 1e-6
    assert laid.height * laid.scale <= height + 1e-6


def test_a_handful_of_scraps_is_not_blown_up() -> None:
    laid = lay_to_fit(lots_of([[(20.0, 20.0)]]), (1900, 1000), WORDS)
    assert laid.scale == GREATEST_SCALE


def test_pieces_of_a_row_stand_on_one_foot_in_the_order_of_their_rank() -> None:
    items = (
        ShelfItem(1, 50, 80, rank=9),
        ShelfItem(2, 50, 120, rank=1),
        ShelfItem(3, 50, 40, rank=5),
    )
    laid = lay([ShelfGroup("", items)], 1000, 1.0, WORDS)
    (row,) = laid.rows
    assert [spot.id for spot in row.spots] == [2, 3, 1]
    assert len({spot.y + spot.height for spot in row.spots}) == 1


def test_a_small_group_shares_a_row_and_a_large_one_begins_its_own() -> None:
    small = lots_of([[(100, 100)], [(100, 100)]])
    assert len(lay(small, 1000, 1.0, WORDS).rows) == 1
    large = lots_of([[(100, 100)], [(100, 100)] * 8])
    laid = lay(large, 1000, 1.0, WORDS)
    assert len(laid.rows) == 2
    assert [heading.text for heading in laid.headings] == ["group 0", "group 1"]


def test_arrows_go_to_the_next_in_the_row_and_to_the_nearest_in_the_row_below() -> None:
    laid = lay(lots_of([[(100.0, 50.0)] * 6]), 400, 1.0, WORDS)
    assert [len(row.spots) for row in laid.rows] == [3, 3]
    assert laid.beside(0, 1) == 1
    assert laid.beside(0, -1) == 0
    assert laid.beside(2, 1) == 3
    assert laid.beside(5, 1) == 5
    assert laid.across(1, 1) == 4
    assert laid.across(4, -1) == 1
    assert laid.across(4, 1) == 4


def test_only_what_lies_in_a_rectangle_is_found_there() -> None:
    laid = lay(lots_of([[(100.0, 50.0)] * 30]), 400, 1.0, WORDS)
    target = laid.spots[13]
    inside = (target.x + 1, target.y + 1, target.x + 2, target.y + 2)
    assert [spot.id for spot in laid.within(*inside)] == [13]
    assert len(laid.within(0, 0, laid.width, laid.height)) == 30
    assert laid.within(-500, -500, -400, -400) == []


def test_an_empty_hoard_takes_no_room() -> None:
    laid = lay_to_fit([], (800, 600), WORDS)
    assert laid.rows == ()
    assert laid.spots == {}
