"""Parts that may be turned freely, and patches of any shape."""

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import affinity

from bindery_stock.errors import ShapeError
from bindery_stock.shape import Flaw, FlawKind, Outline, PatchPlacement, cut, place, place_patch
from bindery_stock.shape.free_turn import rectangle_core
from tests.shape.scraps import frayed

SHEET = Outline(((0, 0), (100, 0), (100, 50), (0, 50)))
TRIANGLE = Outline(((0, 0), (40, 0), (0, 40)))
ANGLE = Outline(((0, 0), (30, 0), (30, 10), (10, 10), (10, 30), (0, 30)))


def askew(outline: Outline, turn: float) -> Outline:
    return Outline.from_polygon(affinity.rotate(outline.polygon, turn, origin=(0, 0)))


def test_a_strip_in_a_piece_lying_askew_is_found_within_the_freedom_alone() -> None:
    lying = askew(SHEET, 4)
    assert place(lying, 98, 48) is None
    assert place(lying, 98, 48, free=2) is None
    found = place(lying, 98, 48, free=5)
    assert found is not None
    assert abs(found.turn) <= 5
    assert found.polygon.difference(lying.polygon).area < 1e-9


@pytest.mark.parametrize("turn", [1.234, 33.3, 71.8, 158.1])
def test_a_part_without_play_is_found_at_any_angle(turn: float) -> None:
    found = place(askew(SHEET, turn), 100, 50, free=180)
    assert found is not None
    assert found.tight
    assert place(askew(SHEET, turn), 100.05, 50, free=180) is None


@settings(max_examples=12, deadline=None)
@example(seed=189, width=30.0, height=86.875)  # fits at the very end of the freedom alone
@given(seed=st.integers(0, 10_000), width=st.floats(30, 60), height=st.floats(60, 110))
def test_a_turn_found_by_trying_many_is_not_missed(seed: int, width: float, height: float) -> None:
    outline = frayed(seed, 9)
    found = place(outline, width, height, turns=(0,), free=20)
    tried = any(place(outline, width, height, turns=(t,)) for t in np.arange(-20, 20.1, 2.0))
    if found is None:
        assert not tried
    else:
        assert abs(found.turn) <= 20
        assert found.polygon.difference(outline.polygon).area < 1e-9


@given(width=st.floats(5, 300), height=st.floats(5, 300), half=st.floats(0.05, 10))
def test_the_core_lies_under_the_part_at_every_angle(
    width: float, height: float, half: float
) -> None:
    across, along = rectangle_core(width, height, half)
    core = shapely.box(-across / 2, -along / 2, across / 2, along / 2)
    part = shapely.box(-width / 2, -height / 2, width / 2, height / 2).buffer(1e-9)
    for turn in np.linspace(-half, half, 7):
        assert affinity.rotate(part, turn, origin=(0, 0)).covers(core)


def test_a_corner_patch_goes_into_a_corner() -> None:
    found = place_patch(Outline(((0, 0), (41, 0), (0, 41))), TRIANGLE)
    assert found is not None
    assert found.polygon.area == pytest.approx(800)
    assert place_patch(Outline(((0, 0), (39.9, 0), (0, 39.9))), TRIANGLE, free=180) is None


def test_a_patch_without_play_is_found_and_told_as_tight() -> None:
    found = place_patch(TRIANGLE, TRIANGLE)
    assert found is not None
    assert found.tight


def test_two_corner_patches_come_out_of_one_square_when_one_may_be_turned_by_half() -> None:
    square = Outline(((0, 0), (40.5, 0), (40.5, 40.5), (0, 40.5)))
    first = place_patch(square, TRIANGLE, turns=(0,))
    assert first is not None
    rest = cut(square, first)[0]
    assert place_patch(rest, TRIANGLE, turns=(0,)) is None
    assert place_patch(rest, TRIANGLE, turns=(0, 180)) is not None


def test_a_hollow_part_is_not_taken_for_its_hull() -> None:
    assert place_patch(Outline(((0, 0), (31, 0), (0, 31))), ANGLE) is None
    hollow = Outline(((0, 0), (31, 0), (31, 11), (11, 11), (11, 31), (0, 31)))
    assert place_patch(hollow, ANGLE) is not None
    assert place_patch(hollow, TRIANGLE, free=180) is None


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10_000), size=st.floats(0.6, 2.6), turn=st.sampled_from([0, 30, 200]))
def test_no_patch_is_false_and_none_found_by_brute_force_is_missed(
    seed: int, size: float, turn: float
) -> None:
    outline = frayed(seed, 16)
    ring = tuple((size * x, size * y) for x, y in ANGLE.exterior)
    part, flaw = Outline(ring), Flaw(FlawKind.STAIN, ((-9, 0), (9, 0), (0, 9)))
    found = place_patch(outline, part, turns=(turn,), flaws=[flaw])
    if found is not None:
        assert found.polygon.area == pytest.approx(part.area)
        assert found.polygon.difference(outline.polygon).area < 1e-9
        assert found.polygon.intersection(flaw.polygon).area < 1e-9
        return
    free = outline.polygon.difference(flaw.polygon)
    lying = affinity.rotate(part.polygon, turn, origin=(0, 0))
    for x in np.arange(-90, 90, 4.0):
        for y in np.arange(-120, 120, 4.0):
            assert not free.covers(affinity.translate(lying, x, y))


def test_a_part_with_a_hole_and_a_freedom_below_nothing_are_refused() -> None:
    holed = Outline(TRIANGLE.exterior, (((5, 5), (10, 5), (5, 10)),))
    with pytest.raises(ShapeError):
        place_patch(SHEET, holed)
    with pytest.raises(ShapeError):
        place(SHEET, 10, 10, free=-1)


def test_a_patch_keeps_the_order_of_its_own_corners() -> None:
    found = place_patch(SHEET, TRIANGLE, turns=(90,))
    assert isinstance(found, PatchPlacement)
    a, b, c = np.array(found.ring)
    assert b - a == pytest.approx((0, 40))
    assert c - a == pytest.approx((-40, 0))
