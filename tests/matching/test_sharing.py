"""Sharing a hoard out over a set: real placements, the shown parts first, each choice explained."""

import math
from itertools import combinations, product

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from bindery_stock.colour import ReadBy, delta_e00
from bindery_stock.errors import EntryError
from bindery_stock.matching import (
    LEFT_OUT,
    Part,
    Piece,
    Pin,
    Plan,
    Prices,
    burdens,
    fit,
    left_over,
    share_out,
)
from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.packer import Packer
from bindery_stock.matching.sizes import Sizes, size_in
from bindery_stock.matching.whole_cloth import WholeCloth
from bindery_stock.shape import Flaw, FlawKind, Outline, Sight, Zone, largest_rectangle, place
from bindery_stock.trade.vocabulary import Kind
from tests.matching.hoards import GREEN, RED, box, ragged, sheet

NEAR_RED = (41.0, 42.0, 24.0)
FAR_RED = (48.0, 42.0, 24.0)


def choices(plan: Plan) -> dict[int, str]:
    return {placed.number: placed.code for placed in plan.placed}


def assert_cuttable(plan: Plan) -> None:
    """Every part lies in the cloth by its margin, beside the others, the shown clear of stains."""
    by_code: dict[str, list] = {}
    for placed in plan.placed:
        free = placed.piece.outline.polygon
        for flaw in placed.piece.flaws if placed.part.shown else ():
            free = free.difference(flaw.polygon)
        drawn = placed.placement.polygon
        assert shapely.covers(shapely.buffer(free, 2e-6), drawn)
        assert shapely.distance(free.boundary, drawn) >= placed.part.margin - 2e-6
        assert drawn.area == pytest.approx(placed.part.area)
        by_code.setdefault(placed.code, []).append(drawn)
    for laid in by_code.values():
        for one, other in combinations(laid, 2):
            assert shapely.intersection(one, other).area < 1e-3


def test_the_good_cloth_is_not_gone_by_the_time_it_is_needed():
    # Closest-first gives the one tall red piece to the small patch and leaves the strip nothing.
    tall = sheet("C-0001", 60, 240, RED)
    small = sheet("C-0002", 60, 60, NEAR_RED)
    patch, strip = Part(50, 50, RED, name="patch"), Part(57, 228, RED, name="strip")
    plan = share_out([patch, strip], [tall, small], seconds=2)
    assert choices(plan) == {0: "C-0002", 1: "C-0001"}
    assert [lost.part.name for lost in plan.closest_first.unplaced] == ["strip"]
    assert plan.closest_first.objective > plan.objective + 50


def test_the_shown_part_gets_the_better_shade():
    better, worse = sheet("C-0001", 60, 240, RED), sheet("C-0002", 60, 240, FAR_RED)
    lining, strip = Part(57, 228, RED, shown=False), Part(57, 228, RED)
    plan = share_out([lining, strip], [better, worse], seconds=2)
    assert choices(plan) == {0: "C-0002", 1: "C-0001"}


def _off_by(delta_e: float) -> tuple[float, float, float]:
    """A lighter red, so many ΔE00 from ``RED``."""
    low, high = RED[0], 90.0
    for _ in range(60):
        middle = (low + high) / 2
        near = float(delta_e00(RED, [(middle, *RED[1:])])[0]) < delta_e
        low, high = (middle, high) if near else (low, middle)
    return (low, *RED[1:])


SPINE = Part(48, 200, RED, name="spine")
LINING = Part(46, 200, None, shown=False, name="lining")


# Worked by hand: 60 for a spine left out, 60 / 30 = 2 for a lining, 60 × 0.2 = 12 for a tip.


def test_the_last_scrap_goes_to_the_shown_spine_and_the_lining_waits():
    scrap = sheet("C-0001", 60, 210, _off_by(2))
    for parts in ([SPINE, LINING], [LINING, SPINE]):
        plan = share_out(parts, [scrap], seconds=2)
        assert [placed.part.name for placed in plan.placed] == ["spine"]
        # The shade, the lining that waits, and 12,600 − 12 × 210 mm² of whole cloth.
        assert plan.objective == pytest.approx(2 + 2 + 0.2 * 1.008, abs=1e-3)
        assert plan.bound == pytest.approx(plan.objective, abs=1e-3)


