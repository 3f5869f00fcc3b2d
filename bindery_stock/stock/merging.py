"""Another stockroom's things taken into this one: what is the same, what is new, what differs.

Pieces, lots, wants, sets and volumes are told apart by their codes and by the instant they came to
be. What hangs on them (readings, marks, uses, parts …) comes with them, and what they refer to is
found again here. The other stockroom is only read; its ledger stays with it.
"""

import json
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from bindery_stock.errors import StockError
from bindery_stock.stock.ledger import Draft, Key, Row, to_json
from bindery_stock.stock.shelving import next_code
from bindery_stock.stock.table_base import Base
from bindery_stock.stock.tables import TRACKED, CodeSeriesRow
from bindery_stock.stock.whole import JSON_COLUMNS, Whole

HEADS = {
    "piece": "shelved_at",
    "adhesive_lot": "",
    "wanted": "since",
    "book_set": "",
    "repair": "begun",
}
"""The things with codes, and the column that tells when each came to be."""


class Fate(StrEnum):
    """What becomes of one thing of the other stockroom."""

    SAME = "the same here"
    NEW = "new here"
    RENAMED = "new here, under another code"
    DIFFERS = "differs"


class Choice(StrEnum):
    """What to do with a thing that differs."""

    KEEP = "keep what is here"
    BOTH = "take in theirs as another"


@dataclass(frozen=True, slots=True)
class Item:
    """One thing of the other stockroom, and what becomes of it."""

    table: str
    row_id: int
    code: str
    fate: Fate
    differences: tuple[str, ...] = ()
    """Where it differs: ``place: drawer 2 here, drawer 9 there``."""


@dataclass(frozen=True, slots=True)
class MergePlan:
    """What taking the other stockroom in would do. Nothing has been changed."""

    items: tuple[Item, ...]

    def of(self, fate: Fate) -> tuple[Item, ...]:
        """The things with this fate."""
        return tuple(item for item in self.items if item.fate is fate)

    @property
    def words(self) -> str:
        """``12 new here, 3 of them under another code; 40 the same; 2 differ.``"""
        new, renamed = len(self.of(Fate.NEW)), len(self.of(Fate.RENAMED))
        told = f"{new + renamed} new here"
        if renamed:
            told += f", {renamed} of them under another code"
        return f"{told}; {len(self.of(Fate.SAME))} the same; {len(self.of(Fate.DIFFERS))} differ."


def compare(ours: Whole, theirs: Whole) -> MergePlan:
    """Look at everything with a code in the other stockroom, whose schema must be this one's."""
    if ours.schema != theirs.schema:
        raise StockError("The other stockroom has another schema. Open it for writing once first.")
    here, there = _Told(ours), _Told(theirs)
    items = []
    for table, born in HEADS.items():
        mine = {row["code"]: row for row in ours.tables[table]}
        for row in theirs.tables[table]:
            own = mine.get(row["code"])
            items.append(_fate(table, born, row, own, here, there))
    return MergePlan(tuple(items))


def _fate(table: str, born: str, row: Row, own: Row | None, here: "_Told", there: "_Told") -> Item:
    code = str(row["code"])
    if own is None:
        return Item(table, row["id"], code, Fate.NEW)
    mine, other = here.of((table, own["id"])), there.of((table, row["id"]))
    if mine == other:
        return Item(table, row["id"], code, Fate.SAME)
    if born and own[born] != row[born]:
        return Item(table, row["id"], code, Fate.RENAMED)
    differences = tuple(
        f"{name.replace('_', ' ')}: {_short(mine.get(name))} here, {_short(other.get(name))} there"
        for name in sorted(mine.keys() | other.keys())
        if mine.get(name) != other.get(name)
    )
    return Item(table, row["id"], code, Fate.DIFFERS, differences)


def _short(value: object) -> str:
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return (text if len(text) <= 60 else f"{text[:57]} …") or "nothing"


class _Told:
    """Things told without row numbers, so that two stockrooms can be compared."""

    def __init__(self, whole: Whole) -> None:
        self._rows = {
            (name, row["id"]): row for name in TRACKED for row in whole.tables.get(name, ())
        }
        self._hung: defaultdict[Key, list[Key]] = defaultdict(list)
        for (name, row_id), row in self._rows.items():
            owner = owner_of(name, row)
            if owner is not None:
                self._hung[owner].append((name, row_id))

    def of(self, key: Key) -> dict[str, Any]:
        """A thing with all that hangs on it; references told by code."""
        told = self._plain(key)
        hung: defaultdict[str, list[str]] = defaultdict(list)
        for name, row_id in self._hung[key]:
            hung[name].append(to_json(self._plain((name, row_id))))
        return told | {name: sorted(rows) for name, rows in hung.items()}

    def _plain(self, key: Key) -> dict[str, Any]:
        told: dict[str, Any] = {}
        for name, value in self._rows[key].items():
            target = reference(key[0], name)
            if name == "id":
                continue
            if target is not None and target != "photo" and value is not None:
                other = self._rows.get((target, value), {})
                told[name] = other.get("code") or other.get("purpose") or other.get("name") or "?"
            else:
                told[name] = value
        return told


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


