"""The recognised treatments: when each is right, what it asks for, its steps, and its sources."""

from collections.abc import Mapping
from dataclasses import dataclass

from bindery_stock.errors import EntryError
from bindery_stock.trade.conditions import Condition
from bindery_stock.trade.glossary import GlossaryTerm
from bindery_stock.trade.properties import PropertyKind
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.sizing_rules import Role
from bindery_stock.trade.survey import Harm

LEAVE = "leave"
"""The treatment that is none: what bars work leaves it open."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What must be so for a treatment to be right; all of its conditions."""

    fact: PropertyKind
    conditions: tuple[Condition, ...]
    kinds: frozenset[str]
    """The kinds of damage it is asked of; empty for all."""
    refused: str
    """Said where it is not so."""
    change: str
    """What would change it."""
    provenance: Provenance

    def concerns(self, kind: str) -> bool:
        """Whether it is asked of that kind of damage."""
        return not self.kinds or kind in self.kinds


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentStep:
    """One step at the bench, and how long it dries after, in hours."""

    stage: int
    """Its place in the order of work on a whole book."""
    do: str
    dry_low: float = 0.0
    dry_high: float = 0.0
    under: str = ""
    """How it dries."""
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentRule:
    """One recognised treatment."""

    key: str
    term: GlossaryTerm
    right: str
    not_right: str
    wet: bool
    """Whether water or paste meets cloth or leaf."""
    undo: str
    """How far it can be undone; the classes are proposed."""
    adhesive: str
    parts: tuple[Role, ...]
    """What its sums may give, by the habits of the survey."""
    ticks: tuple[Harm, ...]
    """The survey's words by which parts and hours are worked out."""
    also: tuple[Harm, ...]
    """Further ones, kept where the damage is of that kind."""
    within: tuple[str, ...]
    """Treatments whose work takes this one in."""
    lending: bool
    """Whether it is published for lending stock, not for volumes of value."""
    cautions: tuple[str, ...]
    note: str
    needs: tuple[Need, ...]
    steps: tuple[TreatmentStep, ...]
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class Treatments:
    """Every treatment by its name, with the facts they ask for and what bars them."""

    by_key: Mapping[str, TreatmentRule]
    facts: Mapping[str, PropertyKind]
    work_bar: Need
    """What stops all work."""
    wet_bar: Need
    """What stops wet work."""

    def __getitem__(self, key: str) -> TreatmentRule:
        """The treatment of that name. Raises ``EntryError`` where there is none."""
        if key not in self.by_key:
            raise EntryError("Treatment", f"There is no treatment “{key}”. Choose one of the list.")
        return self.by_key[key]

    def needs(self, treatment: TreatmentRule) -> tuple[Need, ...]:
        """All that it needs, what bars it first."""
        bars = () if treatment.key == LEAVE else (self.work_bar,)
        wet = (self.wet_bar,) if treatment.wet else ()
        return (*bars, *wet, *treatment.needs)
