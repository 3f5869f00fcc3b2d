"""The parts of volumes, worked out again whenever survey, colours or allowances change.

``replan`` stands within the step of whatever changed them, so that one undo gives all back.
"""

from collections.abc import Collection

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.part_list import parts_of
from bindery_stock.bench.books.progress import IN_HAND
from bindery_stock.bench.books.split_supply import splits_kept, with_split
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.errors import BinderyError, EntryError, Unchanged
from bindery_stock.stock import (
    BookPart,
    Changes,
    NewPart,
    Repair,
    RepairState,
    Stockroom,
    Verb,
)
from bindery_stock.trade import Allowances


def replan(room: Stockroom, volumes: Collection[str]) -> None:
    """Make the parts of volumes what survey and allowances now come to, within the open step.

    What is cut or fitted stays, what is cut from two cloths stays so, and what is reserved keeps
    its cloth where its size stays. A volume whose survey gives no parts yet is left without them;
    raises ``EntryError`` where parts are planned that can no longer be worked out. Takes a fixed
    number of statements, however many volumes there are.
    """
    there: dict[str, list[BookPart]] = {code: [] for code in volumes}
    if len(there) == 1:
        (code,) = there
        repairs = [room.books.repair(code)]
        there[code] = room.books.parts(volume=code)
    else:
        repairs = [repair for repair in room.books.repairs() if repair.code in there]
        for part in room.books.parts():
            if part.repair in there:
                there[part.repair].append(part)
    every = room.books.every_override()
    wanted = {}
    for repair in repairs:
        allowances = allowances_for(every.of(repair.code, repair.book_set), room.rules)
        found = _worked_out(room, repair, there[repair.code], allowances)
        if found is not None:
            wanted[repair.code] = found
    if wanted:
        room.books.plan_volumes(wanted)


def _worked_out(
    room: Stockroom, repair: Repair, there: list[BookPart], allowances: Allowances
) -> list[NewPart] | None:
    """The parts of one volume; None where its survey gives none yet."""
    try:
        parts = parts_of(repair, allowances, room.rules)
    except BinderyError as error:
        if all(part.state in IN_HAND for part in there):
            return None
        raise EntryError(error.field, f"{repair.name}: {error}") from error
    return splits_kept(parts, there)


def at_work(room: Stockroom, *, book_set: str | None = None) -> list[str]:
    """The codes of the volumes that are not done, of one set or all."""
    return [
        repair.code
        for repair in room.books.repairs(book_set=book_set)
        if repair.state is not RepairState.DONE
    ]


@deed(Bearing.KEEPS)
def plan(room: Stockroom, *, volume: str) -> Changes:
    """Work the parts of a volume out again.

    Raises ``EntryError`` where its parts can no longer be worked out, ``NotFound``.
    """
    with room.step(Verb.PLANNED) as step:
        step.name = f"Planned the parts of {room.books.repair(volume).name}"
        replan(room, [volume])
    return step.changes


@deed(Bearing.KEEPS)
def split_part(room: Stockroom, *, part: int) -> Changes:
    """Cut a part from two cloths: bands of the right one on plain cotton.

    Nothing is changed where that would save too little. Raises ``NotFound``, and ``EntryError``
    where a measurement is wanting.
    """
    with room.step(Verb.PLANNED) as step:
        one = room.books.part(part)
        repair = room.books.repair(one.repair)
        step.name = f"Planned {one.purpose} from two cloths"
        allowances = allowances_for(room.books.overrides(volume=repair.code), room.rules)
        parts = splits_kept(
            parts_of(repair, allowances, room.rules), room.books.parts(volume=repair.code)
        )
        cut_in_two = with_split(parts, one.key)
        if len(cut_in_two) == len(parts):
            raise Unchanged(
                f"{one.purpose.capitalize()}: two cloths would save too little to be worth the "
                "joins; nothing was changed."
            )
        room.books.plan_volumes({repair.code: cut_in_two})
    return step.changes
