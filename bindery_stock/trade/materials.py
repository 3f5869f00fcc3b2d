"""Published limits for materials, and what a material must tell about itself."""

from dataclasses import dataclass
from typing import Protocol, runtime_checkable

from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.vocabulary import Backing, Fibre, Kind


@runtime_checkable
class Material(Protocol):
    """What the rules need to know of a piece of stock.

    It may also keep ``properties`` (a tuple of ``Property``), ``colour_family`` (the ticked word),
    ``colours`` (readings with a ``lab``) and ``lab_results`` (a tuple of ``LabResult``).
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
