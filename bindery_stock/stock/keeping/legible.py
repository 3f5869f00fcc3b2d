"""Whether stored rows can be read: each one by itself, whatever hangs on it."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from pathlib import Path
from typing import Any, cast

from sqlalchemy import ColumnDefault, Connection, select

from bindery_stock.errors import DamagedStockroom
from bindery_stock.stock.books import rows as book_rows
from bindery_stock.stock.keeping.disk import connect
from bindery_stock.stock.ledger import rows as ledger_rows
from bindery_stock.stock.ledger.movements import Row
from bindery_stock.stock.lots import rows as lot_rows
from bindery_stock.stock.photos import rows as photo_rows
from bindery_stock.stock.pieces import confirmations
from bindery_stock.stock.pieces import rows as piece_rows
from bindery_stock.stock.stored import AnyRow, damaged
from bindery_stock.stock.table_base import Base
from bindery_stock.stock.wants import rows as want_rows

_Reader = Callable[[AnyRow], object]
READERS: Mapping[str, _Reader] = {
    "photo": photo_rows.photo_of,
    "piece": lambda row: piece_rows.piece_of(
        row, colours=(), marks=(), parent=None, reserved_for=""
    ),
    "colour_reading": piece_rows.colour_of,
    "photo_mark": piece_rows.mark_of,
    "cutting": lambda row: piece_rows.cutting_of(row, offcuts=()),
    "reservation": piece_rows.reservation_of,
    "confirmation": confirmations.confirmation_of,
    "adhesive_lot": lambda row: lot_rows.lot_of(row, ()),
    "lot_use": lot_rows.use_of,
    "wanted": want_rows.wanted_of,
    "reorder_point": want_rows.reorder_of,
    "book_set": book_rows.set_of,
    "repair": lambda row: book_rows.repair_of(row, photos=(), targets=(), hours_spent=0.0),
    "repair_photo": book_rows.photo_of,
    "target_colour": book_rows.target_of,
    "part": book_rows.part_of,
    "treatment": book_rows.treatment_of,
    "step": lambda row: ledger_rows.step_of(row, frozenset()),
}
"""How a row of each table becomes a value; the tables left out hold plain words and numbers."""

_OWNERS = {"piece_id": "piece", "lot_id": "adhesive_lot", "repair_id": "repair"}
"""By whose code a row is named that has none of its own."""


class _Alone:
    """A row without what is joined to it when it is asked for: that is None here."""

    def __init__(self, columns: Row) -> None:
        self._mapping = columns

    def __getattr__(self, name: str) -> Any:
        return self._mapping.get(name)

    def __iter__(self) -> Iterator[Any]:
        return iter(self._mapping.values())


def fault_of(table: str, columns: Row) -> str:
    """What cannot be read of one row of a table, as a sentence; empty where all can."""
    reader = READERS.get(table)
    if reader is None:
        return ""
    row: Row = {}
    for column in Base.metadata.tables[table].columns:
        # What an older schema did not have takes its default, as when it is brought up to today.
        default = column.default.arg if isinstance(column.default, ColumnDefault) else None
        row[column.key] = columns.get(column.key, default)
    return _fault(reader, row)


def _fault(reader: _Reader, columns: Row) -> str:
    try:
        reader(cast("AnyRow", _Alone(columns)))
    except DamagedStockroom as fault:
        return str(fault)
    return ""


def faults(connection: Connection, *, without: frozenset[str] = frozenset()) -> Iterator[str]:
    """A sentence for each row that cannot be read; ``without`` names tables left out."""
    for name, reader in READERS.items():
        if name in without:
            continue
        table = Base.metadata.tables[name]
        asked = select(table)
        for column, owner in _OWNERS.items():
            if column in table.columns:
                whose = Base.metadata.tables[owner]
                code = whose.columns.code
                asked = asked.add_columns(
                    code.label("code"), code.label("owner_code"), code.label("repair_code")
                ).outerjoin(whose, whose.columns.id == table.columns[column])
                break
        for row in connection.execute(asked).mappings():
            fault = _fault(reader, dict(row))
            if fault:
                yield fault


def spoilt_texts(database: Path) -> Iterator[DamagedStockroom]:
    """An error for each row with a text that is no UTF-8, which no other question gets past."""
    with closing(connect(database)) as raw:
        raw.text_factory = bytes
        for name, table in Base.metadata.tables.items():
            names = [column.name for column in table.columns]
            listed = ", ".join(f'"{column}"' for column in names)
            for found in raw.execute(f"SELECT {listed} FROM {name}"):
                row = dict(zip(names, found, strict=True))
                for column, value in row.items():
                    if isinstance(value, bytes) and not _is_text(value):
                        thing = f"{name.replace('_', ' ').capitalize()} {_known(row)}"
                        yield damaged(thing, f"its {column.replace('_', ' ')}")


def _is_text(written: bytes) -> bool:
    try:
        written.decode()
    except UnicodeDecodeError:
        return False
    return True


def _known(row: Row) -> str:
    """By what a row is known to the binder: its code, else its number or key."""
    for name in ("code", "number", "sha256", "key", "letter", "id"):
        value = row.get(name)
        if isinstance(value, bytes) and _is_text(value):
            return value.decode()
        if isinstance(value, int):
            return f"number {value}"
    return ""
