"""Rows of the ledger into plain values."""

from datetime import datetime

from bindery_stock.stock.ledger.values import Step, Verb
from bindery_stock.stock.pieces.rows import (
    _words_of,
)
from bindery_stock.stock.stored import AnyRow, column, reads


@reads("Of the ledger, step", by="number")
def step_of(row: AnyRow, gone: frozenset[int]) -> Step:
    """A step from its row; ``gone`` holds the numbers of steps taken back."""
    return Step(
        number=row.number,
        at=column(row, "at", datetime.fromisoformat),
        verb=column(row, "verb", Verb),
        name=row.name,
        codes=column(row, "codes", _words_of),
        undoes=row.undoes,
        standing=row.number not in gone,
    )
