"""Layouts bettered by taking part of them up: parts stay apart, in the sheet, and no fewer."""

from itertools import combinations

import numpy as np
import pytest

from bindery_stock.shape.perfect_layout import lay_without_waste
from bindery_stock.shape.quick_rules import QuickRules
from bindery_stock.shape.refill import Refill
from bindery_stock.shape.sheet_parts import SheetSpot, Size

Ways = list[list[Size]]


def boxes(ways: Ways, spots: list[SheetSpot | None]) -> list[tuple[float, float, float, float]]:
    return [
        (spot.x, spot.y, spot.x + own[spot.way][0], spot.y + own[spot.way][1])
        for own, spot in zip(ways, spots, strict=True)
        if spot
    ]


def assert_laid(sheet: Size, ways: Ways, spots: list[SheetSpot | None]) -> None:
    laid = boxes(ways, spots)
    for left, low, right, high in laid:
        assert left >= -1e-6
        assert low >= -1e-6
        assert right <= sheet[0] + 1e-6
        assert high <= sheet[1] + 1e-6
    for one, other in combinations(laid, 2):
        across = max(one[0] - other[2], other[0] - one[2])
        along = max(one[1] - other[3], other[1] - one[3])
        assert max(across, along) >= -1e-6


@pytest.mark.parametrize("turned", [False, True], ids=["along the warp", "either way"])
@pytest.mark.parametrize("whole", [False, True], ids=["odd sizes", "whole millimetres"])
def test_a_layout_bettered_lies_apart_and_uses_no_less(turned: bool, whole: bool) -> None:
    random = np.random.default_rng(3)
    sizes = random.uniform(8, 60, (18, 2))
    sizes = sizes.round() if whole else sizes
    ways = [[(w, h), (h, w)] if turned else [(w, h)] for w, h in sizes.tolist()]
    sheet = (120.0, 150.0)
    rules = QuickRules(sheet, ways, guillotine=False)
    first = rules.lay_freely(rules.orders()[0][:9], 0)
    refill = Refill(sheet, ways, lambda _looks: True)
    refill.begin_with(first)
    used = [rules.area(first)]
    for _ in range(6):
        assert refill.change()
        assert_laid(sheet, ways, refill.best)
        used.append(rules.area(refill.best))
    assert used == sorted(used)
    assert used[-1] > used[0]


def test_a_better_layout_from_elsewhere_is_gone_on_from_and_a_worse_one_is_not() -> None:
    ways = [[(30.0, 30.0)], [(20.0, 30.0)], [(50.0, 20.0)]]
    both: list[SheetSpot | None] = [SheetSpot(0, 0, 0), SheetSpot(30, 0, 0), None]
    one: list[SheetSpot | None] = [SheetSpot(0, 0, 0), None, None]
    refill = Refill((50.0, 50.0), ways, lambda _looks: True)
    refill.begin_with(both)
    refill.begin_with(one)
    assert refill.best == both
    while not all(refill.best):
        assert refill.change()
    assert_laid((50.0, 50.0), ways, refill.best)


def test_a_sheet_cut_up_at_odd_sizes_is_filled_again_without_waste() -> None:
    """Worked by hand: 100 × 80 cut at a third and at seven tenths each way."""
    across, along = (100 / 3, 200 / 3), (56.0, 24.0)
    ways = [[(w, h)] for w in across for h in along]
    spots = lay_without_waste((100.0, 80.0), ways, lambda _looks: True)
    assert all(spots)
    assert_laid((100.0, 80.0), ways, spots)
