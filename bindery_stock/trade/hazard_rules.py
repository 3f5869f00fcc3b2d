"""The rules by which a hazard is raised, as read from the rules files."""

from dataclasses import dataclass
from enum import StrEnum

from bindery_stock.trade.conditions import Condition
from bindery_stock.trade.provenance import Provenance


class Level(StrEnum):
    """How loudly a hazard speaks."""

    INFO = "note"
    CAUTION = "caution"
    STOP = "stop"

    @property
    def rank(self) -> int:
        """Larger is graver."""
        return list(Level).index(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourFamily:
    """A family of cloth colours: the words a binder ticks and a wide range of measured colour.

    Hue angle and chroma are CIELAB (D50, 2°). The range may raise a caution and never clears one.
    """

    key: str
    hue: tuple[float, float]
    """From, to in degrees, counter-clockwise; may run through 0."""
    chroma_from: float
    lightness: tuple[float, float]
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardRule:
    """When a hazard is raised and what is said."""

    key: str
    name: str
    level: Level
    applies: frozenset[str]
    families: frozenset[str]
    """Colour families; empty for any colour."""
    years: tuple[int, int] | None
    undated: bool
    """Whether an unknown date falls under it."""
    every: tuple[Condition, ...]
    substances: frozenset[str]
    """What a laboratory must look for to lower it; empty where no result can."""
    found: bool
    """Whether it is raised by a laboratory's finding one of its substances, and by nothing else."""
    stops_wet_work: bool
    look: str
    caution: str
    advice: tuple[str, ...]
    would_change: str
    provenance: Provenance
