"""How the knife goes about a part, and that no cloth is lost or made by it."""

from math import hypot

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bindery_stock.shape import (
    KnifeWay,
    Outline,
    Placement,
    cut,
    largest_rectangle,
    place,
    place_patch,
    sheet,
    triangle,
)
from bindery_stock.shape.knife_way import SLIVER_MM
from bindery_stock.shape.placement import placement_at
from bindery_stock.shape.remnants import Leavings, is_sliver, leavings
from tests.shape.scraps import torn


def let_in(outline: Outline, *parts: Placement, knife: float = 0.0) -> Leavings:
    return leavings(outline, parts, knife=knife, way=KnifeWay.IN, sliver=SLIVER_MM)


def sizes(left: Leavings) -> list[tuple[int, int]]:
    return sorted((round(o.width), round(o.height)) for o in left.offcuts)


def test_a_strip_cut_out_of_the_middle_of_a_narrow_scrap_leaves_no_frame() -> None:
    """8 mm at either side of it, of no use: two slivers, and the end of the scrap in one piece."""
    scrap, strip = sheet(74, 250), placement_at(8, 2, 58, 228, 0.0)
    assert len(cut(scrap, strip)) == 1  # round alone it is a frame
    left = let_in(scrap, strip)
    whole = [o for o in left.offcuts if not is_sliver(o, SLIVER_MM)]
    assert [(o.width, o.height) for o in whole] == [pytest.approx((74, 20))]
    assert all(not o.holes for o in left.offcuts)


def test_the_margin_at_the_edge_comes_off_with_the_strip() -> None:
    """A strip 2 mm from two edges: an L of 2 mm comes off, and the rest has straight cuts."""
    left = let_in(sheet(200, 250), placement_at(2, 2, 58, 228, 0.0))
    (rest, sliver) = left.offcuts
    assert is_sliver(sliver, 2.9)
    assert sliver.area == pytest.approx(60 * 230 - 58 * 228)
    assert rest.area == pytest.approx(200 * 250 - 60 * 230)
    assert rest.bounds == pytest.approx((0, 0, 200, 250))


def test_to_a_part_amid_the_cloth_the_knife_comes_in_from_the_nearest_edge() -> None:
    left = let_in(sheet(200, 250), placement_at(120, 100, 40, 60, 0.0))
    assert sizes(left) == [(40, 60), (200, 250)]  # the way in lies at the right, 40 wide
    assert all(not o.holes for o in left.offcuts)


def test_between_two_parts_side_by_side_nothing_is_cut_twice() -> None:
    pair = (placement_at(2, 2, 58, 228, 0.0), placement_at(61, 2, 58, 228, 0.0))
    left = let_in(sheet(200, 250), *pair)
    used = 2 * 58 * 228 + sum(o.area for o in left.offcuts)
    assert used == pytest.approx(200 * 250, abs=1e-6)
    assert not is_sliver(left.offcuts[0], SLIVER_MM)
    assert all(is_sliver(o, SLIVER_MM) for o in left.offcuts[1:])


@settings(max_examples=20, deadline=None)
@given(
    seed=st.integers(0, 1000),
    size=st.tuples(st.floats(10, 60), st.floats(10, 120)),
    turn=st.sampled_from((0.0, 90.0, 7.0)),
    knife=st.sampled_from((0.0, 0.5, 2.0)),
    margin=st.sampled_from((0.0, 2.0)),
    way=st.sampled_from((KnifeWay.ROUND, KnifeWay.IN)),
    cornered=st.booleans(),
)
def test_part_offcuts_slivers_and_waste_are_all_the_cloth_there_was(
    seed: int,
    size: tuple[float, float],
    turn: float,
    knife: float,
    margin: float,
    way: KnifeWay,
    cornered: bool,
) -> None:
    """Area is kept to a millionth of a square millimetre, whichever way the knife goes."""
    scrap = torn(90, 150, seed)
    if cornered:
        part = place_patch(scrap, triangle(*size), turns=(turn,), margin=margin)
    else:
        part = place(scrap, *size, turns=(turn,), margin=margin)
    assume(part is not None and hypot(*size) > 0)
    assert part is not None
    left = leavings(scrap, [part], knife=knife, way=way, sliver=SLIVER_MM)
    kept = [o for o in left.offcuts if not is_sliver(o, SLIVER_MM)]
    slivers = [o for o in left.offcuts if is_sliver(o, SLIVER_MM)]
    areas = (part.polygon.area, sum(o.area for o in kept), sum(o.area for o in slivers), left.waste)
    assert sum(areas) == pytest.approx(scrap.area, abs=1e-6)
    if way is KnifeWay.IN:
        assert all(not o.holes for o in kept)  # no window frame
    assert kept == [] or largest_rectangle(kept[0]) is not None
