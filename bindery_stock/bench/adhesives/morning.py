"""The look along the shelf in the morning: what ends this week, what is low, what is barred."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bindery_stock.bench.adhesives.shelf_rows import LotRow
from bindery_stock.stock import Measure, ReorderPoint, StockPiece, amount_words
from bindery_stock.trade import Rules

_MM2_PER_CM2 = 100.0


@dataclass(frozen=True, slots=True)
class Low:
    """A kind of which less is at hand than should be."""

    point: ReorderPoint
    at_hand: float
    """In the unit of the reorder point, counting only what is in date."""
    name: str

    @property
    def words(self) -> str:
        """``wheat starch paste: 20 g at hand, reorder at 50 g``."""
        unit = self.point.unit
        at_hand, least = (amount_words(v, unit) for v in (self.at_hand, self.point.least))
        return f"{self.name}: {at_hand} at hand, reorder at {least}"


@dataclass(frozen=True, slots=True)
class Morning:
    """What wants doing today."""

    ends_this_week: tuple[LotRow, ...]
    """Still good, but not beyond the week."""
    low: tuple[Low, ...]
    barred: tuple[LotRow, ...]
    """Out of date, frozen, spoiled or unfit for every use, and still on the shelf."""

    @property
    def is_clear(self) -> bool:
        """Whether nothing wants doing."""
        return not (self.ends_this_week or self.low or self.barred)

    @property
    def sentence(self) -> str:
        """``2 lots end this week, 1 kind is low, 3 lots are barred and still on the shelf.``"""
        told = []
        if self.ends_this_week:
            told.append(_counted(len(self.ends_this_week), "lot ends", "lots end") + " this week")
        if self.low:
            told.append(_counted(len(self.low), "kind is low", "kinds are low"))
        if self.barred:
            barred = _counted(len(self.barred), "lot is barred", "lots are barred")
            told.append(f"{barred} and still on the shelf")
        return f"{', '.join(told)}." if told else "Nothing ends this week and nothing is low."


def _counted(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def morning(
    rows: Sequence[LotRow],
    pieces: Iterable[StockPiece],
    points: Iterable[ReorderPoint],
    rules: Rules,
) -> Morning:
    """Look along the shelf."""
    lying = list(pieces)
    low = [_low(point, rows, lying, rules) for point in points]
    return Morning(
        ends_this_week=tuple(r for r in rows if r.ends_soon and not r.barred_everywhere),
        low=tuple(one for one in low if one.at_hand < one.point.least),
        barred=tuple(r for r in rows if r.barred_everywhere),
    )


def _low(
    point: ReorderPoint, rows: Sequence[LotRow], pieces: list[StockPiece], rules: Rules
) -> Low:
    if point.unit is Measure.AREA:
        area = sum(p.outline.area for p in pieces if p.kind.value == point.kind)
        return Low(point, area / _MM2_PER_CM2, point.kind)
    at_hand = sum(
        row.lot.left or 0.0
        for row in rows
        if row.lot.kind == point.kind and row.lot.unit is point.unit and not row.barred_everywhere
    )
    kind = rules.adhesives.get(point.kind)
    return Low(point, at_hand, kind.name if kind else point.kind)