def merge(
    draft: Draft,
    ours: Whole,
    theirs: Whole,
    choices: Mapping[tuple[str, str], Choice],
) -> int:
    """Take the other stockroom's things in; returns how many with a code came new.

    ``choices`` says, by table and code, what becomes of what differs; what is not named is kept as
    it is here.
    """
    taken_in = _TakingIn(draft, ours, theirs)
    plan = compare(ours, theirs)
    # Codes that are free here are kept before others are given out.
    for item in sorted(plan.items, key=lambda item: item.fate is not Fate.NEW):
        wanted = choices.get((item.table, item.code), Choice.KEEP)
        new = item.fate in (Fate.NEW, Fate.RENAMED) or (
            item.fate is Fate.DIFFERS and wanted is Choice.BOTH
        )
        taken_in.decide(item, new=new)
    count = taken_in.enter()
    if not count:
        raise StockError("Everything there is here already. Nothing was changed.")
    return count


class _TakingIn:
    """Gives the rows of the other stockroom numbers of this one, and enters them."""

    def __init__(self, draft: Draft, ours: Whole, theirs: Whole) -> None:
        self._draft = draft
        self._theirs = theirs
        self._codes = {
            (table, row["code"]): row["id"] for table in HEADS for row in ours.tables[table]
        }
        self._names = {row["name"] for row in ours.tables["repair"]}
        self._numbers: dict[Key, int] = {}
        """For each row of theirs that is here or comes: its number here."""
        self._new: set[Key] = set()
        self._next = {
            name: max([ours.sequences.get(name, 0), *(row["id"] for row in ours.tables[name])])
            for name in TRACKED
        }
        self._new_codes: dict[Key, str] = {}

    def decide(self, item: Item, *, new: bool) -> None:
        """Take a thing in as new, or take the one here for it."""
        key = (item.table, item.row_id)
        if not new:
            self._numbers[key] = self._codes[item.table, item.code]
            return
        self._number(key)
        taken = (item.table, item.code) in self._codes
        letter = item.code.partition("-")[0]
        code = next_code(self._draft, letter) if taken else item.code
        if not taken:
            _reserve_number(self._draft, letter, int(item.code.partition("-")[2]))
        self._new_codes[key] = code
        self._draft.born.append(code)
        self._draft.touches(code)

    def _number(self, key: Key) -> None:
        self._next[key[0]] += 1
        self._numbers[key] = self._next[key[0]]
        self._new.add(key)

    def enter(self) -> int:
        """Enter what is new with all that hangs on it.

        What hangs on nothing, such as reorder points, is a setting of this stockroom and stays.
        """
        rows = list(self._rows())
        for name, row in rows:
            if (name, row["id"]) not in self._numbers:
                owner = owner_of(name, row)
                if owner is not None and owner in self._new:
                    self._number((name, row["id"]))
        for table in Base.metadata.sorted_tables:
            for name, row in rows:
                if name == table.name and (name, row["id"]) in self._new:
                    self._draft.session.add(TRACKED[name](**self._translated(name, row)))
            self._draft.session.flush()
        return len(self._new_codes)

    def _rows(self) -> Iterator[tuple[str, Row]]:
        for name in TRACKED:
            for row in self._theirs.tables.get(name, ()):
                yield name, row

    def _translated(self, name: str, row: Row) -> Row:
        key = (name, row["id"])
        made: Row = {}
        for column, value in row.items():
            target = reference(name, column)
            if target is not None and target != "photo" and value is not None:
                made[column] = self._numbers.get((target, value))
            elif column in JSON_COLUMNS and value is not None and not isinstance(value, str):
                made[column] = to_json(value)
            else:
                made[column] = value
        made["id"] = self._numbers[key]
        if key in self._new_codes:
            made["code"] = self._new_codes[key]
        if name == "repair":
            made["name"] = self._free_name(str(row["name"]))
        return made

    def _free_name(self, name: str) -> str:
        free, count = name, 1
        while free in self._names:
            count += 1
            free = f"{name} ({count})"
        self._names.add(free)
        return free


def _reserve_number(draft: Draft, letter: str, number: int) -> None:
    series = draft.session.get(CodeSeriesRow, letter)
    if series is None:
        draft.session.add(CodeSeriesRow(letter=letter, last=number))
    elif series.last < number:
        series.last = number
    draft.session.flush()
