"""What is known of a lot, in words: the lines of its sheet and every count that runs."""

from bindery_stock.bench.adhesives.fitness import source_words
from bindery_stock.bench.adhesives.shelf_rows import LotRow, amount_of
from bindery_stock.bench.shelf.piece_words import Fact
from bindery_stock.clock import local_date
from bindery_stock.stock import AdhesiveLot, LotUse, amount_words
from bindery_stock.trade import Count, Ending, Provenance, Rules
from bindery_stock.trade.day_counts import written

_COUNTED = (Ending.BOUGHT, Ending.OPENED, Ending.MADE)
"""The endings that are counted from a day by a rule."""


def lot_facts(row: LotRow, rules: Rules) -> list[Fact]:
    """The lines of a lot's sheet; what is not known is left out, except where that matters."""
    lot = row.lot
    kind = rules.adhesives.get(lot.kind)
    dates = (
        ("Bought", lot.bought),
        ("Received", lot.received),
        ("Opened", lot.opened),
        ("Made", lot.made),
        ("Supplier's date", lot.expires),
    )
    lines = [Fact("How much", amount_of(lot)), Fact("Stands", _stands(lot))]
    lines += [Fact(label, written(day)) for label, day in dates if day is not None]
    if lot.mixed_from:
        parts = ", ".join(f"{part.code} {part.name}" for part in lot.mixed_from)
        lines.append(Fact("Mixed from", parts))
    lines.append(
        Fact("Frozen", "yes, at least once" if lot.frozen_once else "never, as far as known")
    )
    lines.append(Fact("pH", "not measured" if lot.ph is None else f"{lot.ph:g}"))
    supplier = ", ".join(part for part in (lot.supplier, lot.reference) if part)
    lines.append(Fact("Supplier", supplier or "not noted"))
    if kind is not None:
        tip = source_words(kind.provenance)
        lines += [
            Fact("Comes off", kind.reversibility, tip),
            Fact("Ages", kind.ageing, tip),
            Fact("Keep it", kind.storage, tip),
        ]
    if lot.note:
        lines.append(Fact("Note", lot.note))
    return lines


def _stands(lot: AdhesiveLot) -> str:
    return f"{lot.place} ({lot.storage})" if lot.place else f"in the {lot.storage}"


def life_lines(row: LotRow) -> list[str]:
    """Everything that ends the lot, the first to end first, each with its rule and source."""
    life = row.life
    if not life.counts:
        return [f"{life.words} ({_source(life.ending, life.provenance)})", *life.notices]
    return [*(count_words(count) for count in life.counts), *life.notices]


def count_words(count: Count) -> str:
    """``To 7 Mar 2026: counted from the making on 1 Mar 2026. … Rule …; source``."""
    told = f"To {written(count.ends)}: {count.ending.value}"
    if count.start is not None and count.ending in _COUNTED:
        told += f" on {written(count.start)}"
    source = _source(count.ending, count.provenance)
    if count.ending not in _COUNTED:
        return f"{told}, {source}."
    told += "."
    if count.range_words:
        told += f" Habit or sources give: {count.range_words}."
    return f"{told} Rule {count.rule}; {source}."


def _source(ending: Ending, provenance: Provenance) -> str:
    if ending in (Ending.SUPPLIER, Ending.SPOILED, Ending.UNKNOWN):
        return "as you recorded it"
    return source_words(provenance)


def use_words(use: LotUse) -> str:
    """``2 Mar 2026  30 g, spine lining: vol. 4 (care)``, with a reason where one was needed."""
    amount = (
        "some" if use.amount is None or use.unit is None else amount_words(use.amount, use.unit)
    )
    laid_on = f" on {use.laid_on}" if use.laid_on else ""
    day = written(local_date(use.at))
    told = f"{day}  {amount}, {use.use}: {use.purpose}{laid_on}. {use.verdict}"
    return f"{told}\nUsed all the same: {use.override_reason}" if use.override_reason else told
