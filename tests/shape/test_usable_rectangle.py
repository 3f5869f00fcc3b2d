"""The largest rectangle in a piece, against closed forms and brute force."""

from math import hypot

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from bindery_stock.errors import ShapeError
from bindery_stock.shape import Flaw, FlawKind, Outline, largest_rectangle
from tests.shape.scraps import frayed


def test_of_a_sheet_it_is_the_sheet() -> None:
    found = largest_rectangle(Outline(((3, 5), (303, 5), (303, 105), (3, 105))))
    assert found is not None
    assert (found.width, found.height) == (300, 100)


def test_of_a_triangle_it_is_half_the_area() -> None:
    # Source: elementary calculus; the largest rectangle standing on a side covers half.
    found = largest_rectangle(Outline(((0, 0), (160, 0), (40, 120))))
    assert found is not None
    assert found.width * found.height == pytest.approx(160 * 120 / 4, rel=2e-3)


def test_of_a_circle_it_is_the_inscribed_square() -> None:
    circle = Outline.from_polygon(shapely.Point(0, 0).buffer(100, quad_segs=90))
    found = largest_rectangle(circle)
    assert found is not None
    assert found.width * found.height == pytest.approx(2 * 100**2, rel=2e-3)


@pytest.mark.parametrize("proportion", [0.25, 1.0, 3.0])
def test_a_given_proportion_is_kept(proportion: float) -> None:
    # Closed form: a rectangle of proportion p inscribed in a circle has height 2r / √(1 + p²).
    circle = Outline.from_polygon(shapely.Point(0, 0).buffer(100, quad_segs=90))
    found = largest_rectangle(circle, proportion=proportion)
    assert found is not None
    assert found.width / found.height == pytest.approx(proportion, rel=1e-9)
    assert found.height == pytest.approx(200 / hypot(1, proportion), rel=3e-3)


def test_what_is_left_of_a_notched_sheet_is_found_exactly() -> None:
    notched = Outline(((0, 0), (300, 0), (300, 200), (58.3, 200), (58.3, 71.7), (0, 71.7)))
    found = largest_rectangle(notched)
    assert found is not None
    assert (found.width, found.height) == pytest.approx((300 - 58.3, 200))


def test_it_keeps_clear_of_a_stain_and_of_the_margin() -> None:
    sheet = Outline(((0, 0), (300, 0), (300, 100), (0, 100)))
    stain = Flaw(FlawKind.STAIN, ((100, 40), (110, 40), (110, 50), (100, 50)))
    found = largest_rectangle(sheet, flaws=(stain,), margin=2)
    assert found is not None
    assert (found.width, found.height) == pytest.approx((300 - 110 - 4, 96), abs=1e-5)


def best_on_a_grid(outline: Outline, step: float) -> float:
    """Brute force with shapely: every rectangle with corners on a coarse grid."""
    shape = outline.polygon
    shapely.prepare(shape)
    left, low, right, high = shape.bounds
    x, y = np.arange(left, right, step), np.arange(low, high, step)
    a, b, c, d = np.meshgrid(x, x, y, y, indexing="ij")
    keep = (b > a) & (d > c)
    a, b, c, d = a[keep], b[keep], c[keep], d[keep]
    inside = shapely.covers(shape, shapely.box(a, c, b, d))
    return float(((b - a) * (d - c) * inside).max(initial=0.0))


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000), points=st.integers(5, 60))
def test_it_lies_inside_and_is_no_smaller_than_brute_force_finds(seed: int, points: int) -> None:
    outline = frayed(seed, points)
    found = largest_rectangle(outline)
    assert found is not None
    assert found.polygon.difference(outline.polygon).area < 1e-9
    assert found.width * found.height >= 0.97 * best_on_a_grid(outline, 12.0)


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000), turn=st.floats(0, 360))
def test_a_turned_piece_keeps_its_turned_rectangle(seed: int, turn: float) -> None:
    outline = frayed(seed, 12)
    lying = Outline.from_polygon(affinity.rotate(outline.polygon, turn, origin=(0, 0)))
    straight, turned = largest_rectangle(outline), largest_rectangle(lying, turn)
    assert straight is not None
    assert turned is not None
    area = turned.width * turned.height
    assert area == pytest.approx(straight.width * straight.height, rel=0.03)
    assert turned.polygon.difference(lying.polygon).area < 1e-6


def test_a_proportion_of_nothing_is_refused() -> None:
    with pytest.raises(ShapeError):
        largest_rectangle(Outline(((0, 0), (1, 0), (0, 1))), proportion=0)


def test_nothing_is_offered_where_nothing_is_left() -> None:
    sheet = Outline(((0, 0), (10, 0), (10, 10), (0, 10)))
    assert largest_rectangle(sheet, margin=6) is None
