"""Boards cut from edge to edge, in order."""

import pytest

from bindery_stock.shape import Outline, Placement, place_all, shear, sheet
from bindery_stock.shape.placement import placement_at


def laid(*boxes: tuple[float, float, float, float]) -> list[Placement]:
    return [placement_at(x, y, w, h, 0.0) for x, y, w, h in boxes]


def test_two_boards_side_by_side_take_three_cuts_and_leave_the_rest_whole() -> None:
    """Worked by hand: the tail is cut off first, as the largest remain; then board from board."""
    sheared = shear(sheet(330, 500), laid((0, 0, 150, 230), (150, 0, 150, 230)))
    assert sheared is not None
    assert [(cut.along, cut.at) for cut in sheared.cuts] == [
        (False, 230.0),
        (True, 300.0),
        (True, 150.0),
    ]
    assert [remain.area for remain in sheared.remains] == pytest.approx([330 * 270, 30 * 230])


def test_parts_laid_round_a_middle_cannot_be_had_by_shears() -> None:
    """The pinwheel, the least pattern without an edge-to-edge cut (folklore of cutting stock)."""
    wheel = laid((0, 0, 60, 40), (60, 0, 40, 60), (40, 60, 60, 40), (0, 40, 40, 60))
    assert shear(sheet(100, 100), wheel) is None


def test_nothing_is_lost_but_to_the_knife() -> None:
    board = sheet(640, 900)
    parts = place_all(board, [(150, 230)] * 9, gap=1.0, guillotine=True)
    found = [part for part in parts if part is not None]
    assert len(found) == 9
    whole = shear(board, found, knife=1.0)
    assert whole is not None
    left = sum(remain.area for remain in whole.remains) + 9 * 150 * 230
    cut = sum((c.board[3] - c.board[1] if c.along else c.board[2] - c.board[0]) for c in whole.cuts)
    assert board.area - cut <= left <= board.area


def test_a_part_that_lies_aslant_is_not_for_the_shears() -> None:
    assert shear(sheet(100, 100), [placement_at(40, 20, 20, 30, 12.0)]) is None


def test_in_an_odd_piece_the_remains_keep_its_edge() -> None:
    outline = Outline(((0, 0), (100, 0), (120, 200), (0, 200)))
    sheared = shear(outline, laid((0, 0, 90, 150)))
    assert sheared is not None
    assert sum(r.area for r in sheared.remains) == pytest.approx(outline.area - 90 * 150)
