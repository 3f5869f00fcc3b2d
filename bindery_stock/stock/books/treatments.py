"""The treatment of a volume, line by line: what was done, with what, how to undo it, the hours."""

from sqlalchemy import select

from bindery_stock.clock import local_date
from bindery_stock.stock.books import questions as book_questions
from bindery_stock.stock.books import rows as book_rows
from bindery_stock.stock.books.changes import repair_row
from bindery_stock.stock.books.tables import TreatmentRow
from bindery_stock.stock.books.values import NewTreatment
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.lots import changes as lot_changes
from bindery_stock.stock.lots import questions as lot_questions
from bindery_stock.stock.lots.tables import AdhesiveLotRow
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces.changes import row_of
from bindery_stock.trade import Rules


def record(draft: Draft, code: str, new: NewTreatment, rules: Rules) -> str:
    """Write one line into the treatment of a volume; returns the volume's name.

    Raises ``EntryError`` for what cannot be kept, ``NotFound`` for a part, piece or lot that is
    not there, ``Barred`` for a lot that is out of date, frozen or spoiled where no reason is
    written, here or when it was taken for this volume, and ``WetWorkStopped`` for water on a piece
    that must stay dry: what was done all the same is kept with the reason written here.
    """
    volume = repair_row(draft, code)
    columns = book_rows.treatment_columns(new)
    connection = draft.session.connection()
    part = None if new.part is None else book_questions.part(connection, new.part)
    if new.lot is not None:
        lot = lot_questions.adhesive(connection, new.lot)
        reason = new.override or _reason_given(draft, new.lot, volume.name)
        code_used = new.piece or (part.piece if part is not None else "")
        dry = piece_questions.piece(connection, code_used) if code_used else None
        told = new.override.strip() != ""
        lot_changes.judge(lot, None, None if told else dry, local_date(draft.at), reason, rules)
    draft.session.add(
        TreatmentRow(
            repair_id=volume.id,
            at=draft.at.isoformat(),
            piece_used=None if new.piece is None else row_of(draft, new.piece).id,
            lot_used=None if new.lot is None else _lot_id(draft, new.lot),
            **columns,
        )
    )
    draft.touches(code, *(c for c in (new.piece, new.lot) if c is not None))
    return volume.name


def _reason_given(draft: Draft, code: str, volume: str) -> str:
    """The reason that was written when something was taken from the lot for this volume."""
    uses = lot_questions.lot_uses(draft.session.connection(), code)
    return next((u.override_reason for u in uses if u.purpose.endswith(f", {volume}")), "")


def _lot_id(draft: Draft, code: str) -> int:
    lot_questions.adhesive(draft.session.connection(), code)
    return draft.session.scalars(select(AdhesiveLotRow.id).where(AdhesiveLotRow.code == code)).one()
