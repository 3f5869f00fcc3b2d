"""A connected set of positions in which a part lies inside a piece, and how it settles there."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely import Point, Polygon

from bindery_stock.shape.turns import Points

TOLERANCE = 1e-6
"""A part without any play is found where it is at most this much too large, mm."""
PLAY = 0.05
"""With less play than this, mm, a fit is told as tight."""
_HALF = TOLERANCE / 2.0
_TOUCHES = ((_HALF, _HALF), (-_HALF, _HALF), (_HALF, -_HALF), (-_HALF, -_HALF))
_PULLS = (1e-5, 1e-3, 1e-1)  # mm off the edge, where touching it cannot be proved


@dataclass(frozen=True)
class Positions:
    """Positions of a part's reference point, in the frame turned back by the part's turn.

    They hold for a part smaller by half the tolerance all round.
    """

    region: Polygon
    offset: float
    """What to add to a position of ``region`` for the whole part's reference point, mm."""
    middle: Points
    """The position in which the part lies in the middle of the piece's extents."""

    @cached_property
    def tight(self) -> bool:
        """Whether the part has hardly any play."""
        return bool(shapely.buffer(self.region, -PLAY / 2.0, join_style="mitre").is_empty)

    @cached_property
    def inside(self) -> Points:
        """A position well within the set."""
        return np.asarray(shapely.get_coordinates(shapely.point_on_surface(self.region))[0])

    @cached_property
    def corners(self) -> Points:
        """The positions in which the part touches the edge on two sides."""
        rings = (self.region.exterior, *self.region.interiors)
        return np.concatenate([shapely.get_coordinates(ring)[:-1] for ring in rings])

    @property
    def outermost(self) -> Points:
        """The corners, furthest from the middle of the piece first."""
        apart = np.hypot(*(self.corners - self.middle).T)
        return self.corners[np.argsort(-apart, kind="stable")]

    def nearest(self, at: Points, snap: float) -> Points:
        """The corner within ``snap`` mm of a position, else the position nearest to it."""
        apart = np.hypot(*(self.corners - at).T)
        if apart.min() <= snap:
            return np.asarray(self.corners[int(apart.argmin())])
        line = shapely.shortest_line(self.region, Point(at))
        return np.asarray(shapely.get_coordinates(line)[0])

    def settlings(self, corner: Points) -> Iterator[Points]:
        """Where the whole part may lie at a corner: touching, else off the edge by a little."""
        for shift in _TOUCHES:
            yield corner + self.offset + shift
        for pull in _PULLS:
            core = shapely.buffer(self.region, -pull, join_style="mitre")
            if core.is_empty:
                return
            line = shapely.shortest_line(core, Point(corner))
            yield np.asarray(shapely.get_coordinates(line)[0]) + self.offset
