"""Sets of volumes in uniform binding: entered, and put right."""

from collections.abc import Mapping
from typing import Any

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Changes, NewBookSet, Stockroom, Verb


@deed(Bearing.KEEPS)
def enter_set(room: Stockroom, *, new: NewBookSet) -> Changes:
    """Enter a set; ``Changes.born`` has its code. Raises ``EntryError`` for what cannot be kept."""
    with room.step(Verb.SURVEYED) as step:
        room.books.add_set(new)
    return step.changes


@deed(Bearing.KEEPS)
def correct_set(room: Stockroom, *, book_set: str, fields: Mapping[str, Any]) -> Changes:
    """Put right any fields of a set. What it hands on is handed to volumes entered from now on.

    Raises ``EntryError`` for what cannot be kept, ``NotFound``.
    """
    with room.step(Verb.CORRECTED) as step:
        room.books.correct_set(book_set, **fields)
    return step.changes
