"""How much of a worn corner its patch covers, cut by either habit; shapely judges the areas."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from bindery_stock.trade.corner_cover import covered_by_square, covered_by_triangle

LENGTH = st.floats(2.0, 40.0)


def share(wear: float, turned: float, patch: Polygon, off_tip: float) -> float:
    """The share covered, by the polygons themselves."""
    worn = Polygon(((turned, turned), (turned + wear, turned), (turned, turned + wear)))
    cut = 2 * turned - off_tip * 2**0.5
    mitred = patch.difference(Polygon(((-99, -99), (cut + 99, -99), (-99, cut + 99))))
    return float(mitred.intersection(worn).area / worn.area)


def test_the_triangle_of_the_squares_size_left_most_of_the_wear_bare() -> None:
    """12 worn, 10 hold, 13 turned in, board of 2.5: by hand (6.5 / 12)² is 29 %."""
    assert covered_by_triangle(12, 15.5, 37.5, 2.5) == pytest.approx(0.2934, abs=1e-4)


@given(wear=LENGTH, hold=LENGTH, turn=LENGTH, thick=st.floats(1.0, 5.0))
@settings(max_examples=30)
def test_either_habit_covers_all_of_the_wear(
    wear: float, hold: float, turn: float, thick: float
) -> None:
    turned = turn + thick
    assert covered_by_square(wear, turned, wear + hold + turned, thick) == pytest.approx(1.0)
    triangle = wear + hold + 2 * turned
    assert covered_by_triangle(wear, turned, triangle, thick) == pytest.approx(1.0)


@given(wear=LENGTH, turned=LENGTH, side=st.floats(1.0, 120.0), off_tip=st.floats(-6.0, 6.0))
@settings(max_examples=60)
def test_the_share_covered_is_that_of_the_shapes(
    wear: float, turned: float, side: float, off_tip: float
) -> None:
    square, half = box(0, 0, side, side), Polygon(((0, 0), (side, 0), (0, side)))
    if side - turned >= wear or off_tip >= 0:  # else the bare places overlap
        found = covered_by_square(wear, turned, side, off_tip)
        assert found == pytest.approx(share(wear, turned, square, off_tip), abs=1e-6)
    if side - 2 * turned >= 0:
        found = covered_by_triangle(wear, turned, side, off_tip)
        assert found == pytest.approx(share(wear, turned, half, off_tip), abs=1e-6)
