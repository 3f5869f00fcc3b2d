"""Adhesive lots: opened, corrected, finished."""

from dataclasses import fields, replace
from typing import Any

from sqlalchemy import select

from bindery_stock.errors import EntryError, StockError
from bindery_stock.stock import asking, entry, rows
from bindery_stock.stock.ledger import Draft
from bindery_stock.stock.shelving import next_code
from bindery_stock.stock.tables import AdhesiveLotRow
from bindery_stock.stock.values import NewAdhesiveLot

CODE_LETTER = "A"
"""The letter an adhesive's code begins with, as in ``A-0007``."""

_CORRECTABLE = {field.name for field in fields(NewAdhesiveLot)}


def open_lot(draft: Draft, new: NewAdhesiveLot) -> str:
    """Enter a lot and return its code."""
    columns = rows.lot_columns(entry.lot(new))
    code = next_code(draft, CODE_LETTER)
    draft.session.add(AdhesiveLotRow(**columns, code=code, finished=False))
    draft.born.append(code)
    draft.touches(code)
    return code


def correct_lot(draft: Draft, code: str, changes: dict[str, Any]) -> None:
    """Put right what is known of a lot. Raises ``EntryError`` where nothing would change."""
    unknown = set(changes) - _CORRECTABLE
    if unknown:
        raise TypeError(f"a lot has nothing called {', '.join(sorted(unknown))} to correct")
    was = asking.adhesive(draft.session.connection(), code)
    wanted = entry.lot(replace(was, **changes))
    if wanted == was:
        raise EntryError("Correction", f"{code} is already as you have it; nothing was changed.")
    row = _row(draft, code)
    for name, value in rows.lot_columns(wanted).items():
        setattr(row, name, value)
    draft.touches(code)


def finish_lot(draft: Draft, code: str) -> None:
    """Take a lot off the shelf."""
    if asking.adhesive(draft.session.connection(), code).finished:
        raise StockError(f"{code} is finished already.")
    _row(draft, code).finished = True
    draft.touches(code)


def _row(draft: Draft, code: str) -> AdhesiveLotRow:
    return draft.session.scalars(select(AdhesiveLotRow).where(AdhesiveLotRow.code == code)).one()
