"""Fits of rectangular parts, checked against brute force and worked examples."""

from math import cos, hypot, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import affinity

from bindery_stock.errors import ShapeError
from bindery_stock.shape import (
    Flaw,
    FlawKind,
    Outline,
    Placement,
    cut,
    lack,
    leavings,
    place,
    sheet,
)
from bindery_stock.shape.placement import placement_at
from tests.shape.scraps import frayed

SHEET = Outline(((0, 0), (100, 0), (100, 50), (0, 50)))


def fits_on_a_grid(outline: Outline, width: float, height: float, turn: float) -> bool:
    """Brute force with shapely alone: try every position of a fine grid."""
    straight = affinity.rotate(outline.polygon, -turn, origin=(0, 0))
    shapely.prepare(straight)
    left, low, right, high = straight.bounds
    x, y = np.meshgrid(np.arange(left, right - width, 1.5), np.arange(low, high - height, 1.5))
    boxes = shapely.box(x, y, x + width, y + height)
    return bool(shapely.covers(straight, boxes).any())


@settings(max_examples=150, deadline=None)
@given(
    seed=st.integers(0, 10_000),
    points=st.integers(5, 40),
    width=st.floats(5, 80),
    height=st.floats(5, 120),
    turn=st.sampled_from([0, 90, 180, 17.5, 45, 211]),
)
def test_no_fit_is_false_and_none_found_by_brute_force_is_missed(
    seed: int, points: int, width: float, height: float, turn: float
) -> None:
    outline = frayed(seed, points)
    found = place(outline, width, height, turns=(turn,))
    if found is None:
        assert not fits_on_a_grid(outline, width, height, turn)
    else:
        assert found.polygon.difference(outline.polygon).area < 1e-9
        (ax, ay), (bx, by), _, (dx, dy) = found.corners
        assert hypot(bx - ax, by - ay) == pytest.approx(width)
        assert hypot(dx - ax, dy - ay) == pytest.approx(height)
        assert (bx - ax, by - ay) == pytest.approx(
            (width * cos(turn * pi / 180), width * sin(turn * pi / 180))
        )


@pytest.mark.parametrize("turn", [0, 30, 33.3, 90, 137, 180, 270])
@pytest.mark.parametrize("margin", [0.0, 3.0])
def test_a_part_without_any_play_fits_and_is_told_as_tight(turn: float, margin: float) -> None:
    lying = affinity.translate(affinity.rotate(SHEET.polygon, turn, origin=(0, 0)), 13.7, 250.1)
    outline = Outline.from_polygon(lying)
    width, height = 100 - 2 * margin, 50 - 2 * margin
    found = place(outline, width, height, turns=(turn,), margin=margin)
    assert found is not None
    assert found.tight
    assert place(outline, width + 0.05, height, turns=(turn,), margin=margin) is None


def test_a_part_with_room_to_spare_is_not_told_as_tight() -> None:
    found = place(SHEET, 60, 30)
    assert found is not None
    assert not found.tight


def test_a_strip_cut_across_the_warp_is_not_offered() -> None:
    assert place(SHEET, 40, 90) is None
    assert place(SHEET, 40, 90, turns=(90,)) is not None


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10_000), margin=st.floats(0.1, 6))
def test_the_margin_is_the_least_distance_to_edge_hole_and_flaw(seed: int, margin: float) -> None:
    outline = frayed(seed, 14)
    flaw = Flaw(FlawKind.STAIN, ((-30, 10), (-20, 10), (-20, 25)))
    found = place(outline, 30, 50, margin=margin, flaws=(flaw,))
    if found is not None:
        assert found.polygon.distance(outline.polygon.boundary) >= margin - 1e-6
        assert found.polygon.distance(flaw.polygon) >= margin - 1e-6


def test_a_stain_wholly_under_the_part_is_not_overlooked() -> None:
    stain = Flaw(FlawKind.STAIN, ((49, 24), (51, 24), (51, 26), (49, 26)))
    assert place(SHEET, 90, 40) is not None
    assert place(SHEET, 90, 40, flaws=(stain,)) is None


def test_a_margin_reaches_round_an_inner_corner() -> None:
    # Closed form: past the corner of an L the part keeps the margin as a straight distance.
    corner = Outline(((0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)))
    reach = 3.0 / 2**0.5  # the part's corner may lie diagonally 3 mm off the inner corner
    size = 40 - 3 - reach
    assert place(corner, size + 1e-3, 97 - 3 - 1e-3, margin=3) is None or size <= 34
    assert place(corner, 34, 94, margin=3) is not None
    assert place(corner, 34.06, 94, margin=3) is None


@pytest.mark.parametrize(
    ("width", "height", "margin", "turns"),
    [
        (0, 5, 0, (0,)),
        (5, -1, 0, (0,)),
        (5, 5, -1, (0,)),
        (5, 5, 0, ()),
        (float("nan"), 5, 0, (0,)),
    ],
)
def test_a_part_that_makes_no_sense_is_refused(
    width: float, height: float, margin: float, turns: tuple[float, ...]
) -> None:
    with pytest.raises(ShapeError):
        place(SHEET, width, height, margin=margin, turns=turns)


def test_the_offcut_is_the_rest_of_the_piece() -> None:
    found = place(SHEET, 40, 50)
    assert found is not None
    (left,) = cut(SHEET, found, knife=1.0)
    assert left.area == pytest.approx(59 * 50)


