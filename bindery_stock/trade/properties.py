"""What is known of a piece or a lot beyond its kind, how it was found out, and what could be asked.

A property that is absent is unknown. Which properties there are, their units and the cheapest test
of each stand in ``properties.toml``.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from bindery_stock.errors import EntryError
from bindery_stock.trade.conditions import Fact
from bindery_stock.trade.day_counts import written
from bindery_stock.trade.provenance import Provenance


class Evidence(StrEnum):
    """How a property came to be known, from strongest to weakest."""

    LABORATORY = "tested by a laboratory"
    BENCH = "tested at the bench"
    SUPPLIER = "stated by the supplier"
    LOOK = "seen"


class Effort(StrEnum):
    """What a test costs, from cheapest to dearest."""

    LOOK = "look"
    ASK = "ask the supplier"
    BENCH = "bench test"
    LAMP = "ultraviolet lamp"
    LABORATORY = "laboratory"

    @property
    def rank(self) -> int:
        """Larger is dearer."""
        return list(Effort).index(self)


class ValueKind(StrEnum):
    """What sort of value a property takes."""

    NUMBER = "number"
    TRUTH = "yes or no"
    WORD = "word"


@dataclass(frozen=True, slots=True, kw_only=True)
class Property:
    """One established property of one item."""

    name: str
    """As in the rules: ``ph``, ``alkaline_reserve``."""
    value: Fact
    evidence: Evidence
    on: date | None = None
    method: str = ""
    by: str = ""
    """The laboratory, supplier or person."""
    photo: str | None = None
    """SHA-256 of a photograph of the strip, the spot or the lamp."""

    @property
    def words(self) -> str:
        """``7.8, tested at the bench, pH strip, 3 May 2025``."""
        value = self.value
        if isinstance(value, bool):
            text = "yes" if value else "no"
        else:
            text = f"{value:g}" if isinstance(value, int | float) else value
        parts = [text, str(self.evidence.value), self.method, self.by]
        if self.on is not None:
            parts.append(written(self.on))
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyKind:
    """A property that rules may speak of."""

    key: str
    words: str
    kind: ValueKind
    unit: str = ""
    low: float = -math.inf
    high: float = math.inf
    choices: tuple[str, ...] = ()
    test: str = ""
    """The cheapest test that would settle it; empty where it follows from something else."""
    effort: Effort = Effort.BENCH
    derived: bool = False
    """Worked out by the program from what is recorded."""
    provenance: Provenance

    def checked(self, value: Fact) -> Fact:
        """Return ``value`` if it can be one of these; ``EntryError`` with the mend if not."""
        if self.kind is ValueKind.TRUTH:
            if not isinstance(value, bool):
                raise EntryError(self.words, f"{self.words}: answer yes or no, not “{value}”.")
            return value
        if self.kind is ValueKind.WORD:
            if not isinstance(value, str) or (self.choices and value not in self.choices):
                raise EntryError(
                    self.words, f"{self.words}: “{value}” is not one of {', '.join(self.choices)}."
                )
            return value
        return self._checked_number(value)

    def _checked_number(self, value: Fact) -> float:
        if isinstance(value, bool | str) or not math.isfinite(value):
            raise EntryError(self.words, f"{self.words}: “{value}” is not a number.")
        if not self.low <= value <= self.high:
            raise EntryError(
                self.words,
                f"{self.words}: {value:g} is outside {self.low:g} to {self.high:g}; "
                "check the figure.",
            )
        return float(value)


def established(
    properties: Sequence[Property], kinds: Mapping[str, PropertyKind]
) -> tuple[dict[str, Fact], dict[str, Property]]:
    """Checked values by name, and the property each rests on.

    Where a property was found out twice the stronger evidence counts, then the later date. Raises
    ``EntryError`` for a value that cannot be.
    """
    best: dict[str, Property] = {}
    ranks = list(Evidence)
    for prop in properties:
        kind = kinds.get(prop.name)
        if kind is None:
            continue
        kind.checked(prop.value)
        held = best.get(prop.name)
        if held is None or _stronger(prop, held, ranks):
            best[prop.name] = prop
    return {name: prop.value for name, prop in best.items()}, best


def _stronger(one: Property, other: Property, ranks: list[Evidence]) -> bool:
    order = (ranks.index(other.evidence), one.on or date.min)
    return order > (ranks.index(one.evidence), other.on or date.min)
