"""Rows of the adhesives' tables into plain values, and back."""

from collections.abc import Iterable
from dataclasses import fields
from datetime import date, datetime
from typing import Any

from bindery_stock.stock.evidence import rows as evidence
from bindery_stock.stock.lots.values import AdhesiveLot, LotUse, Measure, NewAdhesiveLot
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