def test_cloth_that_was_only_seen_is_shared_out_where_it_is_hidden_and_nowhere_else():
    """No figure says how far it lies from the book, so it is chosen beside it, by eye."""
    seen = sheet("C-0001", 170, 245, RED, read_by=ReadBy.SEEN)
    shown, hidden = Part(48, 200, RED), Part(48, 200, RED, shown=False)
    plan = share_out([shown, hidden], [seen], seconds=1)
    assert choices(plan) == {1: "C-0001"}
    assert [(placed.delta_e, placed.u) for placed in plan.placed] == [(None, None)]


def test_a_book_that_was_only_seen_has_its_shown_parts_shared_out_to_nothing():
    plan = share_out(
        [Part(48, 200, RED, read_by=ReadBy.SEEN)],
        [sheet("C-0001", 170, 245, RED, u=6.0, read_by=ReadBy.TARGET)],
        seconds=1,
    )
    assert choices(plan) == {}


def test_two_linings_never_buy_a_shown_side():
    side, lining = Part(160, 240, RED, name="side"), Part(80, 240, None, shown=False)
    plan = share_out([lining, side, lining], [sheet("C-0001", 170, 245, _off_by(6))], seconds=2)
    assert [placed.part.name for placed in plan.placed] == ["side"]


def test_a_spine_outweighs_four_tips_but_not_two_joint_strips():
    scrap = sheet("C-0001", 60, 210)
    tips = [Part(25, 60, RED, weight=0.2, name="tip") for _ in range(4)]
    assert len(share_out(tips, [scrap], seconds=1).placed) == 4
    plan = share_out([*tips, SPINE], [scrap], seconds=2)
    assert [placed.part.name for placed in plan.placed] == ["spine"]
    strips = [Part(29, 200, RED, weight=0.6, name="joint strip") for _ in range(2)]
    plan = share_out([SPINE, *strips], [scrap], seconds=2)
    assert [placed.part.name for placed in plan.placed] == ["joint strip", "joint strip"]


@pytest.mark.parametrize(("worse", "served"), [(4.0, ["spine"]), (1.0, ["spine", "lining"])])
def test_a_lining_moves_a_spine_by_a_shade_of_one_but_not_of_four(worse, served):
    pieces = [sheet("C-0001", 60, 210, RED), sheet("C-0002", 50, 202, _off_by(worse))]
    wide = Part(58, 205, None, shown=False, name="lining")  # finds room in the first alone
    plan = share_out([SPINE, wide], pieces, seconds=2)
    assert [placed.part.name for placed in plan.placed] == served


def test_a_part_of_which_nothing_counts_is_served_by_nothing():
    plan = share_out([Part(48, 200, RED, weight=0.0)], [sheet("C-0001", 60, 210)], seconds=1)
    assert plan.placed == ()
    assert plan.objective == 0.0


def test_two_tips_of_cloth_finish_one_volume_and_not_half_of_two():
    # Dearer by 3 ΔE00 on a tip of a fifth is 0.6, a volume finished 4.
    pieces = [sheet(f"C-{n}", 27, 62, RED) for n in range(2)]
    other = _off_by(3)
    tips = [
        Part(25, 60, lab, weight=0.2, name=f"tip, vol. {volume}", volume=f"vol. {volume}")
        for volume, lab in ((1, RED), (2, RED), (1, other), (2, other))
    ]
    plan = share_out(tips, pieces, steps=200)
    assert len({placed.part.volume for placed in plan.placed}) == 1
    assert len(plan.placed) == 2
    assert plan.bound == pytest.approx(plan.objective, rel=1e-3)
    free = share_out(tips, pieces, steps=200, prices=Prices(volume=0.0))
    assert {placed.number for placed in free.placed} == {0, 1}


