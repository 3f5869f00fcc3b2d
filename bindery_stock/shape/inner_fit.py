"""The inner-fit region: every position at which a rectangle lies wholly inside a shape.

The positions at which the rectangle would cross the boundary are the Minkowski sum of the boundary
with the rectangle reflected (J.-C. Latombe, *Robot Motion Planning*, 1991, ch. 3). What is left of
the shape's box is the region. A stretch of boundary that only ever rises, or only ever falls, is
swept in one polygon: its own two displaced copies bound the sweep, so that a frayed edge of five
hundred points needs few polygons rather than five hundred.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.turning import Points, turned

Geometries = npt.NDArray[np.object_]
Box = tuple[float, float, float, float]
Indices = npt.NDArray[np.intp]
_GRID_MM = 1e-7


def rings_of(polygon: Polygon, turn: float) -> list[Points]:
    """The closed rings of ``polygon``, turned back by ``turn`` so that the part stands upright."""
    rings = (polygon.exterior, *polygon.interiors)
    return [turned(shapely.get_coordinates(ring), -turn) for ring in rings]


def inner_fit(
    rings: list[Points],
    width: float,
    height: float,
    barred: Sequence[BaseGeometry] = (),
) -> list[Polygon]:
    """Positions of the rectangle's lower-left corner at which it crosses no ring.

    ``barred`` are further sets of positions to leave out.

    Besides the positions inside, those with the rectangle wholly outside (in a bay or a hole) are
    given too: the caller proves each placement. Position sets without area are not seen; make the
    rectangle a little smaller to find a fit without play.
    """
    left, low = rings[0].min(axis=0)
    right, high = rings[0].max(axis=0) - (width, height)
    if right <= left or high <= low:
        return []
    domain = shapely.box(left, low, right, high)
    sweeps = _sweeps(rings, width, height)
    free = shapely.difference(domain, _united([*sweeps, *barred]))
    return polygons_of(free)


def touching(obstacle: Polygon, box: Box) -> BaseGeometry:
    """Positions of a part's lower-left corner at which its ``box`` meets a filled obstacle.

    The sweep of the boundary alone would miss an obstacle wholly under the box, or a box wholly
    inside the obstacle: the obstacle itself is among the positions.
    """
    left, low, right, high = box
    sweeps = _sweeps(rings_of(obstacle, 0.0), right - left, high - low)
    met = _united([*sweeps, obstacle])
    return shapely.transform(met, lambda points: points - np.array((left, low)))


def _united(shapes: list[BaseGeometry]) -> BaseGeometry:
    """The union of shapes, whatever their sides; each placement on it is proved by the caller."""
    try:
        return shapely.union_all(shapes)
    except shapely.GEOSException:
        # A sweep or an obstacle that runs along itself is no valid polygon, and now and then the
        # union breaks on it; made valid and set on a fine grid it does not.
        return shapely.union_all(shapely.make_valid(shapes), grid_size=_GRID_MM)


def polygons_of(geometry: BaseGeometry) -> list[Polygon]:
    """The polygons a geometry is made of; points and lines are left out."""
    if isinstance(geometry, Polygon):
        return [] if geometry.is_empty else [geometry]
    parts = shapely.get_parts(geometry)
    return [part for part in parts.tolist() if isinstance(part, Polygon) and not part.is_empty]


def _sweeps(rings: list[Points], width: float, height: float) -> Geometries:
    """Sweep each rising or falling stretch of closed rings by the reflected rectangle."""
    rings = [_without_repeats(ring) for ring in rings]
    points = np.concatenate(rings)
    first, last = _stretches(rings)
    start, end = points[first], points[last]
    back = (end[:, 0] < start[:, 0]) | ((end[:, 0] == start[:, 0]) & (end[:, 1] < start[:, 1]))
    first, last = np.where(back, last, first), np.where(back, first, last)
    start, end = points[first], points[last]
    rising = (end[:, 1] >= start[:, 1])[:, None]
    below = np.where(rising, (0.0, -height), (-width, -height))
    above = np.where(rising, (-width, 0.0), (0.0, 0.0))
    before = start + np.where(rising, (-width, -height), (-width, 0.0))
    after = end + np.where(rising, (0.0, 0.0), (0.0, -height))

    counts = np.abs(last - first) + 1  # corners of each stretch
    stretch = np.repeat(np.arange(len(counts)), counts)
    along = np.arange(len(stretch)) - np.repeat(np.cumsum(counts) - counts, counts)
    step = np.where(last >= first, 1, -1)[stretch]
    sizes = 2 * counts + 3  # before, the stretch below, after, the stretch above, before again
    offset = np.cumsum(sizes) - sizes
    corners = np.empty((int(sizes.sum()), 2))
    corners[offset] = corners[offset + sizes - 1] = before
    corners[offset + 1 + counts] = after
    corners[offset[stretch] + 1 + along] = points[first[stretch] + step * along] + below[stretch]
    back_up = points[last[stretch] - step * along] + above[stretch]
    corners[offset[stretch] + 2 + counts[stretch] + along] = back_up
    closed = shapely.linearrings(corners, indices=np.repeat(np.arange(len(sizes)), sizes))
    return np.asarray(shapely.polygons(closed))


def _without_repeats(ring: Points) -> Points:
    keep = np.any(ring[1:] != ring[:-1], axis=1)
    return np.concatenate((ring[:1], ring[1:][keep]))


def _stretches(rings: list[Points]) -> tuple[Indices, Indices]:
    """First and last corner of every stretch that never turns back in x nor in y."""
    firsts, lasts, offset = [], [], 0
    for ring in rings:
        signs = np.sign(np.diff(ring, axis=0))
        way = np.stack([_filled(signs[:, 0]), _filled(signs[:, 1])], axis=1)
        turns = np.flatnonzero(np.any(way[1:] != way[:-1], axis=1)) + 1
        firsts.append(offset + np.concatenate(([0], turns)))
        lasts.append(offset + np.concatenate((turns, [len(ring) - 1])))
        offset += len(ring)
    return np.concatenate(firsts), np.concatenate(lasts)


def _filled(signs: Points) -> Points:
    """Signs with each zero replaced by the sign before it: a side square to an axis goes along."""
    known = np.maximum.accumulate(np.where(signs != 0.0, np.arange(len(signs)), 0))
    return signs[known]
