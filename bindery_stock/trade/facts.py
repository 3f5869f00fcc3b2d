"""What the rules may ask of an item, gathered into one mapping of facts.

Nothing is filled in: what has not been established stays ``None``.
"""

from dataclasses import dataclass
from datetime import date

from bindery_stock.errors import EntryError
from bindery_stock.trade.adhesives import Lot
from bindery_stock.trade.conditions import Fact
from bindery_stock.trade.day_counts import after
from bindery_stock.trade.flags import ADHESIVE
from bindery_stock.trade.materials import Material, tear_required
from bindery_stock.trade.properties import Property, established
from bindery_stock.trade.rules import Rules
from bindery_stock.trade.shelf_life import received, shelf_life
from bindery_stock.trade.vocabulary import Backing, Fibre
from bindery_stock.trade.written_dates import NEW_SINCE, read_date

SALVAGE_BEFORE = 1980
"""A source dated before this is taken to be an old book (proposed)."""


@dataclass(frozen=True, slots=True)
class Known:
    """The facts of one item, and the recorded property that each measured one rests on."""

    applies: str
    """Its kind, or ``adhesive``."""
    facts: dict[str, Fact | None]
    records: dict[str, Property]


def known_of(item: Lot | Material, today: date | None, rules: Rules) -> Known:
    """Gather the facts of a lot or a piece; without ``today`` nothing is counted in days.

    Raises ``EntryError`` for a value that cannot be.
    """
    if isinstance(item, Lot):
        return _of_lot(item, today, rules)
    if isinstance(item, Material):
        return _of_material(item, today, rules)
    raise EntryError("Item", "This is neither a lot of adhesive nor a piece of stock.")


def _of_lot(lot: Lot, today: date | None, rules: Rules) -> Known:
    values, records = established(lot.properties, rules.properties)
    kind = rules.adhesives.get(lot.kind)
    facts: dict[str, Fact | None] = dict(values)
    if lot.ph is not None:
        facts["ph"] = rules.properties["ph"].checked(lot.ph)
    facts |= {
        "kind": lot.kind if kind else None,
        "family": kind.family if kind else None,
        "water": kind.water if kind else None,
        "store": lot.storage,
        "frozen_once": lot.frozen_once,
        "bought_days": _days(received(lot), today),
        "opened_days": _days(lot.opened, today),
        "made_days": _days(lot.made, today),
        "bought_months": _months(received(lot), today),
        "past_supplier_days": _days(lot.expires, today),
        "life_over_days": _over(lot, today, rules),
    }
    _add_pat_age(facts, records, today)
    return Known(ADHESIVE, facts, records)


def _of_material(piece: Material, today: date | None, rules: Rules) -> Known:
    values, records = established(piece.properties, rules.properties)
    facts: dict[str, Fact | None] = dict(values)
    facts["backing"] = None if piece.backing is Backing.UNKNOWN else piece.backing.value
    facts["fibre"] = None if piece.fibre is Fibre.UNKNOWN else piece.fibre.value
    facts["colour_family"] = piece.colour_family or None
    facts["salvaged"] = _salvaged(piece)
    facts["provenance_recorded"] = None if piece.source is None else bool(piece.source.strip())
    tear, grammage = values.get("tear"), values.get("grammage")
    if isinstance(tear, int | float) and isinstance(grammage, int | float):
        facts["tear_margin"] = _tear_margin(tear, grammage, rules)
    _add_pat_age(facts, records, today)
    return Known(piece.kind.value, facts, records)


def _salvaged(piece: Material) -> bool | None:
    dated = read_date(piece.source_date)
    if dated.earliest is not None and dated.earliest >= NEW_SINCE:
        return False
    if dated.latest is not None and dated.latest < SALVAGE_BEFORE:
        return True
    return None


def _tear_margin(tear: float, grammage: float, rules: Rules) -> float | None:
    """Nothing below the grammage at which the standard's line begins."""
    limits = rules.limits
    if grammage < limits["paper-tear-grammage-low"].value:
        return None
    return tear - tear_required(
        grammage,
        limits["paper-tear-slope"].value,
        limits["paper-tear-intercept"].value,
        limits["paper-tear-flat"].value,
    )


def _add_pat_age(
    facts: dict[str, Fact | None], records: dict[str, Property], today: date | None
) -> None:
    certificate = records.get("pat_passed")
    if certificate is not None:
        facts["pat_age_days"] = _days(certificate.on, today)


def _over(lot: Lot, today: date | None, rules: Rules) -> int | None:
    if today is None:
        return None
    left = shelf_life(lot, today, rules=rules).days_left
    return None if left is None else -left


def _days(start: date | None, today: date | None) -> int | None:
    return None if start is None or today is None else (today - start).days


def _months(start: date | None, today: date | None) -> int | None:
    """Whole months that lie behind: on the very day a month ends it is not yet behind."""
    if start is None or today is None:
        return None
    months = max(0, (today.year - start.year) * 12 + today.month - start.month)
    return months if after(start, months=months) < today else max(0, months - 1)
