"""The placement that leaves most, slivers, and the part that follows the hand."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely import box

from bindery_stock.errors import ShapeError
from bindery_stock.shape import (
    Flaw,
    FlawKind,
    Outline,
    Placement,
    best_place,
    cut,
    largest_rectangle,
    place,
    place_near,
    slivers,
)
from tests.shape.scraps import frayed, torn

SHEET = Outline(((0, 0), (100, 0), (100, 60), (0, 60)))
LEG = Outline(((0, 0), (100, 0), (100, 60), (140, 60), (140, 90), (0, 90)))


def area_left(outline: Outline, corners: object) -> float:
    found = [largest_rectangle(o) for o in cut(outline, corners)]  # type: ignore[arg-type]
    return max((f.width * f.height for f in found if f), default=0.0)


def test_from_a_sheet_the_part_is_cut_off_the_end() -> None:
    found = best_place(SHEET, 30, 60)
    assert found is not None
    assert area_left(SHEET, found) == pytest.approx(70 * 60, rel=1e-6)


def test_a_small_part_is_cut_from_the_leg_that_is_of_little_use() -> None:
    found = best_place(LEG, 35, 28)
    assert found is not None
    assert area_left(LEG, found) == pytest.approx(100 * 90, rel=1e-6)


def test_the_stained_end_is_not_kept_at_the_cost_of_the_sound_one() -> None:
    stain = Flaw(FlawKind.STAIN, ((80, 55), (90, 55), (90, 60), (80, 60)))
    found = best_place(SHEET, 20, 54, flaws=[stain])
    assert found is not None
    assert found.polygon.bounds[2] == pytest.approx(100, abs=1e-3)


@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_the_best_leaves_no_less_than_the_first_found(seed: int) -> None:
    outline = frayed(seed, 20)
    first, best = place(outline, 25, 60), best_place(outline, 25, 60)
    assert (first is None) == (best is None)
    if first is not None and best is not None:
        assert best.polygon.difference(outline.polygon).area < 1e-9
        assert area_left(outline, best) >= 0.93 * area_left(outline, first)


@pytest.mark.parametrize("seed", [1, 4, 6])
def test_of_places_that_leave_as_much_the_part_is_cut_out_of_the_corner(seed: int) -> None:
    """33 × 33 out of 90 × 90: anywhere along an edge 90 × 55 stays, but a corner is no hole."""
    scrap = torn(90, 90, seed)
    found = best_place(scrap, 33, 33, margin=2)
    assert found is not None
    left, low, right, high = found.polygon.bounds
    assert min(left, 90 - right) < 4
    assert min(low, 90 - high) < 4
    assert area_left(scrap, found) > 0.98 * 90 * 53


def test_at_an_earlier_straight_cut_sooner_than_at_a_frayed_edge() -> None:
    """The left side was cut straight, the others are torn: a strip goes along the cut."""
    cloth = torn(120, 200, 5).polygon.intersection(box(10, -2, 130, 210))
    found = best_place(Outline.from_polygon(cloth), 30, 150, margin=0)
    assert found is not None
    assert found.polygon.bounds[0] == pytest.approx(10, abs=1e-3)


def test_a_part_lies_where_the_cloth_is_of_its_colour_and_there_along_the_edge() -> None:
    """The right half has faded by 3 ΔE00; within half of one the edge decides."""

    def fading(places: Sequence[Placement]) -> NDArray[np.float64]:
        return np.array([3.0 if lying.polygon.bounds[2] > 50 else 1.0 for lying in places])

    def hardly(places: Sequence[Placement]) -> NDArray[np.float64]:
        return np.array([lying.polygon.bounds[0] * 0.006 for lying in places])

    faded = best_place(SHEET, 20, 20, shade=fading)
    assert faded is not None
    assert faded.polygon.bounds[0] == pytest.approx(0, abs=1e-3)
    alike = best_place(SHEET, 30, 60, shade=hardly)
    assert alike is not None
    assert area_left(SHEET, alike) == pytest.approx(70 * 60, rel=1e-6)


def test_slivers_are_proposed_for_discard_whichever_way_they_run() -> None:
    slanted = Outline(((0, 0), (3, 0), (103, 100), (100, 100)))
    kept, thin = slivers([SHEET, slanted], 5)
    assert (kept, thin) == ([SHEET], [slanted])
    assert slivers([slanted], 2) == ([slanted], [])
    with pytest.raises(ShapeError):
        slivers([SHEET], -1)


def test_a_part_follows_the_hand_and_stops_at_the_edge() -> None:
    inside = place_near(SHEET, 30, 20, (22, 17))
    beyond = place_near(SHEET, 30, 20, (90, 17))
    assert inside is not None
    assert beyond is not None
    assert inside.corners[0] == pytest.approx((22, 17), abs=1e-5)
    assert beyond.corners[0] == pytest.approx((70, 17), abs=1e-5)


def test_a_part_snaps_into_the_corner_within_reach() -> None:
    snapped = place_near(SHEET, 30, 20, (68, 38), snap=3)
    assert snapped is not None
    assert snapped.corners[0] == pytest.approx((70, 40), abs=1e-5)


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000), x=st.floats(-60, 60), y=st.floats(-80, 80))
def test_a_followed_part_never_leaves_the_piece(seed: int, x: float, y: float) -> None:
    outline = frayed(seed, 20)
    found = place_near(outline, 20, 40, (x, y), turn=10)
    assert (found is None) == (place(outline, 20, 40, turns=(10,)) is None)
    if found is not None:
        assert found.polygon.difference(outline.polygon).area < 1e-9
        other = place(outline, 20, 40, turns=(10,))
        assert other is not None
        apart = np.hypot(*np.subtract(found.corners[0], (x, y)))
        assert apart <= np.hypot(*np.subtract(other.corners[0], (x, y))) + 0.2
