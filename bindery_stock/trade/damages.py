"""Kinds of damage, and one damage with its place and its extent.

Extents are mm; *along* runs with the spine, or with its own edge where an edge is worn.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bindery_stock.errors import EntryError
from bindery_stock.trade.book_places import BookPlace, reach
from bindery_stock.trade.glossary import GlossaryTerm
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.survey import Harm
from bindery_stock.units import format_mm


@dataclass(frozen=True, slots=True)
class TickPlaces:
    """A tick of the survey, and the places it may speak of."""

    harm: Harm
    places: tuple[BookPlace, ...]
    all: bool = False
    """Whether one tick speaks of every one of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DamageKind:
    """What is known of a kind of damage before any book is seen."""

    key: str
    term: GlossaryTerm
    places: tuple[BookPlace, ...]
    along: str = ""
    """What is measured along, in words; empty where nothing is."""
    across: str = ""
    whole: bool = False
    """Whether an extent left out means all of its place."""
    counted: bool = False
    """Whether one entry may stand for several, as of leaves."""
    ticks: tuple[TickPlaces, ...]
    treatments: tuple[str, ...]
    """From least to most."""
    provenance: Provenance

    def harm_at(self, place: BookPlace) -> Harm:
        """The survey's word for it at that place; for all its places where it has no other."""
        fitting = [tick for tick in self.ticks if place in tick.places] or list(self.ticks)
        return min(fitting, key=lambda tick: tick.all).harm


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedDamage:
    """One damage of one volume: what, where, how far."""

    kind: str
    """A key of ``damages.toml``."""
    place: BookPlace
    along: float | None = None
    across: float | None = None
    count: int = 1
    goes_on: bool = True
    """False where the binder has seen that it is stable."""

    def __post_init__(self) -> None:
        """Refuse figures that are none."""
        if self.count < 1:
            raise EntryError("Count", "Count: must be 1 or more.")
        for words, value in (("Along", self.along), ("Across", self.across)):
            if value is not None and not (math.isfinite(value) and value > 0):
                raise EntryError(words, f"{words}: must be more than zero; measure it again.")


@dataclass(frozen=True, slots=True)
class DamageKinds:
    """Every kind of damage, by its name."""

    by_key: Mapping[str, DamageKind]

    def __getitem__(self, key: str) -> DamageKind:
        """The kind of that name. Raises ``EntryError`` where there is none."""
        if key not in self.by_key:
            raise EntryError("Damage", f"There is no damage “{key}”. Choose one of the list.")
        return self.by_key[key]

    def words(self, damage: PlacedDamage) -> str:
        """``corner worn through``."""
        return self[damage.kind].term.british

    def check(self, damage: PlacedDamage, measures: Measures) -> None:
        """Refuse a damage that cannot be at its place of this volume.

        Raises ``EntryError`` naming what is wrong and the mend.
        """
        kind = self[damage.kind]
        name = kind.term.british.capitalize()
        if damage.place not in (*kind.places, BookPlace.NOT_SAID):
            raise EntryError("Place", f"{name}: this is not found there; give another place.")
        if damage.count > 1 and not kind.counted and damage.place is not BookPlace.NOT_SAID:
            raise EntryError("Count", f"{name}: one place has it once; enter the others by place.")
        most = reach(damage.place, measures)
        if damage.place is BookPlace.NOT_SAID:
            most = _furthest(kind, measures)
        self._extent(name, ("Along", kind.along, damage.along), most[0], kind.whole)
        self._extent(name, ("Across", kind.across, damage.across), most[1], kind.whole)

    @staticmethod
    def _extent(
        name: str, entry: tuple[str, str, float | None], most: float | None, whole: bool
    ) -> None:
        field, asked, value = entry
        if value is None:
            if asked and not whole:
                raise EntryError(field, f"{name}: measure it ({asked}).")
            return
        if not asked:
            raise EntryError(field, f"{name}: nothing is measured this way; leave it empty.")
        if most is not None and value > most:
            raise EntryError(
                field,
                f"{name}: {format_mm(value)} {asked} is more than the {format_mm(most)} there "
                "are; measure both again.",
            )


def _furthest(kind: DamageKind, measures: Measures) -> tuple[float | None, float | None]:
    """The furthest that any of its places goes; ``None`` where one of them is not known."""
    ends = [reach(place, measures) for place in kind.places]
    along, across = ([end[axis] for end in ends] for axis in (0, 1))
    return _most(along), _most(across)


def _most(values: Sequence[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return max(known) if known and len(known) == len(values) else None
