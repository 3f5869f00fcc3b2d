"""What the gate says beforehand to each piece, for each use that parts are cut for."""

from collections.abc import Sequence
from datetime import date

from bindery_stock.bench.books.part_list import use_of
from bindery_stock.bench.gate import Matter, concern
from bindery_stock.stock import BookPart, StockPiece
from bindery_stock.trade import Rules, Use
from bindery_stock.trade.gate import Leave, Ruling, ruling
from bindery_stock.trade.vocabulary import Kind

UseAndCode = tuple[tuple[Kind, Use | None], str]


def leave_to_share(
    parts: Sequence[BookPart], pieces: Sequence[StockPiece], today: date, rules: Rules
) -> dict[UseAndCode, Ruling]:
    """What the gate says to each piece for each use that parts of its kind are cut for."""
    uses = dict.fromkeys((part.kind, use_of(part.role, rules)) for part in parts)
    return {
        ((kind, use), piece.code): ruling(
            concern(Matter(piece=piece.code, use=use, cutting=True), piece), today, rules=rules
        )
        for kind, use in uses
        for piece in pieces
        if piece.kind is kind
    }


def bars(said: Ruling, reason: str) -> bool:
    """Whether that keeps a piece from a part, this reason being written, or none."""
    return said.is_stopped or (said.leave is Leave.NEEDS_REASON and not reason.strip())
