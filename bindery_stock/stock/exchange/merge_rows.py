"""The things of two stockrooms told so that they can be compared: without row numbers, by code."""

import json
from collections import defaultdict
from typing import Any

from bindery_stock.stock.ledger.movements import Key, Row, to_json
from bindery_stock.stock.ledger.whole import Whole
from bindery_stock.stock.tables import TRACKED

HEADS = {
    "piece": "shelved_at",
    "adhesive_lot": "",
    "wanted": "since",
    "book_set": "",
    "repair": "begun",
}
"""The things with codes, and the column that tells when each came to be."""


class StockTold:
    """The rows of one stockroom, each thing with what hangs on it; references told by code."""

    def __init__(self, whole: Whole) -> None:
        """Look through every row of the stock itself."""
        self.rows: dict[Key, Row] = {
            (name, row["id"]): row for name in TRACKED for row in whole.tables.get(name, ())
        }
        self._hung: defaultdict[Key, list[Key]] = defaultdict(list)
        self._cut_from: set[int] = set()
        """Pieces from which another piece or a part was cut."""
        for key, row in self.rows.items():
            owner = owner_of(key[0], row)
            if owner is not None:
                self._hung[owner].append(key)
            column = {"piece": "parent_id", "part": "cut_from"}.get(key[0], "")
            if row.get(column) is not None:
                self._cut_from.add(row[column])

    def plain(self, key: Key) -> dict[str, Any]:
        """A row by itself."""
        told: dict[str, Any] = {}
        for name, value in self.rows[key].items():
            target = reference(key[0], name)
            if name == "id":
                continue
            if target is not None and target != "photo" and value is not None:
                other = self.rows.get((target, value), {})
                told[name] = other.get("code") or other.get("purpose") or other.get("name") or "?"
            else:
                told[name] = value
        return told

    def hung(self, key: Key) -> dict[str, dict[Key, str]]:
        """What hangs on a thing, by table: each row as canonical JSON."""
        hung: defaultdict[str, dict[Key, str]] = defaultdict(dict)
        for one in self._hung[key]:
            hung[one[0]][one] = to_json(self.plain(one))
        return hung

    def of(self, key: Key) -> dict[str, Any]:
        """A thing with all that hangs on it."""
        return self.plain(key) | {
            name: sorted(rows.values()) for name, rows in self.hung(key).items()
        }

    def is_cut(self, piece_id: int) -> bool:
        """Whether something was cut from a piece."""
        return piece_id in self._cut_from


def reference(table: str, column: str) -> str | None:
    """The table a column refers to, or None."""
    for foreign in TRACKED[table].__table__.columns[column].foreign_keys:
        return str(foreign.column.table.name)
    return None


def owner_of(table: str, row: Row) -> Key | None:
    """The thing with a code on which a row hangs; None for things with codes themselves."""
    if table in HEADS:
        return None
    for column, target in (
        ("piece_id", "piece"), ("repair_id", "repair"), ("lot_id", "adhesive_lot"),
        ("set_id", "book_set"),
    ):  # fmt: skip
        if row.get(column) is not None:
            return (target, row[column])
    return None


def differences(mine: dict[str, Any], other: dict[str, Any]) -> tuple[str, ...]:
    """Where two things differ: ``place: drawer 9 here, nothing there``."""
    return tuple(
        f"{name.replace('_', ' ')}: {_between(mine.get(name), other.get(name))}"
        for name in sorted(mine.keys() | other.keys())
        if mine.get(name) != other.get(name)
    )


def _between(here: object, there: object) -> str:
    if not isinstance(here, list | dict) and not isinstance(there, list | dict):
        return f"{_short(here)} here, {_short(there)} there"
    some, others = (len(one) if isinstance(one, list | dict) else 0 for one in (here, there))
    return "not the same here and there" if some == others else f"{some} here, {others} there"


def _short(value: object) -> str:
    if value is None:
        return "nothing"
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return (text if len(text) <= 60 else f"{text[:57]} …") or "nothing"
