"""Many pieces or lots at once, with the codes they had elsewhere: one step, all or none."""

from collections.abc import Callable, Iterable, Sequence

from sqlalchemy import select

from bindery_stock.errors import EntryError
from bindery_stock.stock import checks
from bindery_stock.stock.evidence import rows as evidence
from bindery_stock.stock.keeping.tables import CodeSeriesRow
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.lots import changes as lot_changes
from bindery_stock.stock.lots import rows as lot_rows
from bindery_stock.stock.lots.tables import AdhesiveLotRow
from bindery_stock.stock.lots.values import NewAdhesiveLot
from bindery_stock.stock.pieces import rows as piece_rows
from bindery_stock.stock.pieces.changes import next_code
from bindery_stock.stock.pieces.tables import ColourRow, PieceRow
from bindery_stock.stock.pieces.values import NewPiece, PieceState
from bindery_stock.trade.vocabulary import CODE_LETTER

_AT_ONCE = 1000
_NAMED = 5000
"""So many codes are named with the step; a step about more names its first."""


def bring_in(
    draft: Draft,
    news: Sequence[tuple[NewPiece, str]],
    tell: Callable[[float, str], None],
    check: Callable[[], None],
) -> None:
    """Enter the pieces in batches, which is what makes it quick."""
    _free_codes(draft, draft.session.scalars(select(PieceRow.code)), news)
    for start in range(0, len(news), _AT_ONCE):
        check()
        tell(start / len(news), f"Piece {start} of {len(news)}")
        _batch(draft, news[start : start + _AT_ONCE])


def bring_in_lots(
    draft: Draft,
    news: Sequence[tuple[NewAdhesiveLot, str]],
    tell: Callable[[float, str], None],
    check: Callable[[], None],
) -> None:
    """Enter the lots in batches."""
    _free_codes(draft, draft.session.scalars(select(AdhesiveLotRow.code)), news)
    for start in range(0, len(news), _AT_ONCE):
        check()
        tell(start / len(news), f"Lot {start} of {len(news)}")
        _lots(draft, news[start : start + _AT_ONCE])


def _free_codes(draft: Draft, there: Iterable[str], news: Sequence[tuple[object, str]]) -> None:
    """Keep the codes that come in. Raises ``EntryError`` for one that is taken."""
    taken = set(there)
    for _, code in news:
        if code and code in taken:
            raise EntryError("Code", f"Code: {code} is taken. Look through the table again.")
        taken.add(code)
    _raise_series(draft, [code for _, code in news if code])


def _raise_series(draft: Draft, codes: list[str]) -> None:
    """No number that comes in is given out again."""
    highest: dict[str, int] = {}
    for code in codes:
        letter, _, number = code.partition("-")
        highest[letter] = max(highest.get(letter, 0), int(number))
    for letter, most in highest.items():
        series = draft.session.get(CodeSeriesRow, letter)
        if series is None:
            draft.session.add(CodeSeriesRow(letter=letter, last=most))
        elif series.last < most:
            series.last = most
    draft.session.flush()


def _batch(draft: Draft, news: Sequence[tuple[NewPiece, str]]) -> None:
    made = []
    for new, given in news:
        checks.piece(new)
        evidence.checked(new.properties, new.lab_results)
        code = given or next_code(draft, CODE_LETTER[new.kind])
        row = PieceRow(
            **piece_rows.piece_columns(new),
            code=code,
            state=PieceState.ON_SHELF.value,
            fate="",
            parent_id=None,
            shelved_at=draft.at.isoformat(),
        )
        made.append((row, new))
        draft.born.append(code)
    draft.session.add_all([row for row, _ in made])
    draft.session.flush()
    draft.session.add_all(
        ColourRow(piece_id=row.id, **piece_rows.colour_columns(reading, position))
        for row, new in made
        for position, reading in enumerate(new.colours)
    )
    draft.session.flush()
    _name(draft, [row.code for row, _ in made])
    draft.session.expunge_all()


def _lots(draft: Draft, news: Sequence[tuple[NewAdhesiveLot, str]]) -> None:
    codes = []
    for new, given in news:
        lot_changes.checked(draft, new)
        code = given or next_code(draft, lot_changes.CODE_LETTER)
        columns = lot_rows.lot_columns(new)
        draft.session.add(AdhesiveLotRow(**columns, code=code, finished=False, fate=""))
        codes.append(code)
    draft.born.extend(codes)
    draft.session.flush()
    _name(draft, codes)
    draft.session.expunge_all()


def _name(draft: Draft, codes: list[str]) -> None:
    draft.touches(*codes[: max(0, _NAMED - len(draft.codes))])