def test_a_volume_that_cannot_be_finished_yields_to_one_that_can():
    parts = [
        Part(57, 228, RED, volume="vol. 1", name="spine 1"),
        Part(500, 500, RED, volume="vol. 1", name="side 1"),
        Part(57, 228, _off_by(3), volume="vol. 2", name="spine 2"),
    ]
    plan = share_out(parts, [sheet("C-0001", 60, 240, RED)], steps=100)
    assert [placed.part.name for placed in plan.placed] == ["spine 2"]
    assert plan.to_buy == pytest.approx(60 + 4)
    assert plan.gap == pytest.approx(0.0, abs=1e-4)


def test_a_volume_is_cut_from_one_piece_where_that_costs_less_than_half_a_delta_e():
    twice = sheet("C-0001", 60, 130, _off_by(0.4))
    pieces = [twice, sheet("C-0002", 60, 65, RED), sheet("C-0003", 60, 65, _off_by(0.4))]
    parts = [Part(57, 60, RED, volume="vol. 1") for _ in range(2)]
    plan = share_out(parts, pieces, steps=100)
    assert choices(plan) == {0: "C-0001", 1: "C-0001"}
    loose = share_out(parts, pieces, steps=100, prices=Prices(lot=0.0))
    assert "C-0002" in choices(loose).values()


def test_the_sheet_is_kept_whole_where_a_scrap_as_near_will_do():
    pieces = [sheet("C-0001", 400, 500, RED), sheet("C-0002", 120, 240, _off_by(0.2))]
    strip = [Part(57, 228, RED)]
    assert choices(share_out(strip, pieces, steps=50)) == {0: "C-0002"}
    loose = share_out(strip, pieces, steps=50, prices=Prices(cloth=0.0))
    assert choices(loose) == {0: "C-0001"}


def test_the_knife_has_room_between_parts_of_one_piece():
    parts = [Part(57, 228, RED) for _ in range(2)]
    assert len(share_out(parts, [sheet("C-0001", 114, 228)], steps=20).placed) == 2
    assert len(share_out(parts, [sheet("C-0001", 114, 228)], steps=20, knife=1.0).placed) == 1
    plan = share_out(parts, [sheet("C-0001", 115, 228)], steps=20, knife=1.0)
    one, other = (placed.placement.polygon for placed in plan.placed)
    assert shapely.distance(one, other) >= 1.0 - 1e-6
    with pytest.raises(EntryError):
        share_out(parts, [], knife=-1.0)


def test_a_price_below_nothing_is_refused():
    with pytest.raises(EntryError, match="volume"):
        Prices(volume=-1.0)


def test_the_sum_is_shade_parts_left_out_volumes_lots_and_whole_cloth():
    parts = [
        Part(57, 228, RED, volume="vol. 1"),
        Part(57, 228, RED, weight=0.5, volume="vol. 1"),
        Part(500, 500, RED, volume="vol. 2"),
    ]
    pieces = [sheet("C-0001", 60, 240, NEAR_RED), sheet("C-0002", 60, 240, FAR_RED)]
    plan = share_out(parts, pieces, seconds=2)
    near, far = (float(delta_e00(RED, [lab])[0]) for lab in (NEAR_RED, FAR_RED))
    lost = 2 * (60 * 240 - 60 * 12)
    assert plan.objective == pytest.approx(
        near + 0.5 * far + LEFT_OUT + 4 + 2 * 0.5 + 0.2 * lost / 10_000
    )
    assert plan.bound == pytest.approx(plan.objective)
    assert plan.gap == pytest.approx(0.0, abs=1e-6)


def test_several_strips_come_out_of_one_sheet_without_waste():
    parts = [Part(57, 228, RED) for _ in range(10)]
    plan = share_out(parts, [sheet("C-0001", 570, 228)], seconds=3)
    assert len(plan.placed) == 10
    assert_cuttable(plan)


