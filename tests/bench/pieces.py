"""Pieces as the stockroom hands them out, made by hand for the tests of the bench."""

from datetime import UTC, datetime

from bindery_stock.shape import Flaw, Outline
from bindery_stock.stock import PieceState, StockPiece
from bindery_stock.trade.vocabulary import Kind


def piece_of(
    outline: Outline, *, flaws: tuple[Flaw, ...] = (), pattern: str = "", code: str = "C-0001"
) -> StockPiece:
    return StockPiece(
        id=int(code[2:]),
        code=code,
        kind=Kind.CLOTH,
        outline=outline,
        flaws=flaws,
        pattern=pattern,
        state=PieceState.ON_SHELF,
        shelved_at=datetime(2026, 3, 2, 9, 0, tzinfo=UTC),
    )
