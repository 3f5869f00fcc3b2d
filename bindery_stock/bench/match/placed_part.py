"""A part and where it lies, before a fit has been proved."""

from dataclasses import dataclass
from math import atan2, degrees, hypot

from bindery_stock import shape
from bindery_stock.matching import Lying, Part
from bindery_stock.matching import Piece as MatchedPiece
from bindery_stock.shape import PatchPlacement, Placement, Point, Ring
from bindery_stock.shape.placement import placement_at
from bindery_stock.stock import StockPiece


@dataclass(frozen=True)
class PartPlaced:
    """One part, and where it lies."""

    part: Part
    placement: Lying


def may_turn(part: Part, pattern: str, turn: float) -> bool:
    """Whether a part may lie turned by so many degrees in cloth of this grain pattern."""
    off = (abs((turn - allowed + 180.0) % 360.0 - 180.0) for allowed in part.turns_in(pattern))
    return any(each <= part.free + 1e-9 for each in off)


def matched_piece(piece: StockPiece) -> MatchedPiece:
    """What of the piece matters to a fit."""
    return MatchedPiece(piece.code, piece.outline, None, flaws=piece.flaws, pattern=piece.pattern)


def placed_at(part: Part, corner: Point, turn: float) -> Lying:
    """The part with its own first corner there, whether it fits or not."""
    if part.triangular:
        return shape.patch_at(part.outline, corner, turn)
    flat = placement_at(0.0, 0.0, part.width, part.height, turn)
    a, b, c, d = ((x + corner[0], y + corner[1]) for x, y in flat.corners)
    return Placement((a, b, c, d), turn, False, part.width, part.height)


def lying_at(corners: Ring, width: float, height: float) -> Lying:
    """A part from its corners as they were kept, its own lower-left corner first, in mm."""
    if len(corners) == 3:  # a corner patch
        return PatchPlacement(corners, 0.0, tight=False)
    a, b, c, d = corners
    turn = degrees(atan2(b[1] - a[1], b[0] - a[0])) % 360.0
    return Placement((a, b, c, d), round(turn, 6) % 360.0, False, width, height)


def apart(a: Lying, b: Lying) -> float:
    """How far in mm two lie from each other, from first corner to first corner."""
    return hypot(a.corners[0][0] - b.corners[0][0], a.corners[0][1] - b.corners[0][1])
