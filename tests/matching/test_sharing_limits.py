"""What a sharing-out owes whatever its time: a plan no worse than simple ones, and a true bound.

Time is told here by a clock that goes on by one second each time the packer looks for a place, so
that no test depends on how busy the machine is.
"""

from dataclasses import replace

import numpy as np
import pytest

from bindery_stock.matching import Part, Piece, Pin, Prices, fit, share_out
from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.orders import closest_first, plain_regret
from bindery_stock.matching.packer import Packer
from bindery_stock.matching.rough_bound import by_area, floor
from bindery_stock.shape import Flaw, FlawKind, Outline
from tests.matching.hoards import RED, box, sheet
from tests.matching.test_sharing import _small_case


def campaign(seed: int) -> tuple[list[Part], list]:
    """Twelve parts of three volumes and six sheets."""
    rng = np.random.default_rng((seed, 5))
    pieces = [
        sheet(
            f"C-{n:04}",
            float(rng.integers(60, 140)),
            float(rng.integers(90, 260)),
            (float(rng.uniform(30, 46)), 42.0, 24.0),
        )
        for n in range(6)
    ]
    parts = [
        Part(
            float(rng.integers(28, 60)),
            float(rng.integers(40, 230)),
            (float(rng.uniform(34, 42)), 42.0, 24.0),
            shown=n % 4 != 3,
            volume=f"vol. {n // 4}",
        )
        for n in range(12)
    ]
    return parts, pieces


class Looks:
    """A clock of looks."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self) -> float:
        return float(self.count)


@pytest.fixture
def looks(monkeypatch: pytest.MonkeyPatch) -> Looks:
    clock, look = Looks(), Packer._look

    def counted(self, laid, size):
        clock.count += 1
        return look(self, laid, size)

    monkeypatch.setattr(Packer, "_look", counted)
    return clock


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("steps", [0, 20])
def test_no_plan_is_worse_than_closest_first_or_than_plain_regret(seed, steps):
    parts, pieces = campaign(seed)
    plan = share_out(parts, pieces, steps=steps)
    for order in (closest_first, plain_regret):
        # Made anew, and so perhaps laid a little otherwise: whole cloth may differ by a hair.
        assert plan.objective <= order(Campaign(parts, pieces, ())).objective() + 0.05
    assert plan.objective <= plan.closest_first.objective + 1e-9
    assert 0.0 < plan.bound <= plan.objective


@pytest.mark.parametrize("seconds", [1, 20, 60, 150])
def test_time_binds_the_first_plan_and_the_search_and_leaves_a_plan_and_a_bound(looks, seconds):
    parts, pieces = campaign(3)
    closest_first(Campaign(parts, pieces, ())).objective()
    least, looks.count = looks.count, 0
    plan = share_out(parts, pieces, seconds=seconds, now=looks)
    # What must be done in any case: whether anything serves each part, and closest-first.
    assert looks.count <= max(seconds, least) + 40
    assert len(plan.placed) + len(plan.unplaced) == len(parts)
    assert plan.objective <= plan.closest_first.objective + 1e-9
    assert 0.0 < plan.bound <= plan.objective


@pytest.mark.parametrize("seed", range(6))
def test_the_bound_by_area_lies_between_the_floor_and_every_plan(seed):
    for parts, pieces in (campaign(seed), _small_case(seed)):
        rough, plan = Campaign(parts, pieces, ()), share_out(parts, pieces, steps=60)
        assert floor(rough) <= by_area(rough, 10.0) <= plan.objective + 1e-6


def test_the_bound_by_area_sees_that_two_strips_do_not_come_out_of_one_scrap():
    rough = Campaign([Part(57, 228, RED, u=0.0), Part(57, 228, RED)], [sheet("C-1", 60, 240)], ())
    assert floor(rough) == pytest.approx(0.0)
    assert by_area(rough, 10.0) > 50.0


def test_the_bound_by_area_sees_that_two_strips_do_not_pass_a_waist_side_by_side():
    waist = Outline(((0, 0), (200, 0), (131, 120), (200, 240), (0, 240), (69, 120)))
    strips = [Part(57, 228, RED), Part(57, 228, RED)]
    rough = Campaign(strips, [Piece("C-1", waist, RED)], ())
    assert sum(part.area for part in strips) < waist.area
    assert by_area(rough, 10.0) > 50.0
    # A quarter turn lets each part reach over the middle with its short side alone.
    loose = [replace(part, turns=(0, 90)) for part in strips]
    assert by_area(Campaign(loose, [Piece("C-1", waist, RED)], ()), 10.0) < 10.0


def test_pinned_parts_stand_in_the_bound_by_area():
    piece = sheet("C-1", 120, 240, (44.0, 42.0, 24.0))
    strip = Part(57, 228, RED)
    lying = fit(strip, piece)
    for pin in (Pin(0, "C-1"), Pin(0, "C-1", lying)):
        rough = Campaign([strip, strip, strip], [piece], (pin,))
        plan = share_out([strip, strip, strip], [piece], pins=[pin], steps=10)
        assert floor(rough) < by_area(rough, 10.0) <= plan.objective + 1e-6


def test_a_lining_over_a_stain_loses_no_more_cloth_than_the_least_that_is_counted():
    stained = sheet("C-1", 100, 100, flaws=(Flaw(FlawKind.STAIN, box(0, 0, 50, 100)),))
    rough = Campaign([Part(48, 98, None, shown=False)], [stained], ())
    packer, size = rough.packers[0], rough.size(0, 0)
    assert packer.extends((), size)
    content = packer.lay((), size)
    assert rough.least_cloth(0, 48 * 98) <= rough.cloth(0, content) + 1e-9


def test_prices_of_nothing_leave_a_bound_of_parts_alone():
    parts, pieces = campaign(1)
    free = Prices(volume=0, lot=0, cloth=0)
    plan = share_out(parts, pieces, steps=40, prices=free)
    assert plan.bound <= plan.objective
    assert by_area(Campaign(parts, pieces, (), free), 10.0) <= plan.objective + 1e-6
