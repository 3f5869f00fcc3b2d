"""Taking a step back and doing it again, from what the ledger holds."""

from collections import defaultdict
from collections.abc import Callable

from sqlalchemy import select
from sqlalchemy.orm import Session

from bindery_stock.errors import UndoRefused
from bindery_stock.stock.ledger import questions as ledger_questions
from bindery_stock.stock.ledger.movements import Draft, Key, Moved, movements_of, put
from bindery_stock.stock.ledger.standing import Standing
from bindery_stock.stock.ledger.values import Step
from bindery_stock.stock.table_base import TrackedBase
from bindery_stock.stock.tables import TRACKED

_NAMED = 5
"""So many of the resting steps are named, the latest, since those are undone first."""
_AT_ONCE = 500
"""So many rows are read at once; SQLite allows some thousands of values in a statement."""
Tell = Callable[[float, str], None]
Check = Callable[[], None]


def undo(draft: Draft, number: int | None, tell: Tell, check: Check) -> Step:
    """Take back a step that stands, the latest where none is named. Returns that step.

    ``tell`` hears how far it is, and ``check`` may raise to stop. Raises ``UndoRefused`` where
    there is nothing to take back, or later steps rest on it.
    """
    connection = draft.session.connection()
    standing = ledger_questions.standing(connection, Standing())
    stands = standing.undo
    if not stands:
        raise UndoRefused("There is nothing to undo.")
    number = stands[-1] if number is None else number
    target = ledger_questions.step(connection, standing, number)
    if number not in stands:
        raise UndoRefused(f"“{target.name}” has been undone already, or is itself an undo.")
    movements = movements_of(draft.session, [number])
    later = stands[stands.index(number) + 1 :]
    resting = _resting(draft.session, movements, later)
    if resting:
        names = "; ".join(
            f"“{ledger_questions.step(connection, standing, n).name}”" for n in resting[-_NAMED:]
        )
        if len(resting) > _NAMED:
            names += f" and {len(resting) - _NAMED} before them"
        raise UndoRefused(
            f"“{target.name}” cannot be undone while later steps rest on it: {names}. "
            "Undo those first."
        )
    movements.reverse()
    _put_all(draft, target, movements, (tell, check), back=True)
    _about(draft, target)
    return target


def redo(draft: Draft, tell: Tell, check: Check) -> Step:
    """Do again what was taken back last, as ``undo``. Returns that step.

    Raises ``UndoRefused`` where there is nothing to do again.
    """
    connection = draft.session.connection()
    standing = ledger_questions.standing(connection, Standing())
    if not standing.redo:
        raise UndoRefused("There is nothing to redo.")
    target = ledger_questions.step(connection, standing, standing.redo[-1])
    movements = movements_of(draft.session, [target.number])
    _put_all(draft, target, movements, (tell, check), back=False)
    _about(draft, target)
    return target


def _put_all(
    draft: Draft,
    target: Step,
    movements: list[tuple[int, Key, Moved]],
    heard: tuple[Tell, Check],
    *,
    back: bool,
) -> None:
    """Put the rows as they were before the step, or after it, in batches."""
    tell, check = heard
    for start in range(0, len(movements), _AT_ONCE):
        check()
        tell(start / len(movements), f"Row {start} of {len(movements)}")
        some = movements[start : start + _AT_ONCE]
        held = _at_hand(draft.session, some)
        for _, key, moved in some:
            _put(draft.session, target, (key, held.get(key)), there=moved, back=back)
        draft.session.flush()
        draft.session.expunge_all()
    check()


def _at_hand(session: Session, movements: list[tuple[int, Key, Moved]]) -> dict[Key, TrackedBase]:
    """The rows that were moved, read many at a time; those that are gone are not in it."""
    wanted: defaultdict[str, list[int]] = defaultdict(list)
    for _, (kind, row_id), _moved in movements:
        wanted[kind].append(row_id)
    held: dict[Key, TrackedBase] = {}
    for kind, ids in wanted.items():
        entity = TRACKED[kind]
        for row in session.scalars(select(entity).where(entity.id.in_(ids))):
            held[kind, row.id] = row
    return held


def _about(draft: Draft, target: Step) -> None:
    draft.undoes = target.number
    draft.touches(*target.codes)


def _put(
    session: Session,
    target: Step,
    row: tuple[Key, TrackedBase | None],
    *,
    there: Moved,
    back: bool,
) -> None:
    now, wanted = (there.after, there.before) if back else (there.before, there.after)
    if not put(session, *row, now, wanted):
        raise UndoRefused(
            f"“{target.name}” cannot be {'undone' if back else 'done again'}: what it touched is "
            "no longer as it was then. Have the stockroom checked."
        )


def _resting(
    session: Session, movements: list[tuple[int, Key, Moved]], later: tuple[int, ...]
) -> list[int]:
    """Numbers of the later steps that touch the same rows, or rows that refer to those born."""
    keys = {key for _, key, _ in movements}
    born = {key for _, key, moved in movements if moved.before is None}
    return sorted(
        {
            step
            for step, key, moved in movements_of(session, later)
            if key in keys or not born.isdisjoint(_referred(key[0], moved))
        }
    )


def _referred(kind: str, moved: Moved) -> set[Key]:
    """The rows to which a row refers, before or after."""
    keys: set[Key] = set()
    for column in TRACKED[kind].__table__.columns:
        for reference in column.foreign_keys:
            for row in (moved.before, moved.after):
                if row is not None and row[column.key] is not None:
                    keys.add((reference.column.table.name, row[column.key]))
    return keys
