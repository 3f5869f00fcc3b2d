"""A stockroom grown ten times: every row beside nine others like it, the photographs shared."""

import sqlite3
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path

_FOLD = 10
_REFERS: Mapping[str, Mapping[str, str]] = {
    "piece": {"parent_id": "piece"},
    "colour_reading": {"piece_id": "piece"},
    "photo_mark": {"piece_id": "piece"},
    "cutting": {"piece_id": "piece"},
    "reservation": {"piece_id": "piece"},
    "confirmation": {"piece_id": "piece"},
    "adhesive_lot": {},
    "lot_part": {"lot_id": "adhesive_lot", "part_id": "adhesive_lot"},
    "lot_use": {"lot_id": "adhesive_lot", "laid_on_id": "piece"},
    "wanted": {},
    "book_set": {},
    "repair": {"set_id": "book_set"},
    "repair_photo": {"repair_id": "repair"},
    "target_colour": {"repair_id": "repair"},
    "part": {"repair_id": "repair", "reservation_id": "reservation", "cut_from": "piece"},
    "allowance": {"set_id": "book_set", "repair_id": "repair"},
    "treatment": {
        "repair_id": "repair",
        "part_id": "part",
        "piece_used": "piece",
        "lot_used": "adhesive_lot",
    },
    "ruling": {"piece_id": "piece", "lot_id": "adhesive_lot", "repair_id": "repair"},
}
"""Each table that grows, with what its columns refer to."""


def grow(database: Path) -> None:
    """Copy every row nine times over. The stockroom must be closed, and of the schema of today."""
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA defer_foreign_keys = ON")
        tops = {table: _top(connection, table, "id") for table in _REFERS}
        steps = _top(connection, "step", "number")
        with connection:
            for fold in range(1, _FOLD):
                for table, refers in _REFERS.items():
                    shifts = {column: fold * tops[of] for column, of in refers.items()}
                    _copy(connection, table, {"id": fold * tops[table], **shifts}, fold)
                _copy(connection, "step", {"number": fold * steps, "undoes": fold * steps}, fold)
            connection.execute(
                "UPDATE code_series SET last = last + ?", (_FOLD * max(tops.values()),)
            )
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


def _top(connection: sqlite3.Connection, table: str, column: str) -> int:
    (top,) = connection.execute(f"SELECT coalesce(max({column}), 0) FROM {table}").fetchone()
    return int(top)


def _copy(connection: sqlite3.Connection, table: str, shifts: Mapping[str, int], fold: int) -> None:
    """Copy the first rows of a table with their numbers shifted, under other codes and names."""
    columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
    key = next(iter(shifts))
    chosen = []
    for column in columns:
        if column in shifts:
            chosen.append(f'"{column}" + {shifts[column]}')
        elif column == "code":
            chosen.append(f"substr(code, 1, 2) || (substr(code, 3) + {fold * 1000})")
        elif (table, column) == ("repair", "name"):
            chosen.append(f"name || ' ({fold + 1})'")
        else:
            chosen.append(f'"{column}"')
    everywhere = "AND (set_id IS NOT NULL OR repair_id IS NOT NULL)" if table == "allowance" else ""
    listed = ", ".join(f'"{column}"' for column in columns)
    connection.execute(
        f"INSERT INTO {table} ({listed}) SELECT {', '.join(chosen)} FROM {table} "
        f'WHERE "{key}" <= {shifts[key] // fold} {everywhere}'
    )
