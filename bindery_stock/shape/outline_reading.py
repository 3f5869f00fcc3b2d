"""An outline found in a photograph, and how far to trust it."""

from dataclasses import dataclass

from bindery_stock.shape.edge_stretch import EdgeSight, EdgeStretch
from bindery_stock.shape.outline import Outline

GOOD_CONTRAST = 0.35
"""Difference of the logarithms of coded pixels above which the contrast is good."""


@dataclass(frozen=True)
class OutlineReading:
    """An outline found in a photograph, not yet confirmed."""

    outline: Outline
    inward: float
    """mm by which it lies inside the line halfway between ground and scrap, on the average."""
    contrast: float
    """Difference of scrap and ground as logarithms of coded pixels; above 0.35 is good."""
    stretches: tuple[EdgeStretch, ...] = ()
    """The outer outline in stretches, each with what is seen beyond it."""
    warnings: tuple[str, ...] = ()
    """Whatever else keeps it from being good, as sentences."""
    whole: bool = True
    """Whether it is surely of one scrap, and the whole of it."""

    @property
    def doubtful(self) -> tuple[EdgeStretch, ...]:
        """The stretches to look at, long enough to matter."""
        return tuple(s for s in self.stretches if s.doubtful and s.long)

    @property
    def good(self) -> bool:
        """Whether nothing speaks against it."""
        return self.contrast >= GOOD_CONTRAST and not self.warnings and not self.doubtful

    def words(self) -> str:
        """What to tell the binder."""
        said = [f"Drawn {self.inward:.1f} mm inward, as wide as the fray is seen"]
        if self.contrast < GOOD_CONTRAST:
            said.append("contrast poor: check every side")
        elif self.good:
            said.append("edge good")
        frays = [s.doubt for s in self.stretches if s.sight is EdgeSight.FRAYED and s.long]
        if frays:
            said.append(f"fray left out where it is seen, {min(frays):.1f} to {max(frays):.1f} mm")
        if self.doubtful:
            length = sum(s.length for s in self.doubtful)
            kinds = ", ".join(dict.fromkeys(str(s.sight) for s in self.doubtful))
            said.append(f"look at {length:.0f} mm of edge ({kinds})")
        return " ".join((f"{'; '.join(said)}.", *self.warnings))
