"""The inner-fit region: every position at which a rectangle lies wholly inside a shape.

The positions at which the rectangle would cross the boundary are the Minkowski sum of the boundary
with the rectangle reflected (J.-C. Latombe, *Robot Motion Planning*, 1991, ch. 3). What is left of
the shape's box is the region. A stretch of boundary that only ever rises, or only ever falls, is
swept in one polygon: its own two displaced copies bound the sweep, so that a frayed edge of five
hundred points needs few polygons rather than five hundred. A hole without dents is swept whole.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.turns import Points, turned

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
    edges, whole = [rings[0]], list[Points]()
    for hole in rings[1:]:
        (whole if is_convex(hole) else edges).append(hole)
    swept = [*_sweeps(edges, width, height), *_grown(whole, width, height), *barred]
    free = _without(domain, swept)
    return polygons_of(free)


def touching(obstacle: Polygon, box: Box) -> BaseGeometry:
    """Positions of a part's lower-left corner at which its ``box`` meets a filled obstacle.

    The sweep of the boundary alone would miss an obstacle wholly under the box, or a box wholly
    inside the obstacle: the obstacle itself is among the positions.
    """
    left, low, right, high = box
    size = (right - left, high - low)
    rings = rings_of(obstacle, 0.0)
    met: BaseGeometry
    if len(rings) == 1 and is_convex(rings[0]):
        met = _grown(rings, *size)[0]
    else:
        met = _united([*_sweeps(rings, *size), obstacle])
    return shapely.transform(met, lambda points: points - np.array((left, low)))


def _without(domain: Polygon, shapes: list[BaseGeometry]) -> BaseGeometry:
    """What the shapes leave of the domain.

    They are taken off one by one, the largest first: little is soon left to work on, and often
    nothing, long before the small ones have their turn.
    """
    column = np.array(shapes, dtype=object)
    free: BaseGeometry = domain
    try:
        for each in column[np.argsort(-shapely.area(column))]:
            free = shapely.difference(free, each)
            if free.is_empty:
                break
    except shapely.GEOSException:
        free = shapely.difference(domain, _united(shapes))
    return free


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


def is_convex(ring: Points) -> bool:
    """Whether a closed ring turns one way only."""
    sides = np.diff(ring, axis=0)
    after = np.concatenate((sides[1:], sides[:1]))
    turns = sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0]
    return bool(turns.min() >= 0.0 or turns.max() <= 0.0)


def _grown(rings: list[Points], width: float, height: float) -> Geometries:
    """Where the reflected rectangle meets the filled convex rings."""
    corners = ((0.0, 0.0), (-width, 0.0), (-width, -height), (0.0, -height))
    shifted = [ring + corner for ring in rings for corner in corners]
    owner = np.repeat(np.arange(len(rings)), [4 * len(ring) for ring in rings])
    if not rings:
        return np.empty(0, dtype=object)
    return np.asarray(
        shapely.convex_hull(shapely.multipoints(np.concatenate(shifted), indices=owner))
    )


def _sweeps(rings: list[Points], width: float, height: float) -> Geometries:
    """Sweep each rising or falling stretch of closed rings by the reflected rectangle."""
    points, first, last = _stretches(rings)
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


def _stretches(rings: list[Points]) -> tuple[Points, Indices, Indices]:
    """The corners, and first and last of every stretch that never turns back in x nor in y."""
    points = np.concatenate(rings)
    begins = np.zeros(len(points), dtype=np.bool_)
    begins[np.cumsum([0, *(len(ring) for ring in rings[:-1])])] = True
    keep = begins.copy()
    keep[1:] |= (points[1:] != points[:-1]).any(axis=1)  # without repeats
    points, begins = points[keep], begins[keep]

    way = np.sign(np.diff(points, axis=0))
    gaps = begins[1:]  # from the end of one ring to the beginning of the next
    known = (way != 0.0) | (begins[:-1] | gaps)[:, None]
    # a side square to an axis goes along with the side before it
    at = np.maximum.accumulate(np.where(known, np.arange(len(way))[:, None], 0))
    way = np.take_along_axis(way, at, axis=0)
    way[gaps] = np.inf
    first = np.concatenate(([0], np.flatnonzero((way[1:] != way[:-1]).any(axis=1)) + 1))
    last = np.concatenate((first[1:], [len(way)]))
    real = ~gaps[first]
    return points, first[real], last[real]
