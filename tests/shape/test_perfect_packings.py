"""Layouts beside a public packing library, on published sheets that can be filled wholly."""

import pytest

from bindery_stock.shape import Outline, lay_out, sheet
from bindery_stock.shape.beam import Beam
from bindery_stock.shape.perfect_layout import lay_without_waste
from bindery_stock.shape.rectangle_wanted import RectangleWanted
from tests.shape.perfect_packings import PerfectPacking, perfect_packings, share_by_quick_rules
from tests.shape.test_layout import assert_apart, separable

SMALL = [packing for packing in perfect_packings() if packing.name in ("n1b", "n2a", "n3c")]
STEPS = {False: 3_000, True: 6_000}
"""Half-filled sheets looked at, freely and by shears: the same everywhere, and soon done."""


def wanted(packing: PerfectPacking) -> list[RectangleWanted]:
    return [RectangleWanted(w, h, turns=(0.0,)) for w, h in packing.parts]


def test_every_published_sheet_is_the_sum_of_its_parts() -> None:
    packings = perfect_packings()
    assert len(packings) == 35
    for packing in packings:
        assert sum(w * h for w, h in packing.parts) == packing.area


@pytest.mark.parametrize("packing", SMALL, ids=lambda p: p.name)
@pytest.mark.parametrize("guillotine", [False, True], ids=["freely", "by shears"])
def test_no_quick_rule_of_a_public_library_uses_more_of_the_sheet(
    packing: PerfectPacking, guillotine: bool
) -> None:
    board = sheet(packing.width, packing.height)
    layout = lay_out(board, wanted(packing), guillotine=guillotine, steps=STEPS[guillotine])
    assert_apart(list(layout.placements), board)
    assert layout.used >= share_by_quick_rules(packing, guillotine=guillotine) - 1e-9
    assert layout.at_most == pytest.approx(1.0, abs=1e-5)
    if guillotine:
        assert separable([p.polygon.bounds for p in layout.placements if p])


def test_the_same_steps_lay_the_same_parts() -> None:
    packing = SMALL[1]
    board = sheet(packing.width, packing.height)
    one, other = (lay_out(board, wanted(packing), steps=2000) for _ in range(2))
    assert one == other


def test_what_cannot_lie_side_by_side_is_not_said_to_be_possible() -> None:
    """Worked by hand: 60 × 60 goes but once into 100 × 100, so 36 % is the most."""
    layout = lay_out(sheet(100, 100), [RectangleWanted(60, 60)] * 3, steps=500)
    assert layout.used == pytest.approx(0.36)
    assert layout.at_most == pytest.approx(0.36, abs=1e-4)


def test_a_search_that_nothing_can_come_of_ends() -> None:
    layout = lay_out(sheet(30, 30), [RectangleWanted(60, 60)] * 2, seconds=0.2)
    assert layout.placements == (None, None)
    assert layout.at_most == pytest.approx(0.0, abs=1e-4)


def test_the_search_for_a_layout_without_waste_ends_when_it_is_told_to() -> None:
    told: list[int] = []

    def no_more(looks: int) -> bool:
        told.append(looks)
        return False

    packing = SMALL[1]
    ways = [[size] for size in packing.parts]
    assert not any(lay_without_waste((packing.width, packing.height), ways, no_more))
    assert len(told) == 1


def test_no_better_layout_is_sought_once_none_can_be_better(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Worked by hand: of strips of 58 × 228 only three go side by side into 200 × 250."""
    beams: list[int] = []
    monkeypatch.setattr(Beam, "run", lambda *_: beams.append(1))
    strips = [RectangleWanted(58, 228)] * 4
    for board in (sheet(200, 250), Outline(((0, 0), (200, 0), (200, 250), (5, 250), (0, 245)))):
        layout = lay_out(board, strips)
        assert len([p for p in layout.placements if p]) == 3
        assert layout.used == pytest.approx(layout.at_most, rel=1e-4)
    assert not beams


def test_an_odd_piece_is_used_at_least_as_far_as_its_largest_rectangle() -> None:
    odd = Outline(((0, 0), (100, 0), (100, 80), (60, 80), (60, 120), (0, 120)))
    parts = [RectangleWanted(50, 80), RectangleWanted(50, 80), RectangleWanted(60, 40)]
    layout = lay_out(odd, parts, steps=2000)
    assert all(layout.placements)
    assert_apart(list(layout.placements), odd)
    assert layout.used == pytest.approx(1.0) == pytest.approx(layout.at_most)
