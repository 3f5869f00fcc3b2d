"""The treatment of a volume, line by line: what was done, with what, how to undo it, the hours."""

from sqlalchemy import select

from bindery_stock.stock.books import questions as book_questions
from bindery_stock.stock.books import rows as book_rows
from bindery_stock.stock.books.changes import repair_row
from bindery_stock.stock.books.tables import TreatmentRow
from bindery_stock.stock.books.values import NewTreatment
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.lots import questions as lot_questions
from bindery_stock.stock.lots.tables import AdhesiveLotRow
from bindery_stock.stock.pieces.changes import row_of


def record(draft: Draft, code: str, new: NewTreatment) -> str:
    """Write one line into the treatment of a volume; returns the volume's name.

    Raises ``EntryError`` for what cannot be kept, ``NotFound`` for a part, piece or lot that is
    not there. Whether it should be done is not asked here.
    """
    volume = repair_row(draft, code)
    columns = book_rows.treatment_columns(new)
    if new.part is not None:
        book_questions.part(draft.session.connection(), new.part)
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


def _lot_id(draft: Draft, code: str) -> int:
    lot_questions.adhesive(draft.session.connection(), code)
    return draft.session.scalars(select(AdhesiveLotRow.id).where(AdhesiveLotRow.code == code)).one()
