"""Putting pieces on the shelf, correcting what is known of them, moving and discarding them."""

from collections.abc import Iterable
from dataclasses import fields, replace
from typing import Any

from sqlalchemy import func, select

from bindery_stock.errors import StockError, Unchanged
from bindery_stock.stock import checks
from bindery_stock.stock.evidence import rows as evidence
from bindery_stock.stock.keeping.tables import CodeSeriesRow
from bindery_stock.stock.ledger.movements import Draft, to_json
from bindery_stock.stock.photos import questions as photo_questions
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces import rows as piece_rows
from bindery_stock.stock.pieces.tables import ColourRow, MarkRow, PieceRow
from bindery_stock.stock.pieces.values import NewPiece, PieceState, StockPiece
from bindery_stock.trade.vocabulary import CODE_LETTER

SEEN = (
    "outline", "flaws", "colours", "marks", "form", "pattern", "backing", "fibre", "source",
    "source_date", "place", "note", "price",
)  # fmt: skip
"""What a new photograph of a piece, and the facts given with it, replace."""
_CORRECTABLE = {field.name for field in fields(NewPiece)} - {"parent"}


def next_code(draft: Draft, letter: str) -> str:
    """The next code of a letter's series, ``C-0042``; a number is never given twice."""
    series = draft.session.get(CodeSeriesRow, letter)
    if series is None:
        series = CodeSeriesRow(letter=letter, last=0)
        draft.session.add(series)
    series.last += 1
    return f"{letter}-{series.last:04d}"


def row_of(draft: Draft, code: str) -> PieceRow:
    """The row of a piece for changing. Raises ``NotFound``."""
    piece_questions.piece(draft.session.connection(), code)
    return draft.session.scalars(select(PieceRow).where(PieceRow.code == code)).one()


def place_on_shelf(draft: Draft, new: NewPiece) -> PieceRow:
    """Enter a new piece and return its row, which has its id and code."""
    checks.piece(new)
    evidence.checked(new.properties, new.lab_results)
    code = next_code(draft, CODE_LETTER[new.kind])
    parent_id = None if new.parent is None else row_of(draft, new.parent).id
    row = PieceRow(
        **piece_rows.piece_columns(new),
        code=code,
        state=PieceState.ON_SHELF.value,
        fate="",
        parent_id=parent_id,
        shelved_at=draft.at.isoformat(),
    )
    draft.session.add(row)
    draft.session.flush()
    _hang(draft, row, new)
    draft.born.append(code)
    draft.touches(code)
    return row


def _hang(draft: Draft, row: PieceRow, new: NewPiece) -> None:
    """Enter the readings and marks of a piece."""
    _known(draft, new)
    for position, reading in enumerate(new.colours):
        draft.session.add(
            ColourRow(piece_id=row.id, **piece_rows.colour_columns(reading, position))
        )
    for position, mark in enumerate(new.marks):
        draft.session.add(MarkRow(piece_id=row.id, **piece_rows.mark_columns(mark, position)))
    draft.session.flush()


def _known(draft: Draft, new: NewPiece) -> None:
    """Raise ``NotFound`` for a photograph that was not archived first."""
    named = {reading.photo for reading in new.colours if reading.photo is not None}
    named |= {one.photo for one in new.properties if one.photo is not None}
    for sha256 in named | {mark.photo.sha256 for mark in new.marks}:
        photo_questions.photo(draft.session.connection(), sha256)


def correct(draft: Draft, code: str, changes: dict[str, Any]) -> StockPiece:
    """Put right what is known of a piece; returns it as it was.

    Raises ``EntryError`` where nothing would change, ``StockError`` where the outline of a piece
    that is reserved or gone would change.
    """
    unknown = set(changes) - _CORRECTABLE
    if unknown:
        raise TypeError(f"a piece has nothing called {', '.join(sorted(unknown))} to correct")
    was = piece_questions.piece(draft.session.connection(), code)
    wanted = checks.piece(replace(was, **changes))
    evidence.checked(wanted.properties, wanted.lab_results)
    if wanted == was:
        raise Unchanged(f"{code} is already as you have it; nothing was changed.")
    if wanted.outline != was.outline:
        _outline_may_change(was)
    row = row_of(draft, code)
    _known(draft, wanted)
    for name, value in piece_rows.piece_columns(wanted).items():
        setattr(row, name, value)
    if (wanted.colours, wanted.marks) != (was.colours, was.marks):
        for hung in (ColourRow, MarkRow):
            for old in draft.session.scalars(select(hung).where(hung.piece_id == row.id)):
                draft.session.delete(old)
        draft.session.flush()
        _hang(draft, row, wanted)
    draft.touches(code)
    return was


def _outline_may_change(was: StockPiece) -> None:
    if was.state is not PieceState.ON_SHELF:
        raise StockError(f"{was.code} is {was.state}; its outline can no longer be corrected.")
    if was.reserved_for:
        raise StockError(
            f"{was.code} is reserved for {was.reserved_for}. Release it before you correct its "
            "outline."
        )


def rows_of(draft: Draft, codes: Iterable[str]) -> list[PieceRow]:
    """The rows of many pieces, in this order, in few statements.

    Raises ``NotFound``, and ``DamagedStockroom`` for one that cannot be read.
    """
    wanted = list(dict.fromkeys(codes))
    listed = select(func.json_each(to_json(wanted)).table_valued("value").c.value)
    there = {
        r.code: r for r in draft.session.scalars(select(PieceRow).where(PieceRow.code.in_(listed)))
    }
    for code in wanted:
        if code not in there:
            piece_questions.piece(draft.session.connection(), code)
    # A row that cannot be read is not written over: what is spoilt would go into the ledger.
    piece_questions.pieces(draft.session.connection(), PieceRow.code.in_(listed))
    return [there[code] for code in wanted]


def move(draft: Draft, codes: Iterable[str], place: str) -> None:
    """Say where pieces lie now. Raises ``Unchanged`` where they lie there already."""
    checks.text(place, "Place")
    moved = rows_of(draft, codes)
    if all(row.place == place for row in moved):
        raise Unchanged(f"Everything chosen lies in {place or 'no place'} already.")
    for row in moved:
        if row.place != place:
            row.place = place
            draft.touches(row.code)


def on_shelf(piece: StockPiece) -> StockPiece:
    """The piece itself. Raises ``StockError`` where it no longer lies on the shelf."""
    if piece.state is not PieceState.ON_SHELF:
        raise StockError(
            f"{piece.code} is {piece.state}"
            f"{f' ({piece.fate})' if piece.fate else ''}, so nothing can be done with it now."
        )
    return piece


def discard(draft: Draft, code: str, reason: str) -> None:
    """Take a piece out of stock for good."""
    piece = on_shelf(piece_questions.piece(draft.session.connection(), code))
    if piece.reserved_for:
        raise StockError(
            f"{code} is reserved for {piece.reserved_for}. Release it before you discard it."
        )
    row = row_of(draft, code)
    row.state = PieceState.DISCARDED.value
    row.fate = checks.words(reason, "Reason")
    draft.touches(code)
