"""Questions about the ledger: which steps stand, and what can be undone or done again."""

from datetime import datetime

from sqlalchemy import Connection, select

from bindery_stock.errors import NotFound
from bindery_stock.stock.ledger import rows as ledger_rows
from bindery_stock.stock.ledger.movements import to_json
from bindery_stock.stock.ledger.standing import Standing, fold
from bindery_stock.stock.ledger.tables import StepRow
from bindery_stock.stock.ledger.values import Step


def standing(connection: Connection, known: Standing) -> Standing:
    """What the list of steps adds up to, counted on from what is ``known`` of it already.

    The ledger only grows, so what was counted once holds.
    """
    listed = connection.execute(
        select(StepRow.number, StepRow.verb, StepRow.undoes)
        .where(StepRow.number > known.through)
        .order_by(StepRow.number)
    ).all()
    return fold(((row.number, row.verb, row.undoes) for row in listed), known) if listed else known


def steps(
    connection: Connection,
    stands: Standing,
    *,
    code: str | None,
    limit: int | None,
    before: int | None,
) -> list[Step]:
    """The steps, newest first; ``code`` asks for those about one piece or lot."""
    asked = select(StepRow.__table__).order_by(StepRow.number.desc())
    if code is not None:
        asked = asked.where(StepRow.codes.contains(to_json(code), autoescape=True))
    if before is not None:
        asked = asked.where(StepRow.number < before)
    if limit is not None:
        asked = asked.limit(limit)
    return [ledger_rows.step_of(row, stands.gone) for row in connection.execute(asked)]


def latest(connection: Connection) -> datetime | None:
    """When the last step was made, or None where there is none."""
    row = connection.execute(
        select(StepRow.__table__).order_by(StepRow.number.desc()).limit(1)
    ).first()
    return None if row is None else ledger_rows.step_of(row, frozenset()).at


def step(connection: Connection, stands: Standing, number: int) -> Step:
    """One step, or ``NotFound``."""
    row = connection.execute(select(StepRow.__table__).where(StepRow.number == number)).first()
    if row is None:
        raise NotFound(f"There is no step {number} in the ledger.")
    return ledger_rows.step_of(row, stands.gone)


def ways_back(connection: Connection, stands: Standing) -> tuple[Step | None, Step | None]:
    """The step to be taken back next and the one to be done again next, in one statement."""
    undo, redo = (numbers[-1] if numbers else None for numbers in (stands.undo, stands.redo))
    wanted = [number for number in (undo, redo) if number is not None]
    if not wanted:
        return None, None
    rows = connection.execute(select(StepRow.__table__).where(StepRow.number.in_(wanted)))
    found = {row.number: ledger_rows.step_of(row, stands.gone) for row in rows}
    return found.get(undo or 0), found.get(redo or 0)
