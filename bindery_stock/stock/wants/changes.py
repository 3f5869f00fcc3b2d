"""The wanted list and the reorder points."""

from sqlalchemy import select

from bindery_stock.errors import EntryError, NotFound, Unchanged
from bindery_stock.stock import checks
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.lots.values import Measure
from bindery_stock.stock.pieces.changes import next_code
from bindery_stock.stock.wants import rows as want_rows
from bindery_stock.stock.wants.tables import ReorderRow, WantedRow
from bindery_stock.stock.wants.values import NewWanted

CODE_LETTER = "W"
"""The letter a want's code begins with, as in ``W-0003``."""


def want(draft: Draft, new: NewWanted) -> str:
    """Write a line on the wanted list and return its code."""
    code = next_code(draft, CODE_LETTER)
    draft.session.add(
        WantedRow(
            **want_rows.wanted_columns(checks.wanted(new)),
            code=code,
            since=draft.at.isoformat(),
            outcome="",
        )
    )
    draft.born.append(code)
    draft.touches(code)
    return code


def close_want(draft: Draft, code: str, outcome: str) -> str:
    """End a line of the wanted list, saying how; returns what was wanted."""
    row = draft.session.scalars(select(WantedRow).where(WantedRow.code == code)).one_or_none()
    if row is None:
        raise NotFound(f"There is no {code} on the wanted list.")
    if row.outcome:
        raise EntryError("Outcome", f"{code} is closed already: {row.outcome}.")
    row.outcome = checks.words(outcome, "Outcome")
    draft.touches(code)
    return row.what


def set_reorder_point(draft: Draft, kind: str, least: float | None, unit: Measure) -> None:
    """Say the least that should be at hand of a kind; None takes the reorder point away.

    Raises ``Unchanged`` where it is so already.
    """
    row = draft.session.scalars(select(ReorderRow).where(ReorderRow.kind == kind)).one_or_none()
    if least is None:
        if row is None:
            raise NotFound(f"There is no reorder point for {kind}.")
        draft.session.delete(row)
        return
    checks.size(least, "Least")
    if row is None:
        draft.session.add(ReorderRow(kind=checks.words(kind, "Kind"), least=least, unit=unit.value))
    elif (row.least, row.unit) == (least, unit.value):
        raise Unchanged(f"{least:g} {unit} is the reorder point already; nothing was changed.")
    else:
        row.least, row.unit = float(least), unit.value
