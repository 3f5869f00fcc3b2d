"""Rows of the adhesives' tables into plain values, and back."""

from collections.abc import Iterable
from dataclasses import fields
from datetime import date, datetime
from typing import Any

from bindery_stock.stock import evidence
from bindery_stock.stock.lots.values import (
    AdhesiveLot,
    LotUse,
    Measure,
    NewAdhesiveLot,
    NewWanted,
    ReorderPoint,
    Wanted,
)
from bindery_stock.stock.stored import AnyRow, column, column_or_none, reads
from bindery_stock.trade import Use

LOT_DATES = ("bought", "received", "opened", "made", "expires")


def lot_columns(new: NewAdhesiveLot) -> dict[str, Any]:
    """The columns of ``adhesive_lot`` that a ``NewAdhesiveLot`` fills (all but its parts)."""
    columns = {field.name: getattr(new, field.name) for field in fields(NewAdhesiveLot)}
    del columns["made_from"]
    for name in LOT_DATES:
        day: date | None = columns[name]
        columns[name] = None if day is None else day.isoformat()
    for name in ("ph", "held", "left"):
        columns[name] = None if columns[name] is None else float(columns[name])
    columns["unit"] = None if new.unit is None else new.unit.value
    columns["properties"] = evidence.properties_text(new.properties)
    return columns


@reads("The lot")
def lot_of(row: AnyRow, parts: Iterable[AdhesiveLot]) -> AdhesiveLot:
    """A lot from its row and the lots it was mixed from."""
    columns: dict[str, Any] = dict(row._mapping)
    for name in LOT_DATES:
        columns[name] = column_or_none(row, name, date.fromisoformat)
    columns["unit"] = column_or_none(row, "unit", Measure)
    columns["properties"] = column(row, "properties", evidence.properties_of)
    mixed_from = tuple(parts)
    made_from = tuple(part.code for part in mixed_from)
    return AdhesiveLot(**columns, mixed_from=mixed_from, made_from=made_from)


@reads("A use of")
def use_of(row: AnyRow) -> LotUse:
    """A use from its row joined with the codes of its lot and of the piece it was laid on."""
    return LotUse(
        id=row.id,
        code=row.code,
        use=column(row, "use", Use),
        purpose=row.purpose,
        amount=row.amount,
        unit=column_or_none(row, "unit", Measure),
        laid_on=row.laid_on or "",
        verdict=row.verdict,
        override_reason=row.override_reason,
        at=column(row, "at", datetime.fromisoformat),
    )


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
