"""How the knife goes about a part: round it alone, in from the edge, or on to the end of the cloth.

A part cut round alone leaves a frame about it. As one cuts by hand the knife comes in from the
edge: what is thin between edge and part comes off with it, and no frame is left (common practice,
no source). Cuts taken on to the end are those of :mod:`bindery_stock.shape.shears`.
"""

from collections.abc import Iterator, Sequence
from enum import StrEnum
from itertools import pairwise
from math import hypot

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.inner_fit import polygons_of

SLIVER_MM = 15.0
"""What is nowhere as wide as this is proposed for throwing away, unless the binder sets another
width: a corner patch takes more. Common practice, no source."""
_TOUCHING = 1e-6  # mm


class KnifeWay(StrEnum):
    """How far a cut is taken."""

    ROUND = "round the part alone"
    IN = "in from the edge"
    THROUGH = "to the end of the cloth"


def is_thin(shape: BaseGeometry, least_width: float) -> bool:
    """Whether a shape is nowhere as wide as ``least_width`` mm, whichever way it runs."""
    return bool(shapely.buffer(shape, -least_width / 2.0 + 1e-9).is_empty)


def cut_in(
    left: Sequence[Polygon], parts: Sequence[Polygon], knife: float, sliver: float
) -> list[Polygon]:
    """What is left about ``parts``, where the knife comes in from the edge to each.

    What lies between a side of a part and the edge, nowhere ``sliver`` mm wide, comes off by
    itself. A part with more than that on every side is come at from the side where least is in the
    way. All of ``left`` is found again in what is returned.
    """
    cloth = shapely.union_all(list(left))
    off: list[Polygon] = []
    for part in parts:
        beyond = [_beyond(cloth, side, knife) for side in _sides(part, cloth)]
        thin = [strip for strip in beyond if is_thin(strip, sliver)]
        for strip in thin or [min(beyond, key=lambda each: float(each.area))]:
            off += polygons_of(shapely.difference(strip, shapely.union_all(off)))
    body = polygons_of(shapely.difference(cloth, shapely.union_all(off)))
    pieces = [*body, *off]
    # What hangs between two thin strips, as at a corner, comes off with them.
    return [each for each in pieces if not is_thin(each, sliver)] + _joined(
        [each for each in pieces if is_thin(each, sliver)], sliver
    )


def _joined(slivers: Sequence[Polygon], sliver: float) -> list[Polygon]:
    """Slivers that touch as one, as long as that is a sliver too."""
    found: list[Polygon] = []
    for whole in polygons_of(shapely.union_all(list(slivers))):
        if is_thin(whole, sliver):
            found.append(whole)
        else:
            inside = [e for e in slivers if shapely.covers(whole, shapely.point_on_surface(e))]
            found += inside
    return found


def _sides(part: Polygon, cloth: BaseGeometry) -> Iterator[tuple[Polygon, shapely.LineString]]:
    """For each side all that lies straight out from it, and the side itself."""
    left, low, right, high = shapely.union(part, cloth).bounds
    far = hypot(right - left, high - low)
    ring = shapely.get_coordinates(shapely.orient_polygons(part).exterior)
    for (ax, ay), (bx, by) in pairwise(ring.tolist()):
        length = hypot(bx - ax, by - ay)
        dx, dy = (by - ay) / length * far, (ax - bx) / length * far
        out = Polygon(((ax, ay), (ax + dx, ay + dy), (bx + dx, by + dy), (bx, by)))
        yield out, shapely.LineString(((ax, ay), (bx, by)))


def _beyond(
    cloth: BaseGeometry, side: tuple[Polygon, shapely.LineString], knife: float
) -> BaseGeometry:
    """The cloth straight out from a side, as far as it hangs together from there."""
    out, line = side
    found = polygons_of(shapely.intersection(cloth, out))
    near = [each for each in found if shapely.distance(each, line) <= knife + _TOUCHING]
    return shapely.union_all(near)
