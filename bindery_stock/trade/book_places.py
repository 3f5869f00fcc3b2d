"""The places of a book where damage is found, and how far each reaches.

Words of the places are terms of the glossary under the same names.
"""

from enum import StrEnum

from bindery_stock.errors import EntryError
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.sums import of


class BookPlace(StrEnum):
    """Where on a book."""

    UPPER_BOARD = "upper-board"
    LOWER_BOARD = "lower-board"
    SPINE = "spine"
    SPINE_HEAD = "spine-head"
    SPINE_TAIL = "spine-tail"
    UPPER_JOINT = "upper-joint"
    LOWER_JOINT = "lower-joint"
    UPPER_HINGE = "upper-hinge"
    LOWER_HINGE = "lower-hinge"
    UPPER_HEAD_CORNER = "upper-head-corner"
    UPPER_TAIL_CORNER = "upper-tail-corner"
    LOWER_HEAD_CORNER = "lower-head-corner"
    LOWER_TAIL_CORNER = "lower-tail-corner"
    UPPER_HEAD_EDGE = "upper-head-edge"
    UPPER_FORE_EDGE = "upper-fore-edge"
    UPPER_TAIL_EDGE = "upper-tail-edge"
    LOWER_HEAD_EDGE = "lower-head-edge"
    LOWER_FORE_EDGE = "lower-fore-edge"
    LOWER_TAIL_EDGE = "lower-tail-edge"
    UPPER_ENDPAPERS = "upper-endpapers"
    LOWER_ENDPAPERS = "lower-endpapers"
    HEADBAND_HEAD = "headband-head"
    HEADBAND_TAIL = "headband-tail"
    BLOCK_SPINE = "block-spine"
    LEAVES = "leaves"
    CASE = "case"
    NOT_SAID = "place-not-said"
    """Ticked in a survey that asked for no place."""


JOINTS = (BookPlace.UPPER_JOINT, BookPlace.LOWER_JOINT)
HINGES = (BookPlace.UPPER_HINGE, BookPlace.LOWER_HINGE)
BOARDS = (BookPlace.UPPER_BOARD, BookPlace.LOWER_BOARD)
ENDPAPERS = (BookPlace.UPPER_ENDPAPERS, BookPlace.LOWER_ENDPAPERS)
HEADBANDS = (BookPlace.HEADBAND_HEAD, BookPlace.HEADBAND_TAIL)
CORNERS = tuple(place for place in BookPlace if place.value.endswith("-corner"))
FORE_EDGES = (BookPlace.UPPER_FORE_EDGE, BookPlace.LOWER_FORE_EDGE)
SHORT_EDGES = tuple(
    place
    for place in BookPlace
    if place.value.endswith(("-head-edge", "-tail-edge")) and place not in FORE_EDGES
)

ON_BOARD: dict[BookPlace, BookPlace] = {
    place: BookPlace(f"{place.value.split('-')[0]}-board")
    for place in (*CORNERS, *FORE_EDGES, *SHORT_EDGES)
}
"""The board that a corner or an edge belongs to."""

_ON_THE_SPINE = (BookPlace.SPINE, BookPlace.SPINE_HEAD, BookPlace.SPINE_TAIL)


def reach(place: BookPlace, measures: Measures) -> tuple[float | None, float | None]:
    """How far the place goes along and across the spine, mm; ``None`` where nothing says.

    A corner goes half way along its board; the edge of a board counts its own length as *along*,
    whichever way it runs, and its thickness as *across*.
    """
    high, leaf = of(measures.board_height).total, of(measures.leaf_height).total
    board, page = _widths(measures)
    arc, half = of(measures.lined).total, min(high, board if board is not None else high) / 2
    thick = measures.thickness.value
    ends: tuple[tuple[tuple[BookPlace, ...], tuple[float | None, float | None]], ...] = (
        (_ON_THE_SPINE, (high, arc)),
        (JOINTS, (high, measures.joint.value)),
        (HEADBANDS, (None, arc)),
        ((BookPlace.BLOCK_SPINE,), (leaf, arc)),
        (FORE_EDGES, (high, thick)),
        (SHORT_EDGES, (board, thick)),
        (CORNERS, (half, half)),
        (BOARDS, (high, board)),
        ((*HINGES, *ENDPAPERS, BookPlace.LEAVES), (leaf, page)),
    )
    whole = (high, None if board is None else 2 * board)
    return next((far for places, far in ends if place in places), whole)


def _widths(measures: Measures) -> tuple[float | None, float | None]:
    """Of the board and of the leaf, where either was measured."""
    try:
        return of(measures.board_width).total, of(measures.leaf_width).total
    except EntryError:
        return None, None
