"""A sitting at one piece: parts laid, moved, turned, added, and what the cuts leave."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from bindery_stock.bench.match.cut_plan import CutPlan
from bindery_stock.bench.match.cut_words import (
    lie_words,
    more_words,
    prospect,
    remains_of,
    shear_words,
    told_on_paper,
    waste_words,
)
from bindery_stock.bench.match.placed_part import PartPlaced, may_turn
from bindery_stock.bench.match.share_used import layout_words, used_words
from bindery_stock.bench.match.zones_seen import Seen, hidden_boxes, policy_words, strip_zones
from bindery_stock.errors import EntryError, ShapeError
from bindery_stock.matching import Part
from bindery_stock.shape import Flaw, FlawKind, KnifeWay, Layout, Outline, Sight, sheet
from bindery_stock.shape.placement import placement_at
from bindery_stock.stock import Reservation, StockPiece
from bindery_stock.units import LengthStyle
from tests.bench.pieces import piece_of

LENGTHS = LengthStyle()
RED = (38.0, 44.0, 21.0)


def plan_of(
    part: Part, x: float = 0.0, y: float = 0.0, piece: StockPiece | None = None, **more: object
) -> CutPlan:
    placement = placement_at(x, y, part.width, part.height, 0.0)
    laid = (PartPlaced(part, placement),)
    return CutPlan(piece or piece_of(sheet(200, 250)), laid, **more)  # type: ignore[arg-type]


def test_a_part_let_go_near_a_corner_snaps_into_it_and_far_off_stays() -> None:
    plan = plan_of(Part(58, 228, RED, margin=2.0))
    snapped = plan.moved(0, (5.0, 4.0), snap=5.0)
    assert snapped.laid[0].placement.corners[0] == pytest.approx((2.0, 2.0), abs=1e-4)
    assert snapped.fits
    over = plan.moved(0, (-30.0, 10.0), snap=5.0)
    assert over.laid[0].placement.corners[0] == pytest.approx((-30.0, 10.0))
    assert lie_words(over, 0, LENGTHS) == "Does not fit here: over by 32 mm."


def test_an_arrow_key_moves_a_part_to_the_millimetre_without_snapping() -> None:
    plan = plan_of(Part(58, 200, RED)).moved(0, (3.0, 3.0))
    assert plan.laid[0].placement.corners[0] == pytest.approx((3.0, 3.0))


def test_a_second_part_lies_beside_the_first_and_takes_no_cloth_from_it() -> None:
    plan = plan_of(Part(58, 228, RED), knife=1.0).with_more(Part(40, 100, RED))
    first, second = (one.placement.polygon for one in plan.laid)
    assert plan.fits
    assert first.distance(second) == pytest.approx(1.0, abs=1e-6)  # no cloth wasted between
    area = sum(remain.area for remain in plan.remains)
    assert area < 200 * 250 - 58 * 228 - 40 * 100


def test_parts_are_added_until_there_is_no_room() -> None:
    plan = plan_of(Part(58, 228, RED))
    plan = plan.with_more(Part(58, 228, RED)).with_more(Part(58, 228, RED))
    with pytest.raises(ShapeError, match="no room left in C-0001"):
        plan.with_more(Part(58, 228, RED))
    assert len(plan.laid) == 3
    assert plan.fits


def test_a_part_in_the_way_is_moved_aside_for_one_more() -> None:
    """Laid in the middle, the first strip leaves no room for another until both are laid anew."""
    plan = plan_of(Part(100, 250, RED), x=50.0)
    both = plan.with_more(Part(100, 250, RED))
    assert both.fits
    assert sum(remain.area for remain in both.remains) == pytest.approx(0.0, abs=1e-6)


def test_parts_over_one_another_do_not_fit() -> None:
    plan = plan_of(Part(58, 200, RED)).with_more(Part(58, 200, RED)).moved(1, (50.0, 0.0))
    assert not plan.fits
    assert [lie.fits for lie in plan.lies] == [False, False]
    with pytest.raises(ShapeError, match="does not fit where it lies"):
        plan.cutting()


def test_a_strip_of_rib_turns_by_half_and_not_by_a_quarter() -> None:
    part = Part(58, 100, RED, turns=(0, 90, 180, 270))
    plan = plan_of(part, 50, 50, piece_of(sheet(200, 250), pattern="rib"))
    half = plan.turned(0, 180.0)
    assert half.laid[0].placement.polygon.equals_exact(plan.laid[0].placement.polygon, 1e-6) or (
        half.laid[0].placement.polygon.symmetric_difference(plan.laid[0].placement.polygon).area
        < 1e-6
    )
    with pytest.raises(ShapeError, match="may not be turned to 90°"):
        plan.turned(0, 90.0)


def test_a_patch_that_may_turn_freely_turns_by_a_degree_about_its_middle() -> None:
    plan = plan_of(Part(30, 30, RED, turns=(0,), free=180.0), 50, 50)
    turned = plan.turned(0, 1.0)
    assert turned.laid[0].placement.turn == pytest.approx(1.0)
    assert turned.laid[0].placement.polygon.centroid.distance(
        plan.laid[0].placement.polygon.centroid
    ) == pytest.approx(0.0, abs=1e-9)
    assert not may_turn(Part(30, 30, RED, turns=(0,), free=5.0), "", 6.0)


def test_a_corner_patch_is_laid_beside_a_strip() -> None:
    plan = plan_of(Part(58, 228, RED)).with_more(Part(30, 30, RED, triangular=True))
    assert plan.fits
    assert plan.laid[1].placement.polygon.area == pytest.approx(450)
    assert len(plan.cutting().parts) == 2
    assert len(plan.cutting().also[0].corners) == 3


def test_a_stain_may_lie_under_the_old_spine_and_not_in_the_joint() -> None:
    stain = Flaw(FlawKind.STAIN, ((40, 100), (48, 100), (48, 110), (40, 110)))
    piece = piece_of(sheet(200, 250), flaws=(stain,))
    zones = strip_zones(80, 200, under=10, joint=8, cap=6, turn=15)
    part = Part(80, 200, RED, zones=zones)
    under_the_spine = plan_of(part, 4, 20, piece)
    assert under_the_spine.fits
    in_the_joint = under_the_spine.moved(0, (28.0, 20.0))
    assert not in_the_joint.fits
    assert lie_words(in_the_joint, 0, LENGTHS) == (
        "Does not fit here: stains under a place that is seen."
    )
    hole = Flaw(FlawKind.HOLE, stain.ring)
    assert not plan_of(part, 4, 20, piece_of(sheet(200, 250), flaws=(hole,))).fits


def test_the_zones_of_a_reback_strip_leave_the_old_spine_in_the_middle() -> None:
    """By hand: 80 × 200 with 10 under, 8 of joint, 6 of cap, 15 turned in."""
    zones = strip_zones(80, 200, under=10, joint=8, cap=6, turn=15)
    assert [zone.sight for zone in zones] == [Sight.HIDDEN, *[Sight.SHOWN] * 4]
    hidden = hidden_boxes(zones, 80, 200)
    area = sum((right - left) * (high - low) for left, low, right, high in hidden)
    shown = 2 * 8 * 170 + 2 * (80 - 36) * 6
    assert area == pytest.approx(80 * 200 - shown)
    assert (18.0, 21.0, 62.0, 179.0) in hidden


@pytest.mark.parametrize(
    ("sizes", "field"),
    [
        ({"under": 30, "joint": 11, "cap": 6, "turn": 15}, "Joint band"),
        ({"under": 10, "joint": 8, "cap": 90, "turn": 15}, "Cap"),
    ],
)
def test_bands_wider_than_the_strip_are_refused_by_name(
    sizes: dict[str, float], field: str
) -> None:
    with pytest.raises(EntryError, match=field):
        strip_zones(80, 200, **sizes)


def test_the_policy_names_every_kind_of_flaw_and_its_mark() -> None:
    told = policy_words()
    assert told.startswith("Stains, old stamping and glue may lie where the part is hidden")
    assert "holes and weak places may lie nowhere" in told
    assert "common practice, no source" in told
    assert {one.value for one in Seen} == {"All of it", "Joints and caps only", "Hidden"}


def test_thin_remains_are_proposed_for_throwing_away_and_the_binder_decides() -> None:
    plan = plan_of(Part(188, 228, RED))
    remains = remains_of(plan, 15.0)
    assert [remain.sliver for remain in remains] == [False]
    plan = plan_of(Part(188, 250, RED))
    (sliver,) = remains_of(plan, 15.0)
    assert sliver.sliver
    assert remains_of(plan, 10.0)[0].sliver is False
    cutting = plan.cutting(throw_away=[0])
    assert cutting.offcuts == ()
    assert cutting.discarded == (sliver.outline,)


def test_what_is_left_is_measured_and_counted() -> None:
    plan = plan_of(Part(58, 228, RED))
    found = prospect(plan.remains, (), plan.laid[0].part)
    ((width, height),) = found.rectangles
    assert (width, height) == pytest.approx((142, 250), abs=0.01)
    assert found.more == 2
    assert more_words(found, plan.laid[0].part, LENGTHS) == (
        "At least 2 others of 58 × 228 mm are left in it."
    )


def test_a_board_by_shears_lists_its_cuts_in_words() -> None:
    part = Part(150, 230, None, turns=(0,))
    plan = plan_of(part, piece=piece_of(sheet(330, 500))).cut_by(KnifeWay.THROUGH)
    plan = plan.with_more(part)
    assert plan.sheared is not None
    assert shear_words(plan.sheared.cuts, LENGTHS) == [
        "1. 330 × 500 mm: across the warp, 230 mm from below",
        "2. 330 × 230 mm: along the warp, 300 mm from the left",
        "3. 300 × 230 mm: along the warp, 150 mm from the left",
    ]
    assert len(plan.cutting().offcuts) == 2


def test_parts_laid_so_that_no_shears_free_them_are_laid_anew() -> None:
    """The pinwheel round a middle of 20 × 20 (folklore of cutting stock)."""
    spots = ((0, 0, 60, 40), (60, 0, 40, 60), (40, 60, 60, 40), (0, 40, 40, 60))
    wheel = tuple(
        PartPlaced(Part(w, h, None, turns=(0,)), placement_at(x, y, w, h, 0.0))
        for x, y, w, h in spots
    )
    plan = CutPlan(piece_of(sheet(100, 100)), wheel)
    assert plan.fits
    with pytest.raises(
        ShapeError,
        match=r"Only \d of the 4 parts can be laid by edge-to-edge cuts: \d+ % used, at most 96 %",
    ):
        plan.cut_by(KnifeWay.THROUGH)


def test_in_an_odd_scrap_nothing_is_lost_or_made() -> None:
    outline = Outline(((0, 0), (120, 10), (140, 200), (60, 260), (-10, 180)))
    plan = plan_of(Part(40, 60, RED), 30, 40, piece_of(outline))
    plan = plan.with_more(Part(20, 50, RED)).with_more(Part(20, 20, RED))
    assert plan.fits
    used = 40 * 60 + 20 * 50 + 20 * 20
    assert sum(remain.area for remain in plan.remains) + used == pytest.approx(
        outline.area, abs=0.5
    )


def test_a_part_found_on_what_is_reserved_is_moved_beside_it() -> None:
    kept = Reservation(
        id=1,
        code="C-0001",
        purpose="case, vol. 1",
        width=80,
        height=250,
        corners=((0, 0), (80, 0), (80, 250), (0, 250)),
        at=datetime(2026, 3, 2, 9, 0, tzinfo=UTC),
    )
    plan = plan_of(Part(58, 228, RED), held=(kept,))
    assert not plan.fits
    settled = plan.settled()
    assert settled.fits
    assert settled.laid[0].placement.corners[0] == pytest.approx((80.0, 0.0), abs=1e-3)
    with pytest.raises(ShapeError, match="no room left"):
        settled.with_more(Part(120, 228, RED))
    anew = settled.with_more(Part(30, 30, RED)).laid_anew()
    assert anew.fits
    assert len(anew.laid) == 2


def test_strips_laid_anew_take_the_stain_under_the_old_cloth() -> None:
    stain = Flaw(FlawKind.STAIN, ((35, 100), (45, 100), (45, 120), (35, 120)))
    zones = strip_zones(80, 228, under=10, joint=8, cap=6, turn=15)
    strip = Part(80, 228, RED, zones=zones)
    piece = piece_of(sheet(200, 250), flaws=(stain,))
    plan = plan_of(strip, 0, 11, piece).with_more(strip).laid_anew()
    assert plan.fits
    assert len(plan.laid) == 2
    with pytest.raises(ShapeError, match="no room left"):
        plan.with_more(strip)


def test_what_the_knife_takes_is_told_as_waste_freely_cut_or_by_shears() -> None:
    plan = plan_of(Part(58, 228, RED), 70.0, 10.0, knife=1.0)
    assert plan.waste == pytest.approx(60 * 230 - 58 * 228)
    assert waste_words(plan.waste) == "Waste: 5.8 cm², to the knife and in threads."
    board = plan_of(Part(58, 228, RED), knife=1.0).cut_by(KnifeWay.THROUGH)
    used = 58 * 228 + sum(remain.area for remain in board.remains)
    assert board.waste == pytest.approx(200 * 250 - used)
    assert 50 < board.waste < 600


def test_nothing_is_said_of_waste_where_none_is_left() -> None:
    plan = plan_of(Part(58, 228, RED))
    assert waste_words(plan.waste) == ""
    assert waste_words(12.34) == "Waste: 12 mm², to the knife and in threads."
    assert waste_words(84.0, 600.0) == (
        "Waste: 6.8 cm²: 6.0 cm² in slivers, 84 mm² to the knife and in threads."
    )


def test_the_share_used_is_told_of_the_cloth_that_may_be_used() -> None:
    plan = plan_of(Part(58, 228, RED, margin=2.0), 2.0, 2.0)
    assert plan.used == pytest.approx(58 * 228 / (196 * 246))
    assert used_words(plan.used) == "27 % used."


def test_parts_that_do_not_all_go_in_tell_what_was_used_and_what_is_possible() -> None:
    """Worked by hand: three of 100 × 100 go into 150 × 200 but two at most, two thirds of it."""
    square = Part(100, 100, None, turns=(0,))
    plan = plan_of(square, piece=piece_of(sheet(150, 200))).with_more(square)
    with pytest.raises(ShapeError, match=r"66 % used; no layout of these parts uses more\. Move"):
        plan.with_more(square)


@pytest.mark.parametrize(
    ("used", "at_most", "words"),
    [
        (0.93, 0.97, "93 % used, at most 97 % possible."),
        (0.9399, 0.9601, "93 % used, at most 97 % possible."),
        (0.93, 0.93, "93 % used; no layout of these parts uses more."),
    ],
)
def test_what_is_possible_is_never_told_as_less_than_was_proved(
    used: float, at_most: float, words: str
) -> None:
    assert layout_words(Layout((), used, at_most)) == words


def test_the_paper_tells_how_the_knife_goes_what_is_trimmed_and_what_is_wasted() -> None:
    """By hand: 58 × 228 set 2 mm in from two edges of 200 × 250 leaves 140 × 250 beside it."""
    plan = plan_of(Part(58, 228, RED, margin=2.0), 2.0, 2.0, way=KnifeWay.IN)
    thrown = [n for n, remain in enumerate(remains_of(plan)) if remain.sliver]
    told = told_on_paper(plan, thrown, LENGTHS)
    assert told.way == "In from the edge"
    (trim, *_rest) = told.trims
    xs, ys = zip(*trim, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((140, 250), abs=1e-3)
    assert len(told.trims) == len(plan.remains) - len(thrown)
    assert told.waste == waste_words(plan.waste, sum(plan.remains[n].area for n in thrown))
    assert told.waste.endswith("in slivers.")
    assert told.cuts == ()
    board = replace(plan, way=KnifeWay.THROUGH)
    told = told_on_paper(board, (), LENGTHS)
    assert told.way == "Edge to edge, as on board shears"
    assert told.cuts[0].startswith("1. 200 × 250 mm: ")
