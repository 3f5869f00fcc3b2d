"""What a volume has cost in cloth, from the pieces that were really cut for it.

A part costs its share, by area, of the price of the piece it goes back to: of the first of the
line of offcuts it was cut from. What was never priced is said to be unpriced and counts nothing.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal

from bindery_stock.stock import BookPart, PartState, StockPiece

_CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Line:
    """What one part cost."""

    part: BookPart
    price: Decimal | None
    """Nothing where the cloth was never priced."""
    words: str


@dataclass(frozen=True, slots=True)
class Cost:
    """What a volume has cost so far."""

    lines: tuple[Line, ...]
    hours: float

    @property
    def cloth(self) -> Decimal:
        """All that was priced."""
        return sum((line.price for line in self.lines if line.price is not None), Decimal())

    @property
    def unpriced(self) -> int:
        """How many parts were cut from cloth without a price."""
        return sum(line.price is None for line in self.lines)

    @property
    def words(self) -> str:
        """``Cloth 4.20 (2 parts from cloth without a price), 5.5 h``."""
        without = ""
        if self.unpriced:
            noun = "part" if self.unpriced == 1 else "parts"
            without = f" ({self.unpriced} {noun} from stock without a price)"
        return f"Material {self.cloth:.2f}{without}, {self.hours:g} h"


def cost_of(
    parts: Iterable[BookPart], hours: float, lineage: Callable[[str], list[StockPiece]]
) -> Cost:
    """Add up a volume. ``lineage`` gives a piece and those it was cut from, the first last."""
    used = [p for p in parts if p.piece and p.state in (PartState.CUT, PartState.FITTED)]
    return Cost(tuple(_line(part, lineage(part.piece)) for part in used), hours)


def planned_cost(parts: Iterable[BookPart], lineage: Callable[[str], list[StockPiece]]) -> Cost:
    """What the parts will cost by the pieces they are reserved in or were cut from."""
    return Cost(tuple(_line(part, lineage(part.piece)) for part in parts if part.piece), 0.0)


def _line(part: BookPart, line: list[StockPiece]) -> Line:
    priced = next((piece for piece in reversed(line) if piece.price is not None), None)
    if priced is None or priced.price is None:
        return Line(part, None, f"{part.words}: from {part.piece}, which has no price")
    share = Decimal(part.width * part.height / priced.outline.area)
    price = (priced.price * min(share, Decimal(1))).quantize(_CENT)
    words = f"{part.words}: {share * 100:.1f} % of {priced.code} at {priced.price}"
    return Line(part, price, words)
