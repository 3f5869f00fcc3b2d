"""The flag rules: conditions on an item's facts, and what they say of each use."""

from dataclasses import dataclass

from bindery_stock.trade.conditions import Condition
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.uses import Use, Weight

ADHESIVE = "adhesive"
"""The word under which a rule applies to adhesive lots; other items go by their kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlagRule:
    """One rule."""

    key: str
    """``R01`` … as shown beside the verdict."""
    applies: frozenset[str]
    every: tuple[Condition, ...]
    some: tuple[Condition, ...]
    weights: dict[Use, Weight]
    reason: str
    would_change: str
    """What evidence or action would change it."""
    provenance: Provenance
