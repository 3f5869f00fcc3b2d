"""Rows saved from a wreck, made to hang together again, with a ledger that begins anew."""

import re
from collections import defaultdict
from datetime import datetime
from typing import Any

from bindery_stock.stock.ledger.movements import Row, to_json
from bindery_stock.stock.ledger.values import Verb
from bindery_stock.stock.tables import TRACKED

_CODE = re.compile(r"([A-Z])-(\d+)")


def hang_together(tables: dict[str, list[Row]], lost: list[str]) -> None:
    """Drop what refers to rows that are gone, until everything that is left hangs together."""
    dropped: defaultdict[str, int] = defaultdict(int)
    changed = True
    while changed:
        changed = False
        for name, rows in tables.items():
            if name not in TRACKED:
                continue
            keys = _keys(tables)
            kept = [row for row in rows if _refers_well(TRACKED[name], row, keys)]
            dropped[name] += len(rows) - len(kept)
            changed = changed or len(kept) != len(rows)
            tables[name] = kept
    for name, count in dropped.items():
        if count:
            words = name.replace("_", " ")
            lost.append(f"{count} of {words}, because what they belong to is gone.")


def _keys(tables: dict[str, list[Row]]) -> dict[str, set[Any]]:
    """The keys of the rows there are: what another row may refer to."""
    return {
        name: {row.get("id", row.get("sha256", row.get("number"))) for row in rows}
        for name, rows in tables.items()
    }


def _refers_well(entity: Any, row: Row, keys: dict[str, set[Any]]) -> bool:
    """Whether everything a row refers to is there; a reference it can do without is let go."""
    for column in entity.__table__.columns:
        if row.get(column.key) is None:
            continue
        for reference in column.foreign_keys:
            if row[column.key] in keys.get(reference.column.table.name, set()):
                continue
            if not column.nullable:
                return False
            row[column.key] = None
    return True


def code_series(tables: dict[str, list[Row]]) -> list[Row]:
    """The last number of each letter, from what is known of it and the codes there are."""
    last = {row["letter"]: row["last"] for row in tables["code_series"]}
    for rows in tables.values():
        for row in rows:
            match = _CODE.fullmatch(str(row.get("code", "")))
            if match:
                last[match[1]] = max(last.get(match[1], 0), int(match[2]))
    return [{"letter": letter, "last": number} for letter, number in sorted(last.items())]


def one_step(tables: dict[str, list[Row]], at: datetime) -> tuple[list[Row], list[Row]]:
    """The one step that brings all of these rows in, and its movements."""
    step = {
        "number": 1,
        "at": at.isoformat(),
        "verb": Verb.CORRECTED.value,
        "name": "Salvaged from a damaged stockroom",
        "codes": "[]",
        "undoes": None,
    }
    movements: list[Row] = []
    for name in tables.keys() & TRACKED.keys():
        for row in tables[name]:
            movements.append(
                {
                    "id": len(movements) + 1,
                    "step": 1,
                    "kind": name,
                    "row_id": row["id"],
                    "before": None,
                    "after": to_json(row),
                }
            )
    return ([step], movements) if movements else ([], [])
