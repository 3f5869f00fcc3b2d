"""What is said of a part dragged about by hand."""

import pytest

from bindery_stock.shape import (
    Flaw,
    FlawKind,
    Outline,
    Placement,
    Sight,
    Zone,
    lie,
    lie_on,
    patch_at,
    patch_near_on,
    triangle,
)
from bindery_stock.shape.ground import ground

SHEET = Outline(((0, 0), (100, 0), (100, 50), (0, 50)))


def part_at(x: float, y: float) -> Placement:
    return Placement(((x, y), (x + 20, y), (x + 20, y + 30), (x, y + 30)), 0, False, 20, 30)


def test_a_part_that_touches_the_edge_fits() -> None:
    assert lie(SHEET, part_at(80, 20)).fits


def test_a_part_over_the_edge_says_by_how_much_and_where() -> None:
    told = lie(SHEET, part_at(83, 10))
    assert not told.fits
    assert told.over == pytest.approx(3)
    assert told.at is not None
    assert told.at[0] == pytest.approx(103)


def test_a_part_within_the_margin_is_over_by_what_it_lacks() -> None:
    assert lie(SHEET, part_at(79.5, 10), margin=2).over == pytest.approx(1.5)


def test_a_part_on_a_stain_does_not_fit() -> None:
    stain = Flaw(FlawKind.STAIN, ((48, 20), (52, 20), (52, 24), (48, 24)))
    told = lie(SHEET, part_at(40, 10), flaws=[stain])
    assert not told.fits
    assert told.over == pytest.approx(2, abs=0.3)


def test_a_stain_under_a_shown_zone_is_named_and_under_a_hidden_one_forgiven() -> None:
    stain = Flaw(FlawKind.STAIN, ((48, 20), (52, 20), (52, 24), (48, 24)))
    zones = (Zone(Sight.SHOWN, 0, 0, 10, 30), Zone(Sight.HIDDEN, 10, 0, 20, 30))
    usable = ground(SHEET, flaws=[stain], zones=zones)
    spoilt = lie_on(usable, part_at(45, 5))
    assert (spoilt.fits, spoilt.under) == (False, FlawKind.STAIN)
    assert spoilt.at == pytest.approx((50, 22), abs=0.5)
    assert lie_on(usable, part_at(35, 5)).fits


def test_a_part_beside_another_is_over_by_what_it_covers() -> None:
    beside = ground(SHEET).without(part_at(10, 5).polygon, 1.0)
    assert lie_on(beside, part_at(28, 5)).over == pytest.approx(3.0)
    assert lie_on(beside, part_at(31, 5)).fits


def test_a_corner_patch_follows_the_hand_and_snaps_into_a_corner() -> None:
    patch = triangle(30, 20)
    free = ground(SHEET)
    dragged = patch_near_on(free, patch, (21.5, 12.0))
    assert dragged is not None
    assert dragged.ring[0] == pytest.approx((21.5, 12.0))
    snapped = patch_near_on(free, patch, (1.5, 2.0), snap=4.0)
    assert snapped is not None
    assert snapped.ring[0] == pytest.approx((0.0, 0.0), abs=1e-5)
    assert lie_on(free, snapped).fits
    over = patch_at(patch, (80.0, 10.0), 0.0)
    assert lie_on(free, over).over == pytest.approx(10.0)