def _small_case(seed: int) -> tuple[list[Part], list]:
    rng = np.random.default_rng(seed)
    pieces = [
        ragged(
            f"C-{n:04}",
            seed * 10 + n,
            across=float(rng.uniform(90, 150)),
            along=float(rng.uniform(120, 260)),
            points=14,
        )
        for n in range(3)
    ]
    parts = [
        Part(
            float(rng.uniform(20, 55)),
            float(rng.uniform(30, 140)),
            RED,
            shown=bool(rng.random() < 0.7),
            margin=1.0,
            volume=f"vol. {n % 2}",
        )
        for n in range(5)
    ]
    return parts, pieces


def _least_cost_by_exhaustion(parts, pieces) -> float:
    """The cheapest of every way to give each part a piece or none, by packing each."""
    campaign = Campaign(parts, pieces, ())
    best = math.inf
    for where in product(range(-1, len(pieces)), repeat=len(parts)):
        cost = sum(
            LEFT_OUT * parts[part].visibility if piece < 0 else float(campaign.cost[part, piece])
            for part, piece in enumerate(where)
        )
        lacking = {p.volume for p, at in zip(parts, where, strict=True) if at < 0 and p.shown}
        lots = {
            (part.volume, at)
            for part, at in zip(parts, where, strict=True)
            if at >= 0 and part.shown
        }
        cost += 4 * len(lacking) + 0.5 * len(lots)
        if cost < best and _goes(campaign, where):
            best = min(best, cost + _cloth_lost(campaign, where))
    return best


def _cloth_lost(campaign: Campaign, where: tuple[int, ...]) -> float:
    return sum(
        campaign.cloth(piece, tuple(sorted(campaign.size(part, piece) for part in held)))
        for piece in range(len(campaign.pieces))
        if (held := [part for part, at in enumerate(where) if at == piece])
    )


def test_whole_cloth_lost_is_told_as_the_exact_rectangles_tell_it():
    for seed in range(4):
        piece = ragged("C-0001", seed, across=160, along=300, points=20)
        placement = place(piece.outline, 40, 50)
        if placement is None:
            continue
        whole = largest_rectangle(piece.outline, flaws=piece.flaws)
        rest = left_over(piece, placement)
        quick = WholeCloth(piece)
        exact = (whole.width * whole.height - rest.best) / 10_000
        assert (quick.best - quick.left([placement])) / 10_000 == pytest.approx(exact, abs=0.15)
        assert quick.best <= whole.width * whole.height + 1e-6
        assert quick.left([placement]) <= rest.best + 1e-6


def _goes(campaign: Campaign, where: tuple[int, ...]) -> bool:
    for piece in range(len(campaign.pieces)):
        held = [part for part, at in enumerate(where) if at == piece]
        content = tuple(sorted(campaign.size(part, piece) for part in held))
        if not campaign.packers[piece].holds(content):
            return False
    return True


@pytest.mark.parametrize("seed", range(8))
def test_small_cases_are_shared_out_as_well_as_by_trying_every_way(seed):
    parts, pieces = _small_case(seed)
    plan = share_out(parts, pieces, steps=2000)
    least = _least_cost_by_exhaustion(parts, pieces)
    assert_cuttable(plan)
    # Packing keeps the way first found, so either may lay one part more: both are real.
    assert plan.objective == pytest.approx(least, rel=0.01)
    assert plan.bound <= plan.objective + 1e-6
    assert plan.bound <= least + 1e-6
    assert plan.bound > 0.0


