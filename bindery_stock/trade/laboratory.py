"""What a laboratory found, or did not find, in a piece or in the covering of a volume."""

from dataclasses import dataclass
from datetime import date

from bindery_stock.trade.day_counts import written

METHODS = ("XRF", "Raman", "SEM-EDX", "polarised light microscopy")
"""How pigments are told in a laboratory: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabResult:
    """What a laboratory found, or did not find, in a piece."""

    substance: str
    """``arsenic``, ``lead``, ``chromium``, ``mercury``, ``asbestos``."""
    found: bool
    on: date | None
    laboratory: str
    method: str
    """``XRF``, ``Raman`` …"""

    @property
    def complete(self) -> bool:
        """Whether date, laboratory and method are there; without them it clears nothing."""
        return self.on is not None and bool(self.laboratory.strip()) and bool(self.method.strip())

    @property
    def words(self) -> str:
        """``arsenic: none found, XRF, county laboratory, 3 May 2025``."""
        said = "found" if self.found else "none found"
        day = written(self.on) if self.on is not None else "no date"
        where = self.laboratory.strip() or "no laboratory"
        return f"{self.substance}: {said}, {self.method or 'no method'}, {where}, {day}"
