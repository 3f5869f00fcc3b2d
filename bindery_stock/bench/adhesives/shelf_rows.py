"""The adhesive shelf, one row a lot, what needs using up first at the top."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from bindery_stock.bench.adhesives.fitness import Fitness, fitness_of
from bindery_stock.stock import AdhesiveLot, Measure, amount_words
from bindery_stock.trade import Rules, ShelfLife, shelf_life
from bindery_stock.trade.day_counts import in_words, written

SOON_DAYS = 7
"""What ends within so many days is to be used up first."""
_FAR = 10**9


@dataclass(frozen=True, slots=True)
class LotRow:
    """One lot as the shelf shows it."""

    lot: AdhesiveLot
    class_name: str
    """The name of its adhesive class, or what was written where the rules know none."""
    life: ShelfLife
    fitness: tuple[Fitness, ...]
    """One for each use, in the order of the rules."""

    @property
    def life_words(self) -> str:
        """``4 days left``: short enough to stand over a bar."""
        days = self.life.days_left
        if days is None:
            return f"over: {self.life.ending.value}" if self.life.over else "cannot tell"
        if days < 0:
            return "out of date"
        return f"{in_words(days)} left" if days else "last day today"

    @property
    def life_date(self) -> str:
        """``to 29 Nov 2026``, ``since 7 Feb 2025``, or what is wanting."""
        life = self.life
        if life.ends is None:
            return "" if life.over else "write the day it was bought or made"
        return f"{'since' if life.over else 'to'} {written(life.ends)}"

    @property
    def brief(self) -> str:
        """``4 days left``, ``out of date since 7 Feb 2025``."""
        return f"{self.life_words} {self.life_date}".rstrip() if self.life.over else self.life_words

    @property
    def ends_soon(self) -> bool:
        """Whether its last good day lies within the week, today included."""
        days = self.life.days_left
        return days is not None and 0 <= days <= SOON_DAYS

    @property
    def barred_everywhere(self) -> bool:
        """Whether nothing should be taken from it for any use without a written reason."""
        return self.life.over or (bool(self.fitness) and all(one.is_barred for one in self.fitness))

    @property
    def told(self) -> str:
        """The row for a reader that cannot see it."""
        lot = self.lot
        uses = "; ".join(f"{one.use} {one.verdict.grade}" for one in self.fitness)
        parts = (lot.code, lot.name, self.class_name, self.life.words, amount_of(lot))
        return ". ".join((*parts, stands(lot), uses))


def lot_rows(lots: Iterable[AdhesiveLot], today: date, rules: Rules) -> list[LotRow]:
    """A row for each lot: what is over first, then what ends soonest, then what cannot be told."""
    rows = []
    for lot in lots:
        kind = rules.adhesives.get(lot.kind)
        rows.append(
            LotRow(
                lot=lot,
                class_name=kind.name if kind else f"{lot.kind} (no class the rules know)",
                life=shelf_life(lot, today, rules=rules),
                fitness=fitness_of(lot, today, rules),
            )
        )
    return sorted(rows, key=_urgency)


def _urgency(row: LotRow) -> tuple[int, int, int]:
    life = row.life
    group = 0 if life.over else 2 if life.days_left is None else 1
    return (group, _FAR if life.days_left is None else life.days_left, row.lot.id)


def amount_of(lot: AdhesiveLot) -> str:
    """``150 g of 200 g``, ``about a third``, the binder's own words, or that it was not written."""
    if lot.unit is None or lot.left is None:
        return lot.quantity or "how much: not written"
    left = amount_words(lot.left, lot.unit)
    if lot.held is None or lot.held == lot.left or lot.unit is Measure.SHARE:
        return left
    return f"{left} of {amount_words(lot.held, lot.unit)}"


def stands(lot: AdhesiveLot) -> str:
    """``Fridge, door``; where no place is written, the storage that counts."""
    return lot.place or f"in the {lot.storage}"