def test_counted_by_steps_the_bound_is_as_close_as_by_time():
    gaps = []
    for seed in range(12):
        parts, pieces = _small_case(100 + seed)
        plan = share_out(parts, pieces, steps=100)
        least = _least_cost_by_exhaustion(parts, pieces)
        assert 0.0 < plan.bound <= least + 1e-6
        gaps.append(plan.objective / plan.bound - 1.0)
    assert sum(gap < 0.02 for gap in gaps) >= 10, gaps


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10_000))
def test_every_plan_can_be_cut(seed):
    rng = np.random.default_rng(seed)
    pieces = [
        sheet(
            f"C-{n}",
            float(rng.uniform(60, 160)),
            float(rng.uniform(80, 260)),
            (float(rng.uniform(30, 50)), 42, 24),
            flaws=(Flaw(FlawKind.STAIN, box(float(rng.uniform(5, 40)), 20, 9, 14)),),
        )
        for n in range(4)
    ]
    parts = [
        Part(
            float(rng.uniform(10, 60)),
            float(rng.uniform(20, 180)),
            RED,
            margin=float(rng.choice([0.0, 1.5])),
            shown=bool(rng.random() < 0.6),
            turns=((0, 180), (0, 90), (0,))[int(rng.integers(3))],
        )
        for _ in range(9)
    ]
    plan = share_out(parts, pieces, steps=60)
    assert_cuttable(plan)
    for placed in plan.placed:
        assert placed.placement.turn % 360 in {turn % 360 for turn in placed.part.turns} | {180.0}
    assert len(plan.placed) + len(plan.unplaced) == len(parts)
    parts_alone = sum(placed.cost for placed in plan.placed) + sum(
        LEFT_OUT * left.part.visibility for left in plan.unplaced
    )
    assert (
        parts_alone
        <= plan.objective
        <= parts_alone + 0.2 * sum(piece.outline.area / 10_000 for piece in pieces)
    )
    assert plan.bound <= plan.objective + 1e-6
    assert plan.objective <= plan.closest_first.objective + 1e-6


def test_a_stain_may_lie_under_a_hidden_lining_but_not_in_a_shown_strip():
    stained = sheet("C-0001", 60, 240, flaws=(Flaw(FlawKind.STAIN, box(25, 100, 10, 10)),))
    plan = share_out([Part(57, 228, RED), Part(57, 228, RED, shown=False)], [stained], seconds=1)
    assert choices(plan) == {1: "C-0001"}


def test_a_stain_may_lie_in_the_hidden_zone_of_a_strip():
    stained = sheet("C-0001", 60, 240, flaws=(Flaw(FlawKind.STAIN, box(25, 100, 10, 10)),))
    zones = (Zone(Sight.HIDDEN, 10, 0, 47, 228),)
    plan = share_out([Part(57, 228, RED, zones=zones)], [stained], seconds=1)
    assert choices(plan) == {0: "C-0001"}


def test_a_pinned_choice_is_kept_though_another_piece_is_closer():
    pieces = [sheet("C-0001", 60, 240, RED), sheet("C-0002", 60, 240, FAR_RED)]
    plan = share_out([Part(57, 228, RED)], pieces, pins=[Pin(0, "C-0002")], seconds=1)
    assert choices(plan) == {0: "C-0002"}
    assert plan.placed[0].pinned
    assert "pinned" in plan.why(0).sentence


def test_a_hinge_of_plain_cotton_never_touches_book_cloth():
    ribbed = sheet("C-0001", 60, 240, kind=Kind.CLOTH, pattern="rib")
    cotton = sheet("C-0002", 400, 400, None, kind=Kind.CLOTH, pattern="calico", plain=True)
    hinge = Part(32, 200, None, shown=False, kind=Kind.CLOTH, plain=True)
    assert choices(share_out([hinge], [ribbed, cotton], seconds=1)) == {0: "C-0002"}
    (lost,) = share_out([hinge], [ribbed], seconds=1).unplaced
    assert lost.fits_nothing
    assert "plain cotton" in lost.reason


def test_a_part_that_is_seen_goes_without_rather_than_in_another_colour():
    green = sheet("C-0001", 60, 240, GREEN)
    (lost,) = share_out([Part(57, 228, RED)], [green], seconds=1).unplaced
    assert lost.fits_nothing
    assert choices(share_out([Part(57, 228, RED, tolerance=100)], [green], seconds=1))
    assert choices(share_out([Part(57, 228, RED, shown=False)], [green], seconds=1))


def test_a_pinned_choice_is_kept_beyond_the_tolerance():
    part = Part(57, 228, RED, tolerance=2)
    plan = share_out([part], [sheet("C-0001", 60, 240, GREEN)], pins=[Pin(0, "C-0001")])
    assert choices(plan) == {0: "C-0001"}


