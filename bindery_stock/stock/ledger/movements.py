"""The ledger: one step for each thing the binder did, one movement for each row it changed.

No verb writes the ledger itself. A ``Draft`` watches its session, and whatever the session sends
to a tracked table becomes a movement with the whole row before and after. The ledger alone thus
adds up to the stock (``balance``), and any step can be put back from it.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import event, func, insert, inspect, select
from sqlalchemy.orm import Session, UOWTransaction

from bindery_stock.errors import Unchanged
from bindery_stock.stock.ledger.tables import MovementRow, StepRow
from bindery_stock.stock.ledger.values import Changes, Step, Verb
from bindery_stock.stock.stored import made_of
from bindery_stock.stock.table_base import TrackedBase
from bindery_stock.stock.tables import TRACKED

Row = dict[str, Any]
Key = tuple[str, int]
"""Table name and row id."""

_OWNERS = {"piece_id": "piece", "repair_id": "repair"}
"""What hangs on a piece or a repair touches it too."""


@dataclass(slots=True)
class Moved:
    """One row before and after; None where it was not there."""

    before: Row | None
    after: Row | None


def to_json(value: object) -> str:
    """Canonical JSON; a number that is not finite raises ``ValueError``."""
    return json.dumps(
        value, allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True
    )


def _row(entity: TrackedBase) -> Row:
    return {column.key: getattr(entity, column.key) for column in entity.__table__.columns}


def _row_before(entity: TrackedBase) -> Row:
    before = _row(entity)
    for attribute in inspect(entity).attrs:
        if attribute.history.deleted:
            before[attribute.key] = attribute.history.deleted[0]
    return before


def _in_order(entity: object) -> Key:
    return (entity.__tablename__, entity.id) if isinstance(entity, TrackedBase) else ("", 0)


class Draft:
    """A step in the writing: watches one session and enters what it sends to tracked tables."""

    def __init__(self, session: Session, verb: Verb, at: datetime) -> None:
        """Begin to watch ``session``. ``at`` is the instant of the step, in UTC."""
        self.session = session
        self.verb = verb
        self.at = at
        self.name = ""
        self.undoes: int | None = None
        self.born: list[str] = []
        self._moved: dict[Key, Moved] = {}
        self._codes: dict[str, None] = {}
        event.listen(session, "after_flush", self._watch)

    def _watch(self, session: Session, _context: UOWTransaction) -> None:
        for entity in session.new:
            self._enter(entity, before=False)
        for entity in sorted(session.dirty, key=_in_order):  # else by their places in memory
            if session.is_modified(entity):
                self._enter(entity)
        for entity in session.deleted:
            self._enter(entity, after=False)

    def _enter(self, entity: object, *, before: bool = True, after: bool = True) -> None:
        if not isinstance(entity, TrackedBase):
            return
        key = (entity.__tablename__, entity.id)
        row_before = _row_before(entity) if before else None
        row_after = _row(entity) if after else None
        if key in self._moved:
            self._moved[key].after = row_after
        else:
            self._moved[key] = Moved(row_before, row_after)

    def touches(self, *codes: str) -> None:
        """Name the pieces and lots the step is about, in the order to show them."""
        self._codes.update(dict.fromkeys(codes))

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes named so far."""
        return tuple(self._codes)

    def finish(self) -> Changes:
        """Send what is waiting and enter the step. Raises ``Unchanged`` if nothing changed."""
        self.session.flush()
        moved = {key: m for key, m in self._moved.items() if m.before != m.after}
        if not moved:
            raise Unchanged(f"{self.name}: all is so already; nothing was changed.")
        latest = self.session.scalar(select(func.max(StepRow.number)))
        step = Step(
            number=(latest or 0) + 1,
            at=self.at,
            verb=self.verb,
            name=self.name,
            codes=self.codes,
            undoes=self.undoes,
        )
        self.session.execute(
            insert(StepRow).values(
                number=step.number,
                at=step.at.isoformat(),
                verb=step.verb.value,
                name=step.name,
                codes=to_json(step.codes),
                undoes=step.undoes,
            )
        )
        self.session.execute(
            insert(MovementRow),
            [
                {
                    "step": step.number,
                    "kind": kind,
                    "row_id": row_id,
                    "before": None if m.before is None else to_json(m.before),
                    "after": None if m.after is None else to_json(m.after),
                }
                for (kind, row_id), m in moved.items()
            ],
        )
        touched: dict[str, set[int]] = {}
        for kind, row_id in moved:
            touched.setdefault(kind, set()).add(row_id)
        for m in moved.values():
            for row in (m.before, m.after):
                for column, owner in _OWNERS.items():
                    if row is not None and row.get(column) is not None:
                        touched.setdefault(owner, set()).add(row[column])
        return Changes(step, {k: frozenset(v) for k, v in touched.items()}, tuple(self.born))


