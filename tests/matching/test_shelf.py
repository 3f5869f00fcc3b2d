"""No jump between neighbours on the shelf: counted, searched for, told with its band.

The rate of 0.25 for each ΔE00 of jump, and all figures here, are worked by hand or by trying every
way; the shades are ΔE00 of the published formula as ``colour`` computes it.
"""

import math
from itertools import product

import numpy as np
import pytest

from bindery_stock.colour import delta_e00
from bindery_stock.matching import Part, Piece, Pin, Plan, Prices, share_out
from bindery_stock.matching.along_shelf import change_places
from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.orders import closest_first
from tests.matching.hoards import RED, sheet

ROW = ("vol. 1", "vol. 2", "vol. 3", "vol. 4")


def spine(volume: str, lab=RED, **more) -> Part:
    return Part(57, 228, lab, name=f"spine, {volume}", volume=volume, spine=True, **more)


def lighter(by: float) -> tuple[float, float, float]:
    return (RED[0] + by, *RED[1:])


def cloth(code: str, by: float, **more) -> Piece:
    return sheet(code, 60, 240, lighter(by), **more)


def apart(one: float, other: float) -> float:
    return float(delta_e00(lighter(one), [lighter(other)])[0])


def choices(plan: Plan) -> list[str]:
    return [placed.code for placed in plan.placed]


def test_spines_as_near_stand_so_that_neighbours_differ_least():
    # One colour is sought for all: any order costs the same shade, but not the same jumps.
    pieces = [cloth("C-1", 4), cloth("C-2", -4), cloth("C-3", 4), cloth("C-4", -4)]
    parts = [spine(volume) for volume in ROW]
    plan = share_out(parts, pieces, steps=200, shelf=[ROW])
    left, right = choices(plan)[:2], choices(plan)[2:]
    assert {frozenset(left), frozenset(right)} == {
        frozenset({"C-1", "C-3"}),
        frozenset({"C-2", "C-4"}),
    }
    assert [jump.delta_e for jump in plan.reckoning.jumps] == pytest.approx(
        [0.0, apart(4, -4), 0.0]
    )
    assert plan.reckoning.jump == pytest.approx(0.25 * apart(4, -4))
    assert plan.objective <= plan.closest_first.objective
    assert plan.gap == pytest.approx(0.0, abs=1e-4)


def test_a_shade_is_given_up_for_a_jump_only_as_far_as_it_is_worth():
    # Vol. 2 between two of C-1's colour: its own colour is nearer, but makes two jumps.
    for own, code in ((1.5, "C-4"), (8.0, "C-3")):
        pieces = [cloth("C-1", 0), cloth("C-2", 0), cloth("C-3", own), cloth("C-4", 0)]
        parts = [spine("vol. 1"), spine("vol. 2", lighter(own)), spine("vol. 3")]
        near, jump = apart(own, 0), 2 * apart(own, 0)
        for price in (0.25, 0.75):
            plan = share_out(parts, pieces, steps=100, shelf=[ROW], prices=Prices(jump=price))
            gives_up = price * jump > near
            assert (choices(plan)[1] != "C-3") == gives_up, (own, code, price)
            assert plan.gap == pytest.approx(0.0, abs=1e-4)


def test_the_greatest_jump_is_told_with_its_band():
    pieces = [cloth("C-1", 0, u=0.6), cloth("C-2", 5, u=0.8), cloth("C-3", 5.5)]
    parts = [spine("vol. 1"), spine("vol. 2", lighter(5)), spine("vol. 3", lighter(5.5))]
    plan = share_out(parts, pieces, steps=100, shelf=[ROW], prices=Prices(jump=0.01))
    greatest = plan.reckoning.greatest_jump
    assert (greatest.left, greatest.right) == ("vol. 1", "vol. 2")
    assert greatest.delta_e == pytest.approx(apart(0, 5))
    assert greatest.u == pytest.approx(math.hypot(0.6, 0.8))
    assert plan.reckoning.jumps[1].u is None  # one reading is without a band


def test_only_neighbours_of_one_row_jump():
    pieces = [cloth("C-1", 0), cloth("C-2", 6)]
    parts = [spine("vol. 1"), spine("vol. 3", lighter(6))]
    assert share_out(parts, pieces, steps=10, shelf=[ROW]).reckoning.greatest_jump is None
    assert share_out(parts, pieces, steps=10).reckoning.jumps == ()
    apart_rows = share_out(parts, pieces, steps=10, shelf=[("vol. 1",), ("vol. 3",)])
    assert apart_rows.reckoning.jumps == ()
    beside = share_out(parts, pieces, steps=10, shelf=[("vol. 1", "vol. 3")])
    assert beside.reckoning.greatest_jump is not None


def test_no_spine_goes_without_to_be_rid_of_a_jump():
    pieces = [cloth("C-1", 0), sheet("C-2", 60, 240, (36.0, -14.0, 10.0)), cloth("C-3", 0)]
    green = spine("vol. 2", (36.0, -14.0, 10.0), weight=0.2)
    plan = share_out([spine("vol. 1"), green, spine("vol. 3")], pieces, steps=50, shelf=[ROW])
    assert len(plan.placed) == 3


