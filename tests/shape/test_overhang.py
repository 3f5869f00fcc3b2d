"""What is said of a part dragged about by hand."""

import pytest

from bindery_stock.shape import Flaw, FlawKind, Outline, Placement, lie

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