def movements_of(session: Session, steps: Iterable[int]) -> list[tuple[int, Key, Moved]]:
    """``(step, key, moved)`` of the steps, in the order of writing."""
    wanted = frozenset(steps)
    if not wanted:
        return []
    rows = session.execute(
        select(
            MovementRow.step,
            MovementRow.kind,
            MovementRow.row_id,
            MovementRow.before,
            MovementRow.after,
        )
        .where(MovementRow.step.between(min(wanted), max(wanted)))
        .order_by(MovementRow.id)
    )
    return [
        (step, (kind, row_id), Moved(_read(kind, before), _read(kind, after)))
        for step, kind, row_id, before, after in rows
        if step in wanted
    ]


def _read(kind: str, text: str | None) -> Row | None:
    """A row as the ledger has it, in the columns of today.

    A column added since then takes its default, and one that was dropped is left out.
    """
    if text is None:
        return None
    written = made_of(
        text, _json_row, thing="The ledger", what=f"a movement of {kind.replace('_', ' ')}"
    )
    row: Row = {}
    for column in TRACKED[kind].__table__.columns:
        default = column.default.arg if column.default is not None else None
        row[column.key] = written.get(column.key, default)
    return row


def _json_row(text: str) -> Row:
    return dict(json.loads(text))


def put(
    session: Session, key: Key, entity: TrackedBase | None, there: Row | None, wanted: Row | None
) -> bool:
    """Make the row ``key`` what is ``wanted``, if it is still what should be ``there``.

    ``entity`` is the row as it was just read, None where there is none. Returns False, with nothing
    changed, where it is not what it should be.
    """
    kind = key[0]
    found = None if entity is None else _row(entity)
    if found != there:
        return False
    if wanted is None:
        session.delete(entity)
    elif entity is None:
        session.add(TRACKED[kind](**wanted))
    else:
        for name, value in wanted.items():
            setattr(entity, name, value)
    return True


def balance(session: Session) -> list[str]:
    """Add up the whole ledger and compare it with the stock: one sentence for each difference."""
    faults: list[str] = []
    folded: dict[Key, Row] = {}
    rows = session.execute(
        select(
            MovementRow.step,
            MovementRow.kind,
            MovementRow.row_id,
            MovementRow.before,
            MovementRow.after,
        ).order_by(MovementRow.id)
    )
    for step, kind, row_id, before, after in rows:
        if kind not in TRACKED:
            faults.append(f"Step {step} of the ledger speaks of an unknown table, {kind}.")
            continue
        key = (kind, row_id)
        if folded.get(key) != _read(kind, before):
            faults.append(f"Step {step} of the ledger does not follow for {kind} {row_id}.")
        wanted = _read(kind, after)
        if wanted is None:
            folded.pop(key, None)
        else:
            folded[key] = wanted
    for kind, entity in TRACKED.items():
        columns = entity.__table__.columns
        for values in session.execute(select(*columns)):
            row = dict(zip(columns.keys(), values, strict=True))
            if folded.pop((kind, row["id"]), None) != row:
                faults.append(f"The ledger does not account for {kind} {row['id']} as it stands.")
    faults.extend(f"The ledger has a {kind} {row_id} that is not there." for kind, row_id in folded)
    return faults
