"""Before something is taken from a lot: what stops it, told while there is time to think again."""

from dataclasses import dataclass
from datetime import date

from bindery_stock.bench.adhesives.tests import wet_words
from bindery_stock.stock import AdhesiveLot, StockPiece
from bindery_stock.trade import Rules, Use, bars


@dataclass(frozen=True, slots=True)
class Hindrance:
    """What stands in the way of a use."""

    words: str
    """Why, with the source; empty where nothing does."""
    final: bool = False
    """Whether no written reason lets it pass: water on a piece that must stay dry."""

    @property
    def needs_reason(self) -> bool:
        """Whether going on takes a written reason."""
        return bool(self.words) and not self.final


def hindrance(
    lot: AdhesiveLot, use: Use, piece: StockPiece | None, today: date, rules: Rules
) -> Hindrance:
    """What the stockroom will say to this use."""
    wet = "" if piece is None else wetted_words(lot, piece, rules)
    if wet:
        return Hindrance(wet, final=True)
    return Hindrance("\n".join(bars(lot, use, today, rules=rules)))


def wetted_words(lot: AdhesiveLot, piece: StockPiece, rules: Rules) -> str:
    """Why the water in a lot must not come to a piece; empty where it may, or holds none."""
    kind = rules.adhesives.get(lot.kind)
    if kind is not None and not kind.water:
        return ""
    wet = wet_words(piece, rules)
    return f"{piece.code}: {wet}" if wet else ""
