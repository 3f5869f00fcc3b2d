"""Keeping a part of a piece for a purpose, and giving it up."""

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import ask
from bindery_stock.bench.match.part_matter import loose_matter
from bindery_stock.shape import Ring
from bindery_stock.stock import Changes, Stockroom, Verb
from bindery_stock.trade import Use


@deed(Bearing.PLANS)
def reserve(
    room: Stockroom,
    *,
    piece: str,
    purpose: str,
    width: float,
    height: float,
    corners: Ring = (),
    use: Use | None = None,
    reason: str = "",
) -> Changes:
    """Keep a part of a piece (mm) for a purpose that is no part of a volume.

    Raises ``Stopped`` and ``Barred`` as the gate says, ``StockError`` where the piece is gone, is
    reserved for this already, or the part leaves it or lies on another that is reserved.
    """
    with room.step(Verb.RESERVED) as step:
        ask(room, "reserve", loose_matter(piece, use), reason)
        room.pieces.reserve(piece, purpose, width=width, height=height, corners=corners)
    return step.changes


@deed(Bearing.KEEPS)
def release(room: Stockroom, *, piece: str, purpose: str | None = None) -> Changes:
    """Give up what a piece is reserved for: one purpose, or all. Raises ``NotFound``."""
    with room.step(Verb.RELEASED) as step:
        room.pieces.release(piece, purpose)
    return step.changes
