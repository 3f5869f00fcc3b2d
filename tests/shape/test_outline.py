"""Outlines: areas by known formulas, and what is refused."""

from math import cos, nan, pi, sin, tan
from typing import Any

import pytest

from bindery_stock.errors import ShapeError
from bindery_stock.shape import Flaw, FlawKind, Outline


@pytest.mark.parametrize("sides", [3, 4, 6, 17])
def test_the_area_of_a_regular_polygon_follows_its_formula(sides: int) -> None:
    # Source: elementary geometry, A = n s² / (4 tan(π/n)).
    ring = tuple((50 * cos(2 * pi * k / sides), 50 * sin(2 * pi * k / sides)) for k in range(sides))
    side = 100 * sin(pi / sides)
    assert Outline(ring).area == pytest.approx(sides * side**2 / (4 * tan(pi / sides)))


def test_the_area_of_a_lattice_polygon_follows_picks_theorem() -> None:
    # Source: G. Pick, "Geometrisches zur Zahlenlehre", 1899: A = interior + boundary / 2 - 1.
    outline = Outline(((0, 0), (4, 0), (4, 3), (2, 3), (2, 1), (0, 1)))
    boundary, interior = 14, 2
    assert outline.area == interior + boundary / 2 - 1


def test_holes_are_taken_off_the_area_and_extents_are_told() -> None:
    outline = Outline(
        ((10, 20), (60, 20), (60, 220), (10, 220)), (((20, 30), (30, 30), (30, 40), (20, 40)),)
    )
    assert outline.area == 50 * 200 - 100
    assert outline.bounds == (10, 20, 60, 220)
    assert (outline.width, outline.height) == (50, 200)
    assert Outline.from_polygon(outline.polygon) == outline


@pytest.mark.parametrize(
    "ring",
    [
        ((0, 0), (10, 10), (10, 0), (0, 10)),
        ((0, 0), (10, 0)),
        ((0, 0), (10, 0), (20, 0)),
        ((0, 0), (10, 0), (nan, 10)),
        ((0, 0), (10, 0), (float("inf"), 10)),
    ],
)
def test_an_outline_that_is_no_simple_shape_is_refused(
    ring: tuple[tuple[float, float], ...],
) -> None:
    with pytest.raises(ShapeError):
        Outline(ring)
    with pytest.raises(ShapeError):
        Flaw(FlawKind.STAIN, ring)


@pytest.mark.parametrize("points", [((0, 0, 0), (1, 0, 0), (0, 1, 0)), (("a", 0), (1, 0)), None])
def test_what_is_no_list_of_corners_is_refused(points: Any) -> None:
    with pytest.raises(ShapeError, match="x and a y"):
        Outline(points)
