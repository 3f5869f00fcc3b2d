"""What is added to a measurement to get a size: defaults with source and range, at three levels.

The rules give the overall defaults; a set of books may change some, and one volume some again. Each
allowance remembers who set it.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from bindery_stock.errors import EntryError
from bindery_stock.trade.provenance import Mark, Provenance
from bindery_stock.trade.rules import Rules, shipped_rules

MOST_MM = 500.0
"""No allowance at a bench is larger; more is a slip of the key."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """One allowance: mm, or a count where its words say so."""

    key: str
    symbol: str
    words: str
    value: float
    low: float
    high: float
    provenance: Provenance
    set_by: str = "default"
    """``default``, or who set it: ``all work``, ``this set``, ``this volume``."""
    choices: tuple[str, ...] = ()
    """In words, where it is a habit and no length; the value is the number of the one chosen."""

    @property
    def chosen(self) -> str:
        """The habit chosen, in words; empty for a length."""
        number = min(max(round(self.value), 0), len(self.choices) - 1)
        return self.choices[number] if self.choices else ""

    @property
    def unusual(self) -> bool:
        """Whether it lies outside the range that sources and habit give."""
        return not self.low <= self.value <= self.high


@dataclass(frozen=True, slots=True)
class Allowances:
    """All allowances in force for one volume."""

    by_key: Mapping[str, Allowance]

    def __getitem__(self, key: str) -> Allowance:
        """The allowance of that name. Raises ``EntryError`` where there is none."""
        if key not in self.by_key:
            known = ", ".join(sorted(self.by_key))
            raise EntryError("Allowance", f"There is no allowance “{key}”. There are: {known}.")
        return self.by_key[key]

    def having(self, values: Mapping[str, float], *, set_by: str) -> "Allowances":
        """The same with some values set by ``set_by``, which may be said again at a later level.

        Raises ``EntryError`` for a name that is none and for a value that cannot be.
        """
        changed = dict(self.by_key)
        for key, value in values.items():
            old = self[key]
            if not (math.isfinite(value) and 0 <= value <= MOST_MM):
                raise EntryError(
                    old.words, f"{old.words}: {value:g} is not between 0 and {MOST_MM:g}."
                )
            own = Provenance(Mark.OWN, caveat=f"set for {set_by}; the default is {old.value:g}")
            changed[key] = replace(old, value=float(value), provenance=own, set_by=set_by)
        return Allowances(MappingProxyType(changed))


def default_allowances(rules: Rules | None = None) -> Allowances:
    """The allowances as the rules files give them."""
    rules = rules if rules is not None else shipped_rules()
    return Allowances(
        MappingProxyType(
            {
                key: Allowance(
                    key=key,
                    symbol=rule.symbol,
                    words=rule.words,
                    value=rule.value,
                    low=rule.low,
                    high=rule.high,
                    provenance=rule.provenance,
                    choices=rule.choices,
                )
                for key, rule in rules.allowances.items()
            }
        )
    )
