"""The placement that leaves the most useful offcut, and the one nearest to the hand."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from bindery_stock.shape.fit import all_positions, settle
from bindery_stock.shape.ground import Ground, ground
from bindery_stock.shape.outline import Flaw, Outline, Point
from bindery_stock.shape.placement import Placement, check_size, check_turns
from bindery_stock.shape.remnants import remains
from bindery_stock.shape.shaded_places import Shade, places_of_closest_shade, ways_to_lie
from bindery_stock.shape.turns import turned
from bindery_stock.shape.usable_rectangle import largest_on, rough_area
from bindery_stock.shape.zones import Zone

CORNERS_TRIED = 24
"""So many corners, spread over all positions, are weighed by what they leave."""
LEAST_AREA = 100.0
"""Remains smaller than this, mm², are not counted (our own choice)."""
AS_MUCH = 0.98
"""A placement that leaves this share of the most leaves as much (our own choice)."""
AT_EDGE_MM = 1.0
"""So near to the edge, the margin left out, a side lies at it: edges fray (our own choice)."""
_ROUGHLY_AS_MUCH = 0.95  # of a quick answer, which may fall short by so much
_MEASURED_AT_MOST = 3


def best_place(  # noqa: PLR0913 - one keyword for each thing the binder may decide
    outline: Outline,
    width: float,
    height: float,
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
    zones: Sequence[Zone] = (),
    knife: float = 0.0,
    shade: Shade | None = None,
) -> Placement | None:
    """Of the placements tried, the one that leaves the largest usable rectangle along the warp.

    Where several leave as much, the one that lies with most of its sides at the edge of the cloth,
    or at an earlier cut; then the fewest remains decide. With ``shade`` all of the piece is tried,
    and only placements of the closest colour are weighed so. Takes some tenths of a second: for
    the leading candidates, away from the window. Arguments and errors as
    :func:`bindery_stock.shape.place`; ``knife`` is the width in mm lost all round the part.
    """
    check_size(width, height)
    check_turns(tuple(turns))
    usable = ground(outline, margin=margin, flaws=flaws, zones=zones)
    if shade is None:
        found = spread_placements(
            usable, width, height, distinct_turns(turns, usable), CORNERS_TRIED
        )
    else:
        ways = ways_to_lie(turns, zones)
        found = places_of_closest_shade(usable, width, height, ways, shade)
    inner = shapely.buffer(outline.polygon, -(margin + AT_EDGE_MM), quad_segs=2)
    shapely.prepare(inner)
    weighed = [_weighed(outline, placement, flaws, knife, inner) for placement in found]
    most = max(weighed, key=lambda one: (round(one.area, 6), one.at_edge, -one.count), default=None)
    if most is None:
        return None
    close = [one for one in weighed if one.area >= _ROUGHLY_AS_MUCH * most.area]
    close.sort(key=lambda one: (-round(one.at_edge), one.count, -one.area))
    enough: float | None = None
    for one in close[:_MEASURED_AT_MOST]:
        if one is most:
            break
        if enough is None:
            enough = AS_MUCH * _largest_left(outline, most.placement, flaws, knife)
        if _largest_left(outline, one.placement, flaws, knife) >= enough:
            return one.placement
    return most.placement


def place_near(
    outline: Outline,
    width: float,
    height: float,
    near: Point,
    *,
    turn: float = 0.0,
    snap: float = 0.0,
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
) -> Placement | None:
    """The placement whose own lower-left corner lies nearest to ``near``, at one turn.

    Within ``snap`` mm a placement that touches the edge on two sides is taken instead.
    """
    usable = ground(outline, margin=margin, flaws=flaws)
    return near_on(usable, width, height, near, turn=turn, snap=snap)


def near_on(
    usable: Ground,
    width: float,
    height: float,
    near: Point,
    *,
    turn: float = 0.0,
    snap: float = 0.0,
) -> Placement | None:
    """As :func:`place_near`, on ground already prepared."""
    check_size(width, height)
    check_turns((turn,))
    at = turned(np.array([near], dtype=np.float64), -turn)[0]
    found = [
        placement
        for lain in all_positions(usable, width, height, turn)
        if (placement := settle(usable, lain, lain.positions.nearest(at, snap))) is not None
    ]
    return min(found, key=lambda p: _apart(p.corners[0], near), default=None)


def _apart(a: Point, b: Point) -> float:
    return float(np.hypot(a[0] - b[0], a[1] - b[1]))


def distinct_turns(turns: Sequence[float], usable: Ground) -> list[float]:
    """Turns without those that lay the part on the same ground again."""
    period = 360.0 if usable.has_an_up else 180.0
    return list({float(turn) % period: float(turn) for turn in reversed(turns)}.values())[::-1]


def spread_placements(
    usable: Ground, width: float, height: float, turns: Sequence[float], count: int
) -> list[Placement]:
    """Placements in up to ``count`` corners, each as far from the others as can be."""
    found = [lain for turn in turns for lain in all_positions(usable, width, height, turn)]
    if not found:
        return []
    corners = np.concatenate([lain.positions.corners for lain in found])
    owners = np.repeat(np.arange(len(found)), [len(lain.positions.corners) for lain in found])
    middles = np.array([lain.positions.middle for lain in found])[owners]
    apart = np.full(len(corners), np.inf)
    pick = int(np.argmax(np.hypot(*(corners - middles).T)))
    placements = []
    for _ in range(min(count, len(corners))):
        placed = settle(usable, found[owners[pick]], corners[pick])
        if placed is not None:
            placements.append(placed)
        others = np.hypot(*(corners - corners[pick]).T)
        apart = np.minimum(apart, np.where(owners == owners[pick], others, np.inf))
        apart[pick] = 0.0
        pick = int(np.argmax(apart))
    return placements


@dataclass(frozen=True, slots=True)
class _Weighed:
    """A placement, and what speaks for it."""

    placement: Placement
    area: float
    """Of the largest rectangle left, by a quick answer, mm²."""
    count: int
    """Remains of any use."""
    at_edge: float
    """Length of its sides that lie at the edge of the cloth, mm."""


def _weighed(
    outline: Outline,
    placement: Placement,
    flaws: Sequence[Flaw],
    knife: float,
    inner: shapely.Geometry,
) -> _Weighed:
    left = remains(outline, placement, knife=knife)
    largest = 0.0
    for remain in left:
        if remain.area > largest:
            largest = max(largest, rough_area(ground(remain, flaws=flaws)))
    sides = placement.polygon.exterior
    amid = float(shapely.length(shapely.intersection(inner, sides)))
    count = sum(remain.area > LEAST_AREA for remain in left)
    return _Weighed(placement, largest, count, float(sides.length) - amid)


def _largest_left(
    outline: Outline, placement: Placement, flaws: Sequence[Flaw], knife: float
) -> float:
    """Area of the largest rectangle left, mm²."""
    largest = 0.0
    for remain in remains(outline, placement, knife=knife):
        found = largest_on(ground(remain, flaws=flaws)) if remain.area > largest else None
        if found is not None:
            largest = max(largest, found.width * found.height)
    return largest
