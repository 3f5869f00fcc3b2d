"""Another stockroom's things held against this one's: the same, new, or different.

Pieces, lots, wants, sets and volumes are told apart by their codes and by the instant they came to
be. What hangs on them (readings, marks, uses, parts …) comes with them. The other stockroom is only
read; its ledger stays with it.
"""

from dataclasses import dataclass
from enum import StrEnum

from bindery_stock.errors import StockError
from bindery_stock.stock.exchange.merge_rows import HEADS, StockTold, differences
from bindery_stock.stock.exchange.theirs import why_ours_stays
from bindery_stock.stock.ledger.movements import Key, Row
from bindery_stock.stock.ledger.whole import Whole
from bindery_stock.stock.pieces.values import PieceState


class Fate(StrEnum):
    """What becomes of one thing of the other stockroom."""

    SAME = "the same here"
    NEW = "new here"
    RENAMED = "new here, under another code"
    DIFFERS = "differs"


class MergeChoice(StrEnum):
    """What to do with a thing that differs."""

    KEEP = "keep what is here"
    TAKE = "take theirs instead"
    BOTH = "take theirs as another beside it"


@dataclass(frozen=True, slots=True)
class MergeItem:
    """One thing of the other stockroom, and what becomes of it."""

    table: str
    row_id: int
    code: str
    fate: Fate
    differences: tuple[str, ...] = ()
    """Where it differs: ``place: drawer 2 here, drawer 9 there``."""
    ours_stays: str = ""
    """Why theirs cannot be taken in its place, where it cannot."""
    warning: str = ""
    """What would be wrong if what is here were kept."""


@dataclass(frozen=True, slots=True)
class MergePlan:
    """What taking the other stockroom in would do. Nothing has been changed."""

    items: tuple[MergeItem, ...]

    def of(self, fate: Fate) -> tuple[MergeItem, ...]:
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
    here, there = StockTold(ours), StockTold(theirs)
    items = []
    for table in HEADS:
        mine = {row["code"]: row for row in ours.tables[table]}
        for row in theirs.tables[table]:
            own = mine.get(row["code"])
            items.append(_item(table, row, own, here, there))
    return MergePlan(tuple(items))


def _item(table: str, row: Row, own: Row | None, here: StockTold, there: StockTold) -> MergeItem:
    code, born = str(row["code"]), HEADS[table]
    if own is None:
        return MergeItem(table, row["id"], code, Fate.NEW)
    keys: tuple[Key, Key] = ((table, own["id"]), (table, row["id"]))
    mine, other = here.of(keys[0]), there.of(keys[1])
    if mine == other:
        return MergeItem(table, row["id"], code, Fate.SAME)
    if born and own[born] != row[born]:
        return MergeItem(table, row["id"], code, Fate.RENAMED)
    return MergeItem(
        table,
        row["id"],
        code,
        Fate.DIFFERS,
        differences(mine, other),
        why_ours_stays(*keys, here, there),
        _warning(table, own, row),
    )


def _warning(table: str, own: Row, row: Row) -> str:
    """That cloth would be counted twice: whole here, and as the offcuts that come in."""
    states = (own.get("state"), row.get("state"))
    if table == "piece" and states == (PieceState.ON_SHELF, PieceState.CUT_UP):
        return "It was cut up there and its offcuts come in: kept here, it is counted twice."
    return ""
