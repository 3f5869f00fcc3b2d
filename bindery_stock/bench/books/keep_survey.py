"""Volumes entered, put right, copied, moved on: their parts follow in the same step."""

from collections.abc import Mapping, Sequence
from typing import Any

from bindery_stock.bench.books.plan import replan
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.errors import EntryError
from bindery_stock.stock import Changes, NewRepair, RepairState, Stockroom, Verb

_BEARS_ON_PARTS = frozenset({"survey", "pattern", "tolerance", "targets", "book_set"})
"""What the parts of a volume are worked out from; a set brings its allowances."""


@deed(Bearing.KEEPS)
def survey(room: Stockroom, *, new: NewRepair) -> Changes:
    """Enter a volume with its parts planned; ``Changes.born`` has its code.

    Where a measurement is wanting for its parts it is entered without them. Raises ``EntryError``
    for what cannot be kept and for a name that is taken, ``NotFound`` for a set or photograph that
    is not there.
    """
    with room.step(Verb.SURVEYED) as step:
        replan(room, room.books.add_repair(new).born)
    return step.changes


@deed(Bearing.KEEPS)
def correct_survey(room: Stockroom, *, volume: str, fields: Mapping[str, Any]) -> Changes:
    """Put right any fields of a volume; its parts follow.

    Raises as ``survey``, and ``EntryError`` naming the measurement without which the parts that
    are planned can no longer be worked out.
    """
    with room.step(Verb.CORRECTED) as step:
        was, wanted = room.books.repair(volume), fields.get("survey")
        if wanted is not None and was.care.damages and wanted.damage != was.survey.damage:
            raise EntryError(
                "Damage", f"The damage of {was.name} is kept by its places: change it there."
            )
        room.books.correct_repair(volume, **fields)
        if _BEARS_ON_PARTS & fields.keys():
            replan(room, [volume])
    return step.changes


@deed(Bearing.KEEPS)
def copy_survey(room: Stockroom, *, volume: str, names: Sequence[str]) -> Changes:
    """Enter volumes like this one under these names, with their parts; ``born`` has their codes.

    What was photographed, read and found in a laboratory stays behind. Raises as ``survey``.
    """
    with room.step(Verb.SURVEYED) as step:
        replan(room, room.books.copy_survey(volume, names).born)
    return step.changes


@deed(Bearing.KEEPS)
def move_volume(room: Stockroom, *, volume: str, state: RepairState, note: str = "") -> Changes:
    """Take a volume to the bench or off it, say that it is done, or that it is not after all.

    What was set anew for all work while it was done comes to bear when it is taken up again.
    ``note`` is written beside it. Raises ``NotFound``.
    """
    with room.step(Verb.CORRECTED) as step:
        was_done = room.books.repair(volume).state is RepairState.DONE
        written = {"note": note} if note else {}
        room.books.correct_repair(volume, state=state, **written)
        if was_done and state is not RepairState.DONE:
            replan(room, [volume])
    return step.changes
