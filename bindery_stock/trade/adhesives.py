"""Adhesive classes, and what a lot must tell about itself."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Protocol, runtime_checkable

from bindery_stock.trade.properties import Property
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.uses import Use, Weight


class Since(StrEnum):
    """The day a shelf life counts from."""

    BOUGHT = "bought"
    OPENED = "opened"
    MADE = "made"


class Store(StrEnum):
    """Where a lot stands."""

    ROOM = "room"
    FRIDGE = "fridge"
    SHED = "shed"


class Frost(StrEnum):
    """What freezing does to a class."""

    ENDS = "ends it"
    HARMLESS = "harmless"
    UNKNOWN = "unknown"


@runtime_checkable
class Lot(Protocol):
    """What the rules need to know of a tin, jar or batch.

    What a rule reads is declared here, and nothing is read that is not.
    """

    @property
    def kind(self) -> str:
        """Key of the adhesive class: ``wheat-starch-paste``."""

    @property
    def bought(self) -> date | None:
        """Day of purchase."""

    @property
    def received(self) -> date | None:
        """Day it came in, where that is another than the day of purchase."""

    @property
    def opened(self) -> date | None:
        """Day first opened."""

    @property
    def made(self) -> date | None:
        """Day cooked, mixed or diluted."""

    @property
    def expires(self) -> date | None:
        """The supplier's own date."""

    @property
    def storage(self) -> str:
        """``room``, ``fridge`` or ``shed``."""

    @property
    def frozen_once(self) -> bool:
        """Whether it has ever been frozen."""

    @property
    def ph(self) -> float | None:
        """Measured pH, where measured."""

    @property
    def properties(self) -> tuple[Property, ...]:
        """What was tested, stated or seen."""

    @property
    def mixed_from(self) -> Sequence["Lot"]:
        """The lots it was mixed from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Life:
    """How long a class keeps, counted from one event in one place."""

    key: str
    since: Since
    store: Store | None
    """Only in this place; ``None`` for anywhere."""
    months: int = 0
    days: int = 0
    range_words: str = ""
    """The range that habit or sources give; the shorter end is the default."""
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """The verdict on an adhesive class for each use, before age and condition."""

    key: str
    weights: dict[Use, Weight]
    reason: str
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class AdhesiveClass:
    """One class of adhesive: what it is, how it ages, how it comes off again, how it is kept."""

    key: str
    name: str
    family: str
    """``starch``, ``dispersion``, ``cellulose ether``, ``protein``, ``tape`` …"""
    water: bool
    """Whether it is carried in water."""
    flammable: bool
    frost: Frost
    storage: str
    reversibility: str
    ageing: str
    ph: tuple[float, float] | None
    lives: tuple[Life, ...]
    provenance: Provenance