def test_a_pinned_placement_is_where_it_was_and_nothing_overlaps_it():
    piece = sheet("C-0001", 120, 240)
    middle = place(piece.outline, 60, 240)
    parts = [Part(60, 240, RED), Part(60, 240, RED), Part(60, 240, RED)]
    plan = share_out(parts, [piece], pins=[Pin(1, "C-0001", middle)], seconds=1)
    assert {placed.number: placed.placement for placed in plan.placed}[1] == middle
    assert len(plan.placed) == 2
    assert_cuttable(plan)


def test_pinned_parts_are_in_the_bound_and_nothing_else_takes_their_place():
    pieces = [sheet("C-0001", 60, 240, RED), sheet("C-0002", 60, 240, FAR_RED)]
    parts = [Part(57, 228, RED), Part(57, 228, RED)]
    plan = share_out(parts, pieces, pins=[Pin(0, "C-0002")], seconds=1)
    assert choices(plan) == {0: "C-0002", 1: "C-0001"}
    assert plan.bound == pytest.approx(plan.objective)
    both = share_out(parts, pieces, pins=[Pin(0, "C-0002"), Pin(1, "C-0001")], seconds=1)
    assert both.bound == pytest.approx(both.objective)


def test_two_corner_patches_come_out_of_one_square():
    parts = [Part(50, 50, RED, triangular=True) for _ in range(2)]
    plan = share_out(parts, [sheet("C-0001", 52, 52)], seconds=1)
    assert len(plan.placed) == 2
    assert_cuttable(plan)


def test_a_corner_patch_pinned_to_its_place_stays_there():
    piece = sheet("C-0001", 52, 52)
    patch = Part(50, 50, RED, triangular=True)
    lying = fit(patch, piece)
    assert lying is not None
    plan = share_out([patch, patch], [piece], pins=[Pin(0, "C-0001", lying)], seconds=1)
    assert {placed.number: placed.placement for placed in plan.placed}[0] == lying
    assert len(plan.placed) == 2
    assert_cuttable(plan)


def test_a_patch_that_may_be_turned_any_way_is_got_out_of_a_slanting_scrap():
    slanting = Piece("C-0001", Outline(((0, 0), (40, 40), (10, 70), (-30, 30))), RED)
    square, turned = (Part(38, 52, RED, turns=(0,), free=free) for free in (0, 180))
    assert share_out([square], [slanting], seconds=1).unplaced[0].fits_nothing
    plan = share_out([turned], [slanting], seconds=1)
    assert choices(plan) == {0: "C-0001"}
    assert_cuttable(plan)


def test_pins_that_make_no_sense_are_refused():
    pieces, parts = [sheet("C-0001", 60, 240)], [Part(57, 228, RED), Part(57, 228, RED)]
    with pytest.raises(EntryError, match="no part"):
        share_out(parts, pieces, pins=[Pin(7, "C-0001")])
    with pytest.raises(EntryError, match="C-9999"):
        share_out(parts, pieces, pins=[Pin(0, "C-9999")])
    with pytest.raises(EntryError, match="twice"):
        share_out(parts, pieces, pins=[Pin(0, "C-0001"), Pin(0, "C-0001")])
    with pytest.raises(EntryError, match="beside"):
        share_out(parts, pieces, pins=[Pin(0, "C-0001"), Pin(1, "C-0001")])
    outside = place(sheet("", 500, 500).outline, 57, 228)
    with pytest.raises(EntryError, match="outside"):
        share_out(parts, [sheet("C-0001", 30, 30)], pins=[Pin(0, "C-0001", outside)])
    with pytest.raises(EntryError):
        share_out(parts, pieces, seconds=-1)


def test_a_part_that_fits_nothing_is_wanted_with_its_size_and_colour():
    part = Part(57, 300, RED, name="spine strip", kind=Kind.CLOTH, pattern="rib")
    pieces = [sheet("C-0001", 60, 240, kind=Kind.CLOTH, pattern="rib")]
    (lost,) = share_out([part], pieces, seconds=1).unplaced
    assert lost.fits_nothing
    for word in ("rib", "red", "cloth", "57 × 300 mm", "L* 38"):
        assert word in lost.reason