def test_a_pinned_spine_stays_and_its_neighbours_come_to_it():
    pieces = [cloth("C-1", 0), cloth("C-2", 5), cloth("C-3", -5), cloth("C-4", 5)]
    parts = [spine(volume) for volume in ROW[:2]]
    plan = share_out(
        parts, pieces[1:], pins=[Pin(0, "C-2")], steps=50, shelf=[ROW], prices=Prices(jump=2.0)
    )
    assert choices(plan) == ["C-2", "C-4"]
    assert plan.gap == pytest.approx(0.0, abs=1e-4)


def small_case(seed: int) -> tuple[list[Part], list[Piece]]:
    rng = np.random.default_rng(seed)
    pieces = [
        sheet(
            f"C-{n}",
            float(rng.choice([60, 120])),
            float(rng.uniform(235, 300)),
            lighter(float(rng.uniform(-8, 8))),
            u=float(rng.uniform(0.2, 1.5)),
        )
        for n in range(4)
    ]
    parts = [spine(volume, lighter(float(rng.uniform(-5, 5)))) for volume in ROW]
    parts.append(Part(46, 60, RED, weight=0.2, name="tip", volume="vol. 2"))
    return parts, pieces


def least_by_trying(parts: list[Part], pieces: list[Piece], jump: float) -> float:
    """The cheapest of every way to give each part a piece or none, each term summed by itself.

    Whole cloth is not counted: how much of it is left depends on which laying was found first.
    """
    campaign = Campaign(parts, pieces, ())
    far = {
        (one, other): min(float(delta_e00(pieces[one].lab, [pieces[other].lab])[0]), 20.0)
        for one, other in product(range(len(pieces)), repeat=2)
    }
    best = math.inf
    for where in product(range(-1, len(pieces)), repeat=len(parts)):
        cost = sum(
            60 * part.visibility if at < 0 else float(campaign.cost[n, at])
            for n, (part, at) in enumerate(zip(parts, where, strict=True))
        )
        cost += 4 * len({p.volume for p, at in zip(parts, where, strict=True) if at < 0})
        shades = {(campaign.shades[n], at) for n, at in enumerate(where) if at >= 0}
        cost += 0.5 * len(shades)
        for left, right in ((0, 1), (1, 2), (2, 3)):
            if where[left] >= 0 and where[right] >= 0:
                cost += jump * far[where[left], where[right]]
        if cost >= best:
            continue
        contents = [
            tuple(sorted(campaign.size(n, piece) for n, at in enumerate(where) if at == piece))
            for piece in range(len(pieces))
        ]
        if all(campaign.packers[n].holds(content) for n, content in enumerate(contents)):
            best = cost
    return best


@pytest.mark.parametrize("seed", [0, 2, 3])
def test_small_shelves_are_shared_out_as_well_as_by_trying_every_way(seed):
    parts, pieces = small_case(seed)
    jump = (0.25, 1.0)[seed % 2]
    prices = Prices(jump=jump, cloth=0.0)
    plan = share_out(parts, pieces, steps=60, shelf=[ROW], prices=prices)
    least = least_by_trying(parts, pieces, jump)
    assert plan.objective == pytest.approx(least, rel=1e-6)
    assert plan.bound <= least + 1e-6
    assert plan.objective <= plan.closest_first.objective
    # So few loads are picked whole with their jumps: the best is proved, not only bounded.
    assert plan.gap == pytest.approx(0.0, abs=1e-3)
    again = share_out(parts, pieces, steps=60, shelf=[ROW], prices=prices)
    assert (choices(again), again.bound) == (choices(plan), plan.bound)


def test_the_pass_along_the_shelf_swaps_cloth_and_never_makes_it_dearer():
    gained = 0
    for seed in range(12):
        parts, pieces = small_case(50 + seed)
        sharing = closest_first(Campaign(parts, pieces, (), Prices(jump=1.0), shelf=[ROW]))
        before = sharing.objective()
        moved = change_places(sharing, lambda: False)
        assert (sharing.objective() < before - 1e-6) == moved
        gained += moved
    assert gained > 0


def test_what_each_price_cost_adds_up_to_the_whole():
    parts, pieces = small_case(3)
    parts += [Part(400, 400, RED, name="side", volume="vol. 9"), Part(9, 9, RED, weight=0.0)]
    plan = share_out(parts, pieces, steps=50, shelf=[ROW])
    for found in (plan, plan.closest_first):
        told = found.reckoning
        assert told.total == pytest.approx(found.objective)
        assert told.waiting == sum(left.part.visibility > 0 for left in found.unplaced)
        assert told.jump == pytest.approx(0.25 * sum(jump.delta_e for jump in told.jumps))
        assert told.shade == pytest.approx(sum(placed.cost for placed in found.placed))
    assert plan.reckoning.unfinished >= 1
    assert plan.reckoning.volumes == pytest.approx(4.0 * plan.reckoning.unfinished)


def test_whole_cloth_kept_is_large_pieces_that_nothing_is_cut_from():
    pieces = [sheet("C-1", 400, 300), sheet("C-2", 60, 240), sheet("C-3", 200, 200)]
    plan = share_out([spine("vol. 1")], pieces, steps=20)
    assert choices(plan) == ["C-2"]
    told = plan.reckoning
    assert (told.large, told.kept) == (3, 2)
    assert told.lost_mm2 == pytest.approx(60 * 240 - 60 * 12)
