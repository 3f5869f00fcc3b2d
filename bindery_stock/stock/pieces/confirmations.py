"""Keeping what a photograph of book and scrap side by side said, and asking for it."""

import json
from collections.abc import Collection
from datetime import datetime

from sqlalchemy import Connection, select

from bindery_stock.errors import EntryError
from bindery_stock.shape import Ring
from bindery_stock.stock import checks
from bindery_stock.stock.ledger.movements import Draft, to_json
from bindery_stock.stock.photos import questions as photo_questions
from bindery_stock.stock.pieces.changes import row_of
from bindery_stock.stock.pieces.confirmation import KeptConfirmation, NewConfirmation
from bindery_stock.stock.pieces.tables import ConfirmationRow, PieceRow
from bindery_stock.stock.stored import AnyRow, column, reads


def confirm(draft: Draft, code: str, new: NewConfirmation) -> None:
    """Enter a confirmation of a piece. Raises ``EntryError`` and ``NotFound``."""
    piece = row_of(draft, code)
    if new.photo is not None:
        photo_questions.photo(draft.session.connection(), new.photo)
    draft.session.add(
        ConfirmationRow(
            piece_id=piece.id,
            purpose=checks.words(new.purpose, "Purpose"),
            light=checks.words(new.light, "Light"),
            delta_e=_difference(new.delta_e, "ΔE00"),
            u=_difference(new.u, "Band"),
            method=checks.text(new.method, "Method"),
            photo=new.photo,
            book_patches=_patches_text(new.book_patches),
            piece_patches=_patches_text(new.piece_patches),
            at=draft.at.isoformat(),
        )
    )
    draft.touches(code)


def confirmations(connection: Connection, codes: Collection[str] = ()) -> list[KeptConfirmation]:
    """What was confirmed of these pieces, or of all where none is named, the first first."""
    asked = (
        select(ConfirmationRow.__table__, PieceRow.code)
        .join(PieceRow, PieceRow.id == ConfirmationRow.piece_id)
        .order_by(ConfirmationRow.id)
    )
    if codes:
        asked = asked.where(PieceRow.code.in_(codes))
    return [confirmation_of(row) for row in connection.execute(asked)]


@reads("A match confirmed for")
def confirmation_of(row: AnyRow) -> KeptConfirmation:
    """What was confirmed, from its row joined with the code of its piece."""
    return KeptConfirmation(
        id=row.id,
        code=row.code,
        purpose=row.purpose,
        light=row.light,
        delta_e=row.delta_e,
        u=row.u,
        method=row.method,
        photo=row.photo,
        book_patches=column(row, "book_patches", _patches_of),
        piece_patches=column(row, "piece_patches", _patches_of),
        at=column(row, "at", datetime.fromisoformat),
    )


def _difference(value: float, field: str) -> float:
    if checks.number(value, field) < 0.0:
        raise EntryError(field, f"{field}: cannot be less than zero.")
    return float(value)


def _patches_text(patches: tuple[Ring, ...]) -> str:
    return to_json([checks.points(ring, "Patch") for ring in patches])


def _patches_of(written: str) -> tuple[Ring, ...]:
    return tuple(tuple((x, y) for x, y in ring) for ring in json.loads(written))