def test_a_part_that_lost_its_piece_to_another_says_to_which():
    parts = [Part(57, 228, RED, name="strip, vol. 1"), Part(57, 228, RED, name="strip, vol. 2")]
    (lost,) = share_out(parts, [sheet("C-0001", 60, 240)], seconds=1).unplaced
    assert not lost.fits_nothing
    assert "C-0001" in lost.reason
    assert "strip, vol." in lost.reason


def test_each_choice_says_what_the_better_piece_went_to_and_the_price_of_a_swap():
    parts = [
        Part(57, 228, RED, name="strip"),
        Part(57, 228, RED, name="panel", weight=0.5),
    ]
    pieces = [sheet("C-0001", 60, 240, RED), sheet("C-0002", 60, 240, FAR_RED)]
    plan = share_out(parts, pieces, seconds=1)
    why = plan.why(1)
    assert choices(plan) == {0: "C-0001", 1: "C-0002"}
    assert why.best == "C-0001"
    assert why.taken_by == ("strip",)
    assert why.swap == pytest.approx(0.5 * float(delta_e00(RED, [FAR_RED])[0]), abs=0.01)
    assert "strip" in why.sentence
    assert plan.why(0).swap is None
    assert choices(plan) == {0: "C-0001", 1: "C-0002"}  # asking changes nothing


def test_of_two_equal_shades_the_surer_reading_is_chosen():
    sure = sheet("C-0002", 60, 240, NEAR_RED, u=1.0)
    vague = sheet("C-0001", 60, 240, NEAR_RED, u=9.0)
    unknown = sheet("C-0003", 60, 240, NEAR_RED)
    plan = share_out([Part(57, 228, RED)], [vague, unknown, sure], seconds=1)
    assert choices(plan) == {0: "C-0002"}


def test_of_two_equals_the_poorer_piece_is_cut():
    pieces = [sheet("C-0001", 300, 300), sheet("C-0002", 60, 240)]
    assert choices(share_out([Part(57, 228, RED)], pieces, seconds=1)) == {0: "C-0002"}


def _middling() -> tuple[list[Part], list]:
    rng = np.random.default_rng(11)
    pieces = [
        sheet(
            f"C-{n:04}",
            float(rng.uniform(60, 140)),
            float(rng.uniform(100, 260)),
            (float(rng.uniform(30, 46)), float(rng.uniform(35, 48)), 24),
        )
        for n in range(10)
    ]
    parts = [
        Part(
            float(rng.uniform(30, 60)),
            float(rng.uniform(40, 230)),
            (float(rng.uniform(34, 42)), 42, 24),
            shown=n % 4 != 3,
        )
        for n in range(24)
    ]
    return parts, pieces


def test_the_same_input_and_number_of_steps_give_the_same_answer():
    parts, pieces = _middling()
    one, other = (share_out(parts, pieces, steps=150) for _ in range(2))
    assert one.placed == other.placed
    assert (one.objective, one.bound, one.steps) == (other.objective, other.bound, other.steps)
    assert 0.0 < one.bound <= one.objective
    assert one.gap < 0.05


def test_sharing_out_writes_nothing_to_the_terminal(capfd):
    parts, pieces = _middling()
    share_out(parts, pieces, steps=50)
    assert capfd.readouterr() == ("", "")


def test_more_steps_are_never_worse():
    parts, pieces = _middling()
    objectives = [share_out(parts, pieces, steps=n).objective for n in (0, 300)]
    assert objectives[1] <= objectives[0] + 1e-6


def test_asked_to_stop_it_gives_the_best_so_far():
    parts, pieces = _middling()
    heard: list[tuple[str, float, float]] = []
    plan = share_out(
        parts,
        pieces,
        seconds=60,
        stop=lambda: len(heard) >= 2,
        progress=lambda *told: heard.append(told),
    )
    assert plan.stopped
    assert heard[0][0] == "first plan"
    assert plan.objective <= heard[0][1] + 1e-6
    assert_cuttable(plan)


