"""Saying where pieces lie now, one or many."""

from collections.abc import Sequence

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Changes, Stockroom, Verb


@deed(Bearing.KEEPS)
def move(room: Stockroom, *, pieces: Sequence[str], place: str) -> Changes:
    """Move ``pieces``, by code, to ``place``. Raises ``EntryError`` and ``NotFound``."""
    with room.step(Verb.MOVED) as step:
        room.pieces.move(pieces, place)
    return step.changes
