"""Several parts removed at once leave what they leave one after another."""

import pytest
from shapely import unary_union

from bindery_stock.errors import ShapeError
from bindery_stock.shape import Outline, cut, cut_all
from bindery_stock.shape.placement import placement_at

ODD = Outline(((0, 0), (120, 10), (140, 200), (60, 260), (-10, 180)))


def test_two_parts_at_once_are_two_parts_in_turn() -> None:
    first, second = placement_at(20, 20, 40, 60, 0.0), placement_at(70, 60, 30, 80, 0.0)
    at_once = cut_all(ODD, [first, second], knife=1.0)
    (between,) = cut(ODD, first, knife=1.0)
    in_turn = cut(between, second, knife=1.0)
    assert unary_union([o.polygon for o in at_once]).symmetric_difference(
        unary_union([o.polygon for o in in_turn])
    ).area == pytest.approx(0.0, abs=1e-6)


def test_remains_come_largest_first() -> None:
    across = placement_at(-20, 90, 200, 10, 0.0)
    areas = [remain.area for remain in cut_all(ODD, [across])]
    assert len(areas) == 2
    assert areas == sorted(areas, reverse=True)


def test_a_knife_narrower_than_nothing_is_refused() -> None:
    with pytest.raises(ShapeError, match="knife"):
        cut_all(ODD, [placement_at(20, 20, 40, 60, 0.0)], knife=-1.0)