def test_no_parts_and_no_pieces_are_shared_out_to_nothing():
    empty = share_out([], [], seconds=1)
    assert (empty.objective, empty.bound, empty.placed) == (0.0, 0.0, ())
    assert share_out([], [sheet("C-0001", 60, 240)], seconds=1).objective == 0.0
    (lost,) = share_out([Part(57, 228, RED)], [], seconds=1).unplaced
    assert lost.fits_nothing


def test_choosing_a_piece_says_what_the_others_would_lose():
    tall, short = sheet("C-0001", 60, 240, RED), sheet("C-0002", 60, 60, NEAR_RED)
    patch, strip = Part(50, 50, RED), Part(57, 228, RED)
    found = burdens(patch, [tall, short], [strip])
    assert found["C-0001"].losers == (0,)
    assert found["C-0001"].cost == pytest.approx(LEFT_OUT)
    assert found["C-0001"].stranded == (0,)
    assert found["C-0002"].cost == 0.0
    lining = burdens(patch, [tall, short], [Part(57, 228, None, shown=False)])
    assert lining["C-0001"].cost == pytest.approx(2.0)
    assert lining["C-0001"].stranded == (0,)


def test_a_wide_piece_given_away_costs_nothing_where_both_have_room():
    wide = sheet("C-0001", 120, 240, RED)
    assert burdens(Part(50, 50, RED), [wide], [Part(57, 228, RED)])["C-0001"].cost == 0.0


def test_parts_taken_out_leave_the_others_lying_as_they_did():
    piece, sizes = sheet("C-0001", 120, 240), Sizes()
    packer = Packer(piece, sizes)
    strip = sizes.number(size_in(Part(57, 228, RED), piece))
    patch = sizes.number(size_in(Part(40, 40, RED), piece))
    assert packer.packs((), strip)
    assert packer.packs((strip,), patch)
    both = packer.laid((strip, patch))
    rest = packer.less((strip, patch), patch)
    assert packer.laid(rest).placements[0] == both.placements[0]


def test_a_third_strip_finds_no_room():
    piece, sizes = sheet("C-0001", 120, 240), Sizes()
    packer = Packer(piece, sizes)
    strip = sizes.number(size_in(Part(57, 228, RED), piece))
    assert packer.packs((), strip)
    assert packer.packs((strip,), strip)
    assert not packer.packs((strip, strip), strip)


def test_where_a_larger_part_found_room_a_smaller_one_is_laid_in_it():
    rng = np.random.default_rng(4)
    piece, sizes = ragged("C-0001", 40, across=150, along=260, points=14), Sizes()
    packer = Packer(piece, sizes)
    larger = sizes.number(size_in(Part(40, 90, RED, margin=1), piece))
    assert packer.packs((), larger)
    for _ in range(10):
        part = Part(float(rng.uniform(5, 40)), float(rng.uniform(5, 90)), RED, margin=1)
        size = sizes.number(size_in(part, piece))
        assert packer.extends((), size)
        (placement,) = packer.laid(packer.lay((), size)).placements
        free = piece.outline.polygon
        assert shapely.covers(free, placement.polygon)
        assert shapely.distance(free.boundary, placement.polygon) >= 1 - 2e-6


def test_time_too_short_for_the_first_plan_binds_it_and_leaves_a_bound():
    parts, pieces = _middling()
    hurried = share_out(parts, pieces, seconds=1e-3)
    assert 0.0 < hurried.bound <= hurried.objective
    assert hurried.objective <= hurried.closest_first.objective + 1e-9
    assert_cuttable(hurried)


@pytest.mark.parametrize("seed", range(6))
def test_no_plan_is_worse_than_closest_first_or_better_than_its_bound(seed):
    parts, pieces = _small_case(200 + seed)
    least = _least_cost_by_exhaustion(parts, pieces)
    for how in ({"steps": 0}, {"steps": 7}, {"seconds": 1e-3}, {"seconds": 0.3}):
        plan = share_out(parts, pieces, **how)
        assert plan.objective <= plan.closest_first.objective + 1e-9
        assert 0.0 < plan.bound <= least + 1e-6
        assert plan.bound <= plan.objective
