"""What becomes of a lot on the shelf: its facts put right, its tin opened, the lot finished."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import Matter, note
from bindery_stock.stock import Changes, Stockroom, Verb


@deed(Bearing.RECORDS)
def correct_lot(
    room: Stockroom, *, lot: str, changed: Mapping[str, Any], reason: str = ""
) -> Changes:
    """Put right what is known of a lot: any fields of ``NewAdhesiveLot``.

    Lots that turn out to have gone into it are ruled on, and never refused: they are in it.
    Raises ``EntryError`` for what cannot be, ``NotFound``.
    """
    with room.step(Verb.CORRECTED) as step:
        known = room.lots.get(lot).made_from
        for code in changed.get("made_from", ()):
            if code not in known:
                note(room, "correct_lot", Matter(lot=code), reason)
        room.lots.correct(lot, **changed)
    return step.changes


@deed(Bearing.KEEPS)
def unseal(room: Stockroom, *, lot: str, on: date | None = None) -> Changes:
    """Say that a lot was opened, today where no day is given. Raises ``EntryError``."""
    with room.step(Verb.OPENED) as step:
        room.lots.unseal(lot, on)
    return step.changes


@deed(Bearing.KEEPS)
def finish(room: Stockroom, *, lot: str, why: str = "used up") -> Changes:
    """Say that a lot is used up or thrown away. Raises ``StockError`` where it is already."""
    with room.step(Verb.USED) as step:
        room.lots.finish(lot, why)
    return step.changes
