"""Putting right what is known of a piece: its facts, its colours, its colour family."""

from collections.abc import Mapping
from typing import Any

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Changes, Stockroom, Verb


@deed(Bearing.KEEPS)
def correct(room: Stockroom, *, piece: str, fields: Mapping[str, Any]) -> Changes:
    """Put ``fields`` of a piece right, by their names in ``NewPiece``.

    Raises ``EntryError`` for what cannot be kept, ``NotFound``, and ``StockError`` where the
    outline of a piece that is reserved or gone would change.
    """
    with room.step(Verb.CORRECTED) as step:
        room.pieces.correct(piece, **fields)
    return step.changes
