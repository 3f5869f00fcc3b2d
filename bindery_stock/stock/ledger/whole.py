"""A whole stockroom as plain values: every row of every table, to be carried elsewhere.

Columns that hold JSON text are handed out as what they say, and written back in the same canonical
form, so that a stockroom laid out from its own contents is equal to the last field.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from operator import itemgetter
from typing import Any

from sqlalchemy import (
    Column,
    Connection,
    MetaData,
    Select,
    Table,
    create_engine,
    literal,
    null,
    select,
    text,
    type_coerce,
    union_all,
)
from sqlalchemy.types import NullType

from bindery_stock.stock.keeping.migrate import SCHEMA, upgrade_to
from bindery_stock.stock.ledger.movements import Row, to_json
from bindery_stock.stock.stored import made_of
from bindery_stock.stock.table_base import Base
from bindery_stock.stock.tables import TRACKED

JSON_COLUMNS = frozenset(
    {
        "adhesives", "after", "also", "before", "book_patches", "care", "codes", "corners",
        "description", "discarded", "flaws", "lab_results", "outline", "patch", "piece_patches",
        "properties", "rules", "shared", "sum_lines", "survey", "to_mm", "turns", "zones",
    }
)  # fmt: skip
"""The names of the columns that hold JSON text, in whatever table."""
_KINDS = {str: "string", int: "integer", float: "number", bool: "boolean"}


@dataclass(frozen=True, slots=True)
class Whole:
    """Everything in the database of a stockroom."""

    schema: int
    tables: dict[str, list[Row]]
    sequences: dict[str, int]
    """The last row id ever given out in each table; ids are never used twice."""


def taken(connection: Connection, tables: Sequence[Table] = ()) -> Whole:
    """Everything there is, or what these tables hold; each table in the order of its keys.

    All of it is asked in one statement, and so as it stood at one instant.
    """
    tables = tables or Base.metadata.sorted_tables
    width = max(len(table.columns) for table in tables)
    found: dict[str, list[Row]] = {table.name: [] for table in tables}
    padded = (_padded(table, number, width) for number, table in enumerate(tables))
    for number, *values in connection.execute(union_all(*padded)):
        table = tables[number]
        row = zip(table.columns, values[: len(table.columns)], strict=True)
        found[table.name].append({c.name: _handed_out(c, value) for c, value in row})
    for table in tables:
        found[table.name].sort(key=itemgetter(*table.primary_key.columns.keys()))
    sequences = connection.execute(text("SELECT name, seq FROM sqlite_sequence ORDER BY name"))
    return Whole(SCHEMA, found, {row.name: row.seq for row in sequences})


def stock_alone(connection: Connection) -> Whole:
    """The stock itself: neither the ledger nor settings nor what photographs are called."""
    return taken(
        connection, [table for table in Base.metadata.sorted_tables if table.name in TRACKED]
    )


def _padded(table: Table, number: int, width: int) -> Select[*tuple[Any, ...]]:
    """The rows of a table as they lie in the file, after its number, filled up to this width."""
    values = [type_coerce(column, NullType()) for column in table.columns]
    return select(literal(number), *values, *[null()] * (width - len(values)))


def _handed_out(column: Column[Any], value: Any) -> Any:
    """A value as it lies in the file, as what it says."""
    if value is None:
        return None
    if column.type.python_type is bool:
        return bool(value)
    if column.name not in JSON_COLUMNS:
        return value
    told_value = made_of(
        value,
        json.loads,
        thing=f"A row of {column.table.name}",
        what=f"its {column.name.replace('_', ' ')}",
    )
    # Kept as text where it would not come back to the letter.
    return told_value if to_json(told_value) == value else value


@cache
def row_schema(schema: int) -> dict[str, Any]:
    """A JSON Schema (draft 2020-12) for the rows of each table of that schema number.

    Taken from the tables themselves, as the migrations make them.
    """
    there = MetaData()
    bare = create_engine("sqlite://", hide_parameters=True)
    try:
        with bare.begin() as connection:
            upgrade_to(connection, f"{schema:04d}")
            there.reflect(connection)
    finally:
        bare.dispose()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Tables of a stockroom, schema {schema}",
        "description": "Lengths are millimetres, y up the warp; colours CIELAB, D50, 2° observer; "
        "times ISO 8601 in UTC; money decimal text.",
        "$defs": {
            table.name: {
                "type": "array",
                "items": {
                    "type": "object",
                    "additionalProperties": False,
                    "required": [column.key for column in table.columns],
                    "properties": {column.key: _type_of(column) for column in table.columns},
                },
            }
            for table in there.sorted_tables
            if table.name != "alembic_version"
        },
    }


def _type_of(column: Column[Any]) -> dict[str, Any]:
    if column.key in JSON_COLUMNS:
        kinds = ["array", "object", "string"]
    else:
        kinds = [_KINDS[column.type.python_type]]
    nullable = bool(column.nullable) and not column.primary_key
    return {"type": [*kinds, "null"] if nullable else kinds}
