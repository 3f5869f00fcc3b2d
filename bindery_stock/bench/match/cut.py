"""Cutting parts from a piece, for a part of a volume or for none."""

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import ask
from bindery_stock.bench.match.part_matter import loose_matter, part_matter
from bindery_stock.bench.match.part_shade import shades_laid
from bindery_stock.shape import Ring
from bindery_stock.stock import BookPart, Changes, Cutting, PartState, Stockroom, Verb
from bindery_stock.trade import Use


@deed(Bearing.CONSUMES)
def cut(room: Stockroom, *, cutting: Cutting, use: Use | None = None, reason: str = "") -> Changes:
    """Cut parts from a piece; what is left goes back on the shelf.

    Where the cut fulfils what is reserved for a part of a volume, it is judged for that part, and
    the shade kept is that of the cloth where the part was cut.
    Raises ``Stopped`` and ``Barred`` as the gate says, ``ShapeError`` where parts and offcuts do
    not agree with the piece, ``StockError`` where it is gone or what is reserved would be spoilt.
    """
    with room.step(Verb.CUT) as step:
        fulfilled = _fulfilled(room, cutting)
        matters = [part_matter(part, cutting.code, room.rules) for part in fulfilled]
        for matter in matters or [loose_matter(cutting.code, use)]:
            ask(room, "cut", matter, reason)
        room.pieces.cut(cutting, shades=shades_laid(room, _laid(fulfilled, cutting)))
    return step.changes


def _fulfilled(room: Stockroom, cutting: Cutting) -> list[BookPart]:
    """The parts of volumes that are reserved in the piece for a purpose of this cut."""
    purposes = {part.purpose.strip() for part in cutting.parts}
    return [
        part
        for part in room.books.parts()
        if part.state is PartState.RESERVED
        and part.piece == cutting.code
        and part.purpose in purposes
    ]


def _laid(parts: list[BookPart], cutting: Cutting) -> list[tuple[BookPart, str, Ring]]:
    """Where parts of volumes lie in the piece that is cut."""
    corners = {part.purpose.strip(): part.corners for part in cutting.parts}
    return [(part, cutting.code, corners[part.purpose]) for part in parts]


@deed(Bearing.CONSUMES)
def cut_part(
    room: Stockroom,
    *,
    part: int,
    cutting: Cutting,
    reason: str = "",
) -> Changes:
    """Cut a part of a volume from a piece; what is left goes back on the shelf.

    The shade kept is that of the cloth where it is cut. Raises as ``cut``, and ``StockError`` where
    the part is cut already.
    """
    with room.step(Verb.CUT) as step:
        wanted = room.books.part(part)
        ask(room, "cut_part", part_matter(wanted, cutting.code, room.rules), reason)
        shades = shades_laid(room, [(wanted, cutting.code, cutting.corners)])
        room.books.cut_part(part, cutting, shade=shades.get(part))
    return step.changes
