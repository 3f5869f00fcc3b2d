"""Rows of the wanted list into plain values, and back."""

from datetime import datetime
from typing import Any

from bindery_stock.stock.lots.values import Measure
from bindery_stock.stock.stored import AnyRow, column, reads
from bindery_stock.stock.wants.values import NewWanted, ReorderPoint, Wanted


def wanted_columns(new: NewWanted) -> dict[str, Any]:
    """The columns of ``wanted`` that a ``NewWanted`` fills."""
    lightness, a, b = new.lab or (None, None, None)
    return {
        "what": new.what,
        "purpose": new.purpose,
        "width": new.width,
        "height": new.height,
        "lightness": lightness,
        "a": a,
        "b": b,
        "note": new.note,
    }


@reads("The want")
def wanted_of(row: AnyRow) -> Wanted:
    """A line of the wanted list from its row."""
    return Wanted(
        id=row.id,
        code=row.code,
        what=row.what,
        purpose=row.purpose,
        width=row.width,
        height=row.height,
        lab=None if row.lightness is None else (row.lightness, row.a, row.b),
        note=row.note,
        since=column(row, "since", datetime.fromisoformat),
        outcome=row.outcome,
    )


@reads("The reorder point of", by="kind")
def reorder_of(row: AnyRow) -> ReorderPoint:
    """A reorder point from its row."""
    return ReorderPoint(kind=row.kind, least=row.least, unit=column(row, "unit", Measure))
