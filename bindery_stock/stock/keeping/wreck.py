"""Reading what can still be read of a damaged database.

Each table is read by its row numbers. Where a stretch cannot be read it is halved until the rows
that can are had and the rest is known to be lost.
"""

import sqlite3
from collections import deque
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bindery_stock.errors import DamagedStockroom
from bindery_stock.stock.keeping.legible import fault_of
from bindery_stock.stock.keeping.migrate import SCHEMA
from bindery_stock.stock.ledger.movements import Row
from bindery_stock.stock.ledger.whole import row_schema

_MOST_TRIES = 20_000
"""A page holds some tens of rows, so this many failed tries allow for hundreds of lost pages."""
_FURTHEST = 1 << 24
"""No table has row numbers beyond this; it bounds the search where even the largest is lost."""
_KINDS: dict[str, type | tuple[type, ...]] = {
    "string": str,
    "integer": int,
    "number": (int, float),
    "boolean": int,
    "array": str,
    "object": str,
    "null": type(None),
}


@dataclass(slots=True)
class Wreck:
    """The rows that could be read, as the columns of today's tables where they were known."""

    schema: int
    tables: dict[str, list[Row]] = field(default_factory=dict)
    hurt: set[str] = field(default_factory=set)
    """The tables of which something could not be read."""
    sequences: dict[str, int] = field(default_factory=dict)


def read_wreck(database: Path) -> Wreck:
    """Everything in the database that can be read; the file is not touched.

    Raises ``DamagedStockroom`` where not even its list of tables can be read.
    """
    uri = f"{database.resolve().as_uri()}?mode=ro"
    try:
        with closing(sqlite3.connect(uri, uri=True, isolation_level=None)) as raw:
            raw.row_factory = sqlite3.Row
            raw.text_factory = _text
            (schema,) = raw.execute("PRAGMA user_version").fetchone()
            there = {
                row["name"]
                for row in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            }
            if not 1 <= schema <= SCHEMA:
                raise DamagedStockroom(_hopeless(database))
            wreck = Wreck(schema)
            for name, form in row_schema(schema)["$defs"].items():
                columns = form["items"]["properties"]
                if name not in there:
                    wreck.hurt.add(name)
                    wreck.tables[name] = []
                    continue
                wreck.tables[name] = list(_readable(raw, name, columns, wreck))
            wreck.sequences = _sequences(raw)
    except sqlite3.DatabaseError as fault:
        raise DamagedStockroom(_hopeless(database)) from fault
    return wreck


def _hopeless(database: Path) -> str:
    return (
        f"{database.name} cannot be salvaged: its list of tables is gone. Go back to the newest "
        "copy among the backups instead."
    )


def _text(raw: bytes) -> str:
    return raw.decode("utf-8", errors="surrogateescape")


def _readable(
    raw: sqlite3.Connection, table: str, columns: dict[str, Any], wreck: Wreck
) -> Iterator[Row]:
    for row in _between(raw, table, 0, _last(raw, table), wreck):
        found = dict(row)
        if _plausible(found, columns) and not fault_of(table, found):
            yield {name: found[name] for name in columns}
        else:
            wreck.hurt.add(table)


def _last(raw: sqlite3.Connection, table: str) -> int:
    try:
        return int(raw.execute(f"SELECT max(rowid) FROM {table}").fetchone()[0] or 0)
    except sqlite3.DatabaseError:
        return int(_sequences(raw).get(table, 0)) or _FURTHEST


def _between(
    raw: sqlite3.Connection, table: str, low: int, high: int, wreck: Wreck
) -> list[sqlite3.Row]:
    """The rows with these numbers, in their order; the widest stretches are tried first."""
    found: list[sqlite3.Row] = []
    stretches, tries = deque([(low, high)]), 0
    while stretches and tries < _MOST_TRIES:
        first, last = stretches.popleft()
        try:
            found += raw.execute(
                f"SELECT *, rowid AS row_number_ FROM {table} WHERE rowid BETWEEN ? AND ?",
                (first, last),
            ).fetchall()
        except sqlite3.DatabaseError:
            tries += 1
            wreck.hurt.add(table)
            if first < last:
                middle = (first + last) // 2
                stretches += [(first, middle), (middle + 1, last)]
    return sorted(found, key=lambda row: int(row["row_number_"]))


def _sequences(raw: sqlite3.Connection) -> dict[str, int]:
    try:
        return {
            row["name"]: row["seq"]
            for row in raw.execute("SELECT name, seq FROM sqlite_sequence")
            if isinstance(row["name"], str) and isinstance(row["seq"], int)
        }
    except sqlite3.DatabaseError:
        return {}


def _plausible(row: Row, columns: dict[str, Any]) -> bool:
    """Whether each value is of the kind its column holds, and can be written again."""
    for name, form in columns.items():
        if name not in row:
            return False
        value = row[name]
        if not any(isinstance(value, _KINDS[kind]) for kind in form["type"]):
            return False
        if isinstance(value, str) and not value.isascii():
            try:
                value.encode()
            except UnicodeEncodeError:
                return False
    return True
