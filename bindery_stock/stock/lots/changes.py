"""Adhesive lots: entered, corrected, tested, taken from, finished."""

from dataclasses import fields, replace
from typing import Any

from sqlalchemy import select

from bindery_stock.errors import EntryError, StockError, Unchanged
from bindery_stock.stock import checks
from bindery_stock.stock.evidence import rows as evidence
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.lots import questions as lot_questions
from bindery_stock.stock.lots import rows as lot_rows
from bindery_stock.stock.lots.tables import AdhesiveLotRow, LotPartRow, LotUseRow
from bindery_stock.stock.lots.values import AdhesiveLot, NewAdhesiveLot, NewLotUse, amount_words
from bindery_stock.stock.photos import questions as photo_questions
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces.changes import next_code

CODE_LETTER = "A"
"""The letter an adhesive's code begins with, as in ``A-0007``."""
_LEAST = 1e-9
"""Rounding of sums of quantities."""
_CORRECTABLE = {field.name for field in fields(NewAdhesiveLot)}


def open_lot(draft: Draft, new: NewAdhesiveLot) -> str:
    """Enter a lot and return its code."""
    checked(draft, new)
    if new.left is None and new.held is not None:
        new = replace(new, left=new.held)
    code = next_code(draft, CODE_LETTER)
    row = AdhesiveLotRow(**lot_rows.lot_columns(new), code=code, finished=False, fate="")
    draft.session.add(row)
    draft.session.flush()
    _hang_parts(draft, row.id, new.made_from)
    draft.born.append(code)
    draft.touches(code)
    return code


def checked(draft: Draft, new: NewAdhesiveLot) -> NewAdhesiveLot:
    """The lot itself, with what it names. Raises ``EntryError`` or ``NotFound``."""
    checks.lot(new)
    evidence.checked(new.properties)
    connection = draft.session.connection()
    for one in new.properties:
        if one.photo is not None:
            photo_questions.photo(connection, one.photo)
    for code in new.made_from:
        lot_questions.adhesive(connection, code)
    return new


def correct_lot(draft: Draft, code: str, changes: dict[str, Any]) -> None:
    """Put right what is known of a lot. Raises ``EntryError`` where nothing would change."""
    unknown = set(changes) - _CORRECTABLE
    if unknown:
        raise TypeError(f"a lot has nothing called {', '.join(sorted(unknown))} to correct")
    was = lot_questions.adhesive(draft.session.connection(), code)
    wanted = replace(was, **changes)
    checked(draft, wanted)
    if wanted == was:
        raise Unchanged(f"{code} is already as you have it; nothing was changed.")
    row = _row(draft, code)
    for name, value in lot_rows.lot_columns(wanted).items():
        setattr(row, name, value)
    if wanted.made_from != was.made_from:
        _no_circle(draft, code, wanted.made_from)
        for old in draft.session.scalars(select(LotPartRow).where(LotPartRow.lot_id == row.id)):
            draft.session.delete(old)
        _hang_parts(draft, row.id, wanted.made_from)
    draft.touches(code)


def _hang_parts(draft: Draft, lot_id: int, codes: tuple[str, ...]) -> None:
    for position, code in enumerate(dict.fromkeys(codes)):
        part = _row(draft, code)
        draft.session.add(LotPartRow(lot_id=lot_id, position=position, part_id=part.id))
        draft.touches(code)
    draft.session.flush()


def _no_circle(draft: Draft, code: str, parts: tuple[str, ...]) -> None:
    for part in parts:
        if code in _made_with(lot_questions.adhesive(draft.session.connection(), part)):
            raise EntryError("Mixed from", f"{code} cannot be mixed from {part}, which holds it.")


def _made_with(lot: AdhesiveLot) -> set[str]:
    """The codes of a lot and of everything in it."""
    return {lot.code}.union(*(_made_with(part) for part in lot.mixed_from))


def finish_lot(draft: Draft, code: str, why: str) -> None:
    """Take a lot off the shelf."""
    lot = standing(lot_questions.adhesive(draft.session.connection(), code))
    row = _row(draft, lot.code)
    row.finished = True
    row.fate = checks.words(why, "Reason")
    draft.touches(code)


def standing(lot: AdhesiveLot) -> AdhesiveLot:
    """The lot itself. Raises ``StockError`` where it no longer stands on the shelf."""
    if lot.finished:
        raise StockError(
            f"{lot.code} is finished already{f' ({lot.fate})' if lot.fate else ''}. "
            "Undo that step first if it was a slip."
        )
    return lot


def use_lot(draft: Draft, code: str, new: NewLotUse) -> None:
    """Take something from a lot. What the rules say of it was asked before, and is only kept."""
    connection = draft.session.connection()
    lot = standing(lot_questions.adhesive(connection, code))
    piece = piece_questions.piece(connection, new.laid_on) if new.laid_on else None
    row = _row(draft, code)
    draft.session.add(
        LotUseRow(
            lot_id=row.id,
            use=new.use.value,
            purpose=checks.words(new.purpose, "Purpose"),
            amount=_take(row, lot, new.amount),
            unit=None if new.amount is None or lot.unit is None else lot.unit.value,
            laid_on_id=None if piece is None else piece.id,
            verdict=checks.text(new.verdict, "Verdict"),
            override_reason=checks.text(new.override_reason.strip(), "Reason"),
            at=draft.at.isoformat(),
        )
    )
    draft.touches(code, *([piece.code] if piece else []))


def _take(row: AdhesiveLotRow, lot: AdhesiveLot, amount: float | None) -> float | None:
    if amount is None:
        return None
    if lot.unit is None or lot.left is None:
        raise EntryError(
            "Amount",
            f"Amount: how much of {lot.code} is left was never measured. Leave the amount empty, "
            "or write first how much there is.",
        )
    checks.quantity(amount, lot.unit, "Amount")
    if amount <= 0.0:
        raise EntryError("Amount", "Amount: must be more than nothing; leave it empty for a smear.")
    if amount > lot.left + _LEAST:
        raise EntryError(
            "Amount", f"Amount: only {amount_words(lot.left, lot.unit)} of {lot.code} is left."
        )
    row.left = max(0.0, round(lot.left - amount, 9))
    return float(amount)


def _row(draft: Draft, code: str) -> AdhesiveLotRow:
    lot_questions.adhesive(draft.session.connection(), code)
    return draft.session.scalars(select(AdhesiveLotRow).where(AdhesiveLotRow.code == code)).one()
