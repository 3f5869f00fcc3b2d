"""A stretch of the edge of a scrap, as a photograph shows it."""

from dataclasses import dataclass
from enum import StrEnum

from bindery_stock.shape.outline import Ring


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
