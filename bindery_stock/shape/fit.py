"""Whether a rectangular part can be got out of a piece, and where.

A fit is exact or it is not offered: each placement found is proved against the outline itself
before it is given.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import Polygon
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

_PULLS = (1e-5, 1e-3, 1e-1)  # mm towards the middle of the region, where a corner itself fails
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
    barred = _barred(usable, width, height, turn)
    for polygon in usable.polygons:
        rings = rings_of(polygon, turn)
        middle = (rings[0].min(axis=0) + rings[0].max(axis=0) - (width, height)) / 2.0
        regions = inner_fit(rings, width - TOLERANCE, height - TOLERANCE, barred)
        for region in sorted(regions, key=lambda r: -r.area):
            tight = shapely.buffer(region, -PLAY / 2.0, join_style="mitre").is_empty
            yield from _proved(usable, region, middle, (width, height, turn), tight=tight)


def _barred(usable: Ground, width: float, height: float, turn: float) -> list[BaseGeometry]:
    """Positions at which a zone would lie on a flaw it must keep clear of."""
    return [
        touching(obstacle, (left, low, right - TOLERANCE, high - TOLERANCE))
        for spared, boxes in usable.clear_boxes(width, height)
        for polygon in polygons_of(spared.grown)
        for obstacle in [Polygon(*rings_of(polygon, turn)[:1])]
        for left, low, right, high in boxes
    ]


def _proved(
    usable: Ground,
    region: Polygon,
    middle: Points,
    size_and_turn: tuple[float, float, float],
    *,
    tight: bool,
) -> Iterator[Placement]:
    width, height, turn = size_and_turn
    corners = np.unique(shapely.get_coordinates(region), axis=0)
    order = np.argsort(-np.hypot(*(corners - middle).T), kind="stable")
    inside = shapely.get_coordinates(shapely.point_on_surface(region))[0]
    for corner in corners[order][:_TRIED_AT_MOST]:
        for x, y in _settlings(corner, inside):
            found = placement_at(x, y, width, height, turn, tight=tight)
            if usable.proves(np.array(found.corners), EXACT):
                yield found
                break
        else:
            x, y = corner - TOLERANCE / 2.0
            found = placement_at(x, y, width, height, turn, tight=True)
            if tight and usable.proves(np.array(found.corners), TOLERANCE / 2.0):
                yield found


def _settlings(corner: Points, inside: Points) -> Iterator[Points]:
    """Where the whole part may touch, given where a part smaller by the tolerance touches."""
    for shift in ((0.0, 0.0), (TOLERANCE, 0.0), (0.0, TOLERANCE), (TOLERANCE, TOLERANCE)):
        yield corner - shift
    way = inside - corner
    length = float(np.hypot(*way))
    for pull in _PULLS:
        if pull < length:
            yield corner + way * (pull / length)