def test_a_part_out_of_the_middle_leaves_a_hole() -> None:
    found = place(SHEET, 60, 20, margin=15)
    assert found is not None
    (left,) = cut(SHEET, found)
    assert len(left.holes) == 1
    assert left.area == pytest.approx(100 * 50 - 60 * 20)


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10_000), turn=st.sampled_from([0, 31.0]), knife=st.sampled_from([0, 1]))
@example(1151, 0, 0)
@example(8759, 31.0, 0)
@example(142, 31.0, 0)
@example(3237, 31.0, 0)
@example(79, 31.0, 1)
def test_part_offcuts_and_waste_together_are_the_piece(seed: int, turn: float, knife: int) -> None:
    outline = frayed(seed, 20)
    found = place(outline, 25, 60, turns=(turn,))
    if found is not None:
        left = leavings(outline, [found], knife=knife)
        offcuts = left.offcuts
        whole = sum(offcut.area for offcut in offcuts) + left.waste + 25 * 60
        assert whole == pytest.approx(outline.area, abs=1e-6)
        # A knife takes no more than its width round the part; without one only hairs go.
        assert left.waste <= 2 * knife * (25 + 60 + 2 * knife) + 2.0
        assert [o.area for o in offcuts] == sorted((o.area for o in offcuts), reverse=True)


def test_a_near_miss_says_what_it_lacks() -> None:
    def words(width: float, height: float, **kwargs: object) -> str:
        missing = lack(SHEET, width, height, **kwargs)  # type: ignore[arg-type]
        assert missing is not None
        return missing.words

    stain = Flaw(FlawKind.STAIN, ((49, 24), (51, 24), (51, 26), (49, 26)))
    assert lack(SHEET, 40, 50) is None
    assert words(60, 68) == "18 mm too short along the warp"
    assert words(106, 40) == "6 mm too narrow"
    assert words(40, 90) == "long enough only across the warp"
    assert words(90, 40, flaws=(stain,)) == "fits but for the stain"
    assert words(99, 49, margin=2) == "fits, but without the margin of 2 mm"
    assert words(200, 200) == "too small both ways"


@settings(max_examples=30, deadline=None)
@given(seed=st.integers(0, 10_000), width=st.floats(20, 90), height=st.floats(40, 200))
def test_a_part_smaller_by_what_is_lacking_fits_and_one_a_little_larger_does_not(
    seed: int, width: float, height: float
) -> None:
    outline = frayed(seed, 20)
    missing = lack(outline, width, height)
    if missing is None:
        assert place(outline, width, height) is not None
        return
    for narrower, shorter in ((missing.across, 0.0), (0.0, missing.along)):
        lacking = narrower + shorter
        if 0 < lacking < float("inf"):
            assert place(outline, width - narrower, height - shorter) is not None
            w, h = width - max(narrower - 1, 0), height - max(shorter - 1, 0)
            assert place(outline, w, h) is None


def test_no_hair_is_left_on_the_offcut_where_a_part_all_but_touched_the_edge() -> None:
    strip = Outline(((0, 0), (50, 0), (51, 200), (0, 200)))
    top = Placement(((1e-5, 120), (49.9, 120), (49.9, 200), (1e-5, 200)), 0, False, 49.89999, 80)
    kept = cut(strip, top)
    assert kept[0].holes == ()
    left_edge = [y for x, y in kept[0].exterior if x < 0.001]
    assert max(left_edge) == pytest.approx(120, abs=0.05)


def test_a_small_corner_of_cloth_beside_a_slanting_part_goes_back_on_the_shelf() -> None:
    outline = frayed(3237, 20)
    found = place(outline, 25, 60, turns=(31.0,))
    assert found is not None
    assert [round(offcut.area) for offcut in cut(outline, found)] == [13114, 67]


@pytest.mark.parametrize(("seed", "width", "height", "turn"), [(1151, 58, 60, 0), (287, 58, 60, 0)])
def test_a_frayed_thread_left_by_a_cut_is_told_as_waste(
    seed: int, width: float, height: float, turn: float
) -> None:
    outline = frayed(seed, 20)
    found = place(outline, width, height, turns=(turn,))
    assert found is not None
    left = leavings(outline, [found])
    kept = sum(offcut.area for offcut in left.offcuts)
    assert left.waste == pytest.approx(outline.area - width * height - kept, abs=1e-6)


def test_what_the_knife_takes_is_waste() -> None:
    left = leavings(sheet(100, 100), [placement_at(20, 20, 40, 60, 0.0)], knife=1.0)
    assert left.waste == pytest.approx(42 * 62 - 40 * 60)
    assert sum(offcut.area for offcut in left.offcuts) == pytest.approx(100 * 100 - 42 * 62)


def test_two_bodies_that_hang_by_less_than_a_thread_are_two_offcuts() -> None:
    whole = sheet(100, 50)
    across = Placement(((40, -1), (60, -1), (60, 49.995), (40, 49.995)), 0, False, 20, 50.995)
    left = leavings(whole, [across])
    assert len(left.offcuts) == 2
    assert left.waste == pytest.approx(20 * 0.005, abs=1e-3)


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10_000), turn=st.sampled_from([0, 31.0]))
@example(8759, 31.0)
@example(142, 31.0)
@example(3237, 31.0)
@example(1151, 0)
def test_cleaning_an_offcut_takes_no_cloth_away(seed: int, turn: float) -> None:
    outline = frayed(seed, 20)
    found = place(outline, 25, 60, turns=(turn,))
    if found is not None:
        raw = outline.polygon.difference(found.polygon)
        left = shapely.union_all([offcut.polygon for offcut in cut(outline, found)])
        assert left.difference(raw).area < 1e-6
        assert raw.difference(left).buffer(-0.02).is_empty
