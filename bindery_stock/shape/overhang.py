"""How a part laid down by hand lies: whether it fits, and if not, by how much it is over."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from bindery_stock.shape.ground import EXACT, ground
from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.outline import Flaw, Outline, Point
from bindery_stock.shape.placement import Placement


@dataclass(frozen=True, slots=True)
class Lie:
    """How a part lies on a piece."""

    fits: bool
    over: float
    """By how many mm it reaches beyond what may be used; nothing where it fits."""
    at: Point | None
    """Where it reaches furthest."""


def lie(
    outline: Outline,
    placement: Placement,
    *,
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
) -> Lie:
    """Whether a part lies clear of every edge, hole and flaw by ``margin`` mm.

    ``over`` is the greatest distance from the ground drawn in by the margin to a point of the part
    outside it. Raises ``ShapeError`` for a margin below nothing.
    """
    usable = ground(outline, margin=margin, flaws=flaws)
    if usable.proves(placement.corners, EXACT):
        return Lie(True, 0.0, None)
    drawn_in = shapely.union_all(usable.polygons)
    if drawn_in.is_empty:
        return Lie(False, float("inf"), placement.corners[0])
    outside = shapely.difference(placement.polygon, drawn_in)
    # the middle of each part outside tells where a flaw lies wholly under the part
    middles = [shapely.maximum_inscribed_circle(each, 0.05) for each in polygons_of(outside)]
    points = shapely.get_coordinates([shapely.segmentize(outside, 1.0), *middles])
    if len(points) == 0:  # over by less than can be drawn: the corners tell
        points = np.array(placement.corners)
    distances = np.atleast_1d(shapely.distance(shapely.points(points), drawn_in))
    furthest = int(np.argmax(distances))
    x, y = points[furthest]
    return Lie(False, float(distances[furthest]), (float(x), float(y)))
