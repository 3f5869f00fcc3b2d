"""A stretch of the edge of a scrap, as a photograph shows it."""

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import dist

from bindery_stock.shape.outline import Ring

SHORTEST_DOUBT = 3.0
"""mm: shorter stretches of doubtful edge do not make an outline poor."""


class EdgeSight(StrEnum):
    """What a stretch of edge looks like."""

    CLEAR = "clear"
    FRAYED = "frayed"
    SHADOW = "in shadow: it may stand up"
    CLOSE = "against something else"
    GLARE = "in glare"
    UNCLEAR = "unclear"


@dataclass(frozen=True)
class EdgeStretch:
    """A stretch of the outer outline, in its millimetres."""

    points: Ring
    sight: EdgeSight
    doubt: float
    """mm by which the true edge may lie elsewhere; of a frayed one, how wide the fray is."""

    @property
    def doubtful(self) -> bool:
        """Whether the binder should look at it."""
        return self.sight not in (EdgeSight.CLEAR, EdgeSight.FRAYED)

    @property
    def length(self) -> float:
        """mm along it."""
        return sum(dist(a, b) for a, b in pairwise(self.points))

    @property
    def long(self) -> bool:
        """Whether it is long enough to matter."""
        return self.length >= SHORTEST_DOUBT
