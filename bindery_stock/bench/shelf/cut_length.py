"""Taking a length off a roll, a sheet or a board, which stays one piece."""

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import Matter, ask
from bindery_stock.stock import Changes, Stockroom, Verb


@deed(Bearing.CONSUMES)
def cut_length(
    room: Stockroom,
    *,
    piece: str,
    length: float,
    purpose: str,
    keep: bool = False,
    reason: str = "",
) -> Changes:
    """Take a length (mm) off the upper end; with ``keep`` it goes on the shelf as a sheet.

    Raises ``Stopped`` and ``Barred`` as the gate says, ``ShapeError`` where the piece is no plain
    rectangle or is shorter, ``StockError`` where it is gone or what is reserved would be spoilt.
    """
    with room.step(Verb.CUT) as step:
        ask(room, "cut_length", Matter(piece=piece, cutting=True), reason)
        room.pieces.cut_length(piece, length, purpose, shelve=keep)
    return step.changes
