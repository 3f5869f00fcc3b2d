"""Whether a rectangular part can be got out of a piece, and where.

A fit is exact or it is not offered: each placement found is proved against the outline itself
before it is given.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.inner_fit import inner_fit, polygons_of, rings_of, touching
from bindery_stock.shape.outline import Flaw, Outline
from bindery_stock.shape.placement import Placement, check_size, check_turns, placement_at
from bindery_stock.shape.turning import Points
from bindery_stock.shape.zones import WHERE_FLAWS_MAY_LIE, FlawRule, Zone

TOLERANCE = 1e-6
"""A part without any play is found where it is at most this much too large, mm."""
PLAY = 0.05
"""With less play than this, mm, a fit is told as tight."""

_PULLS = (1e-5, 1e-3, 1e-1)  # mm off the edge, where touching it cannot be proved
_TRIED_AT_MOST = 40  # corners of one connected set of positions


def place(
    outline: Outline,
    width: float,
    height: float,
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
    zones: Sequence[Zone] = (),
    rule: FlawRule = WHERE_FLAWS_MAY_LIE,
) -> Placement | None:
    """A placement of a part of ``width`` × ``height`` mm in ``outline``, or ``None``.

    At turn 0 the width lies along x (across the warp) and the height along y (along the warp).
    ``turns`` are degrees counter-clockwise, tried in their order. ``margin`` is the least distance
    in mm to the edge, a hole or a flaw; touching counts as fitting. ``zones``
    divide the part into shown and hidden, and ``rule`` says which kind of flaw may lie where; a
    part without zones keeps clear of every flaw that may not be shown. Raises ``ShapeError`` for a
    part without size, a margin below nothing or no turn at all.
    """
    check_size(width, height)
    check_turns(tuple(turns))
    usable = ground(outline, margin=margin, flaws=flaws, zones=zones, rule=rule)
    return place_on(usable, width, height, turns)


def place_on(
    usable: Ground, width: float, height: float, turns: Sequence[float]
) -> Placement | None:
    """As :func:`place`, on ground already prepared."""
    refused: set[float] = set()
    for turn in turns:
        # a rectangle turned by half lies on itself, unless its zones differ
        half_turn = float(turn) % (360.0 if usable.has_an_up else 180.0)
        if half_turn in refused:
            continue
        for found in placements(usable, width, height, float(turn)):
            return found
        refused.add(half_turn)
    return None


def placements(usable: Ground, width: float, height: float, turn: float) -> Iterator[Placement]:
    """Proved placements at one turn, in the corners of the piece, outermost first."""
    for positions in all_positions(usable, width, height, turn):
        corners = positions.corners
        order = np.argsort(-np.hypot(*(corners - positions.middle).T), kind="stable")
        for corner in corners[order][:_TRIED_AT_MOST]:
            found = settle(usable, positions, corner)
            if found is not None:
                yield found


@dataclass(frozen=True)
class Positions:
    """A connected set of positions of the part's lower-left corner at one turn.

    In the frame turned back by ``turn``, for a part smaller by the tolerance.
    """

    region: Polygon
    width: float
    height: float
    turn: float
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
        return np.unique(shapely.get_coordinates(self.region), axis=0)

    @cached_property
    def cores(self) -> list[BaseGeometry]:
        """The positions drawn in by a little: the part as near to the edge as can be proved."""
        drawn = (shapely.buffer(self.region, -pull, join_style="mitre") for pull in _PULLS)
        return [core for core in drawn if not core.is_empty]

    def placed(self, at: Points, *, tight: bool) -> Placement:
        """The part with its lower-left corner at ``at``."""
        return placement_at(
            float(at[0]), float(at[1]), self.width, self.height, self.turn, tight=tight
        )


def all_positions(usable: Ground, width: float, height: float, turn: float) -> Iterator[Positions]:
    """Every connected set of positions in which the part lies inside, the roomiest first."""
    barred = _barred(usable, width, height, turn)
    for polygon in usable.polygons:
        rings = rings_of(polygon, turn)
        middle = (rings[0].min(axis=0) + rings[0].max(axis=0) - (width, height)) / 2.0
        regions = inner_fit(rings, width - TOLERANCE, height - TOLERANCE, barred)
        for region in sorted(regions, key=lambda r: -r.area):
            positions = Positions(region, width, height, turn, middle)
            if _proved(usable, positions, positions.inside - TOLERANCE / 2.0, TOLERANCE / 2.0):
                yield positions


def _barred(usable: Ground, width: float, height: float, turn: float) -> list[BaseGeometry]:
    """Positions at which a zone would lie on a flaw it must keep clear of."""
    return [
        touching(obstacle, (left, low, right - TOLERANCE, high - TOLERANCE))
        for spared, boxes in usable.clear_boxes(width, height)
        for polygon in polygons_of(spared.grown)
        for obstacle in [Polygon(*rings_of(polygon, turn)[:1])]
        for left, low, right, high in boxes
    ]


def settle(usable: Ground, positions: Positions, corner: Points) -> Placement | None:
    """The proved placement at a corner of the positions or as near to it as can be."""
    for at in _settlings(positions, corner):
        if _proved(usable, positions, at, EXACT):
            return positions.placed(at, tight=positions.tight)
    at = corner - TOLERANCE / 2.0
    if positions.tight and _proved(usable, positions, at, TOLERANCE / 2.0):
        return positions.placed(at, tight=True)
    return None


def _proved(usable: Ground, positions: Positions, at: Points, slack: float) -> bool:
    return usable.proves(np.array(positions.placed(at, tight=True).corners), slack)


def _settlings(positions: Positions, corner: Points) -> Iterator[Points]:
    """Where the whole part may touch, given where a part smaller by the tolerance touches."""
    for shift in ((0.0, 0.0), (TOLERANCE, 0.0), (0.0, TOLERANCE), (TOLERANCE, TOLERANCE)):
        yield corner - shift
    for core in positions.cores:
        yield np.asarray(shapely.get_coordinates(shapely.shortest_line(core, Point(corner)))[0])
