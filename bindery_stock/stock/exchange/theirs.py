"""Whether theirs may be taken in the place of ours: only where nothing that was done here is lost.

What was cut, reserved, used or treated is a deed, and its record is never replaced: theirs must
know of every deed that ours does. What only describes a thing may be replaced, and undone.
"""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from bindery_stock.stock.exchange.merge_rows import StockTold
from bindery_stock.stock.ledger.movements import Key
from bindery_stock.stock.pieces.values import PieceState

DEEDS = {
    "cutting": "it was cut here",
    "reservation": "it is reserved here, and otherwise or not at all there",
    "confirmation": "it was held against a book here, and that is not known there",
    "lot_use": "something was taken from it here that is not known there",
    "lot_part": "it was mixed here from other lots",
    "part": "its parts stand otherwise here",
    "treatment": "something was done to it here that is not known there",
}
"""What hangs on a thing and tells what was done with it, and why ours then stays."""
_SAME_THING = {"adhesive_lot": ("kind", "name"), "book_set": ("title",)}
"""By what things without an instant of their own are known to be one and the same."""
_SHAPE = ("state", "outline", "area", "parent_id")


def why_ours_stays(ours: Key, theirs: Key, here: StockTold, there: StockTold) -> str:
    """Why theirs cannot be taken in its place; empty where it can."""
    mine, other = here.plain(ours), there.plain(theirs)
    if any(mine[name] != other[name] for name in _SAME_THING.get(ours[0], ())):
        return "another thing has this code here"
    hung, hung_there = here.hung(ours), there.hung(theirs)
    for table, why in DEEDS.items():
        lost = Counter(hung.get(table, {}).values()) - Counter(hung_there.get(table, {}).values())
        if lost:
            return why
    if ours[0] == "repair" and _agreed(mine) and _agreed(mine) != _agreed(other):
        return "the owner's consent was noted here, and otherwise or not at all there"
    if ours[0] == "piece":
        return _piece_stays(ours, theirs, here, there)
    for name, why in (("finished", "it is finished here"), ("outcome", "it has ended here")):
        if mine.get(name) and not other[name]:
            return why
    return ""


def _agreed(volume: Mapping[str, Any]) -> tuple[str, ...]:
    """What was noted of the owner's consent; nothing where nothing was."""
    care = volume["care"]
    return tuple(care[name] for name in ("consent", "consented_on") if name in care)


def _piece_stays(ours: Key, theirs: Key, here: StockTold, there: StockTold) -> str:
    mine, other = here.plain(ours), there.plain(theirs)
    if all(mine[name] == other[name] for name in _SHAPE):
        return ""
    if mine["state"] != PieceState.ON_SHELF:
        return f"it is {mine['state']} here"
    if here.is_cut(ours[1]):
        return "something was cut from it here"
    if here.hung(ours).get("reservation"):
        return "it is reserved here"
    if mine["parent_id"] != other["parent_id"]:
        return "it was cut from another piece here"
    return ""
