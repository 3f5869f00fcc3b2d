"""The inner-fit region: every position at which a rectangle lies wholly inside a shape.

The positions at which the rectangle would cross the boundary are the Minkowski sum of the boundary
with the rectangle reflected (J.-C. Latombe, *Robot Motion Planning*, 1991, ch. 3). What is left of
the shape's box is the region. A stretch of boundary that only ever rises, or only ever falls, is
swept in one polygon: its own two displaced copies bound the sweep, so that a frayed edge of five
hundred points needs few polygons rather than five hundred.
"""

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.turning import Points, turned


def rings_of(polygon: Polygon, turn: float) -> list[Points]:
    """The closed rings of ``polygon``, turned back by ``turn`` so that the part stands upright."""
    rings = (polygon.exterior, *polygon.interiors)
    return [turned(shapely.get_coordinates(ring), -turn) for ring in rings]


def inner_fit(rings: list[Points], width: float, height: float) -> list[Polygon]:
    """Positions of the rectangle's lower-left corner at which it crosses no ring.

    Besides the positions inside, those with the rectangle wholly outside (in a bay or a hole) are
    given too: the caller proves each placement. Position sets without area are not seen; make the
    rectangle a little smaller to find a fit without play.
    """
    left, low = rings[0].min(axis=0)
    right, high = rings[0].max(axis=0) - (width, height)
    if right <= left or high <= low:
        return []
    domain = shapely.box(left, low, right, high)
    sweeps = [sweep for ring in rings for sweep in _sweeps(ring, width, height)]
    free = shapely.difference(domain, shapely.union_all(sweeps))
    return polygons_of(free)


def polygons_of(geometry: BaseGeometry) -> list[Polygon]:
    """The polygons a geometry is made of; points and lines are left out."""
    parts = shapely.get_parts(geometry)
    return [part for part in parts.tolist() if isinstance(part, Polygon) and not part.is_empty]


def _sweeps(ring: Points, width: float, height: float) -> list[Polygon]:
    """Sweep each rising or falling stretch of a closed ring by the reflected rectangle."""
    steps = np.diff(ring, axis=0)
    keep = np.any(steps != 0.0, axis=1)
    ring = np.concatenate((ring[:1], ring[1:][keep]))
    swept: list[Polygon] = []
    start = 0
    signs = np.sign(steps[keep]).astype(int).tolist()
    way = [0, 0]
    for index, sign in enumerate(signs):
        if sign[0] * way[0] < 0 or sign[1] * way[1] < 0:
            swept.append(_sweep(ring[start : index + 1], width, height))
            start, way = index, [0, 0]
        way = [way[0] or sign[0], way[1] or sign[1]]
    swept.append(_sweep(ring[start:], width, height))
    return swept


def _sweep(chain: Points, width: float, height: float) -> Polygon:
    """The sweep of a chain that never turns back in x nor in y."""
    (x0, y0), (x1, y1) = chain[0], chain[-1]
    if x1 < x0 or (x1 == x0 and y1 < y0):
        chain = chain[::-1]
        (x0, y0), (x1, y1) = (x1, y1), (x0, y0)
    if y1 >= y0:
        below, above = chain + np.array((0.0, -height)), chain + np.array((-width, 0.0))
        first, last = (x0 - width, y0 - height), (x1, y1)
    else:
        below, above = chain + np.array((-width, -height)), chain
        first, last = (x0 - width, y0), (x1, y1 - height)
    return Polygon(np.concatenate(([first], below, [last], above[::-1])))
