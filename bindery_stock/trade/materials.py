"""Published limits for materials, and what a material must tell about itself."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, runtime_checkable

from bindery_stock.trade.laboratory import LabResult
from bindery_stock.trade.properties import Property
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.vocabulary import Backing, Fibre, Kind


class Vouched(Protocol):
    """What vouches for a colour."""

    @property
    def is_measured(self) -> bool:
        """Whether it was measured, and not only seen in a photograph without a reference."""


class Read(Protocol):
    """A reading of a colour."""

    @property
    def read_by(self) -> Vouched:
        """What vouches for it."""

    @property
    def lab(self) -> tuple[float, float, float]:
        """CIELAB (D50, 2° observer)."""


@runtime_checkable
class Material(Protocol):
    """What the rules need to know of a piece of stock.

    What a rule reads is declared here, and nothing is read that is not.
    """

    @property
    def kind(self) -> Kind:
        """Cloth, leather, mull …"""

    @property
    def backing(self) -> Backing:
        """What closes the weave behind."""

    @property
    def fibre(self) -> Fibre:
        """What the threads are."""

    @property
    def source_date(self) -> str:
        """The date of the source as written."""

    @property
    def source(self) -> str | None:
        """Where it came from, in words; None where that is not asked of it."""

    @property
    def colour_family(self) -> str:
        """The colour family ticked by the binder, or empty."""

    @property
    def colours(self) -> Sequence[Read]:
        """Every colour that was read on it."""

    @property
    def properties(self) -> tuple[Property, ...]:
        """What was tested, stated or seen."""

    @property
    def lab_results(self) -> tuple[LabResult, ...]:
        """What a laboratory found, or did not find."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One number that a standard, a paper or this program sets."""

    key: str
    value: float
    unit: str
    standard: str
    """Name and year of the standard or the work that sets it."""
    test: str
    """Name of the test method."""
    provenance: Provenance


def tear_required(grammage: float, slope: float, intercept: float, flat: float) -> float:
    """Least tearing resistance in mN of a paper of ``grammage`` g/m².

    ``slope × grammage − intercept`` up to the grammage where that meets ``flat``, and ``flat``
    above. ISO 9706:1994 sets 6, 70 and 350: 6 × 70 − 70 = 350 at 70 g/m².
    """
    return min(flat, slope * grammage - intercept)
