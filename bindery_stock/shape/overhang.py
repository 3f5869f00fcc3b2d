"""How a part laid down by hand lies: whether it fits, and if not, by how much it is over."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon, affinity
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.outline import Flaw, FlawKind, Outline, Point
from bindery_stock.shape.patch import PatchPlacement
from bindery_stock.shape.placement import Placement


@dataclass(frozen=True, slots=True)
class Lie:
    """How a part lies on a piece."""

    fits: bool
    over: float
    """By how many mm it reaches beyond what may be used; nothing where it fits."""
    at: Point | None
    """Where it reaches furthest."""
    under: FlawKind | None = None
    """The flaw that lies under a zone which must keep clear of it, where that is all."""


def lie(
    outline: Outline,
    placement: Placement | PatchPlacement,
    *,
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
) -> Lie:
    """Whether a part lies clear of every edge, hole and flaw by ``margin`` mm.

    ``over`` is the greatest distance from the ground drawn in by the margin to a point of the part
    outside it. Raises ``ShapeError`` for a margin below nothing.
    """
    return lie_on(ground(outline, margin=margin, flaws=flaws), placement)


def lie_on(usable: Ground, placement: Placement | PatchPlacement) -> Lie:
    """As :func:`lie`, on ground already prepared: with zones, or beside parts laid before."""
    if _proved(usable, placement):
        return Lie(True, 0.0, None)
    drawn_in = shapely.union_all(usable.polygons)
    if drawn_in.is_empty:
        return Lie(False, float("inf"), placement.corners[0])
    outside = shapely.difference(placement.polygon, drawn_in)
    if outside.area <= EXACT and isinstance(placement, Placement):
        for kind, shared in _flaws_under(usable, placement):
            line = shapely.maximum_inscribed_circle(shared, 0.05)
            x, y = shapely.get_coordinates(line)[0]
            return Lie(False, 2.0 * float(line.length), (float(x), float(y)), kind)
    return _over(placement, drawn_in, outside)


def _proved(usable: Ground, placement: Placement | PatchPlacement) -> bool:
    if isinstance(placement, Placement):
        return usable.proves(placement.corners, EXACT)
    inner = shapely.buffer(placement.polygon, -EXACT, join_style="mitre")
    return isinstance(inner, Polygon) and not inner.is_empty and usable.proves_shape(inner)


def _over(
    placement: Placement | PatchPlacement, drawn_in: BaseGeometry, outside: BaseGeometry
) -> Lie:
    # the middle of each part outside tells where a flaw lies wholly under the part
    middles = [shapely.maximum_inscribed_circle(each, 0.05) for each in polygons_of(outside)]
    points = shapely.get_coordinates([shapely.segmentize(outside, 1.0), *middles])
    if len(points) == 0:  # over by less than can be drawn: the corners tell
        points = np.array(placement.corners)
    distances = np.atleast_1d(shapely.distance(shapely.points(points), drawn_in))
    furthest = int(np.argmax(distances))
    x, y = points[furthest]
    return Lie(False, float(distances[furthest]), (float(x), float(y)))


def _flaws_under(usable: Ground, placement: Placement) -> Iterator[tuple[FlawKind, Polygon]]:
    """Flaws under zones that must keep clear of them, with what they share."""
    for spared, boxes in usable.clear_boxes(placement.width, placement.height):
        for box in boxes:
            lying = laid_box(placement, box)
            for shared in polygons_of(shapely.intersection(lying, spared.grown)):
                yield spared.kind, shared


def laid_box(placement: Placement, box: tuple[float, float, float, float]) -> Polygon:
    """A box of the part (left, low, right, high from its own corner, mm) as the part lies."""
    flat = affinity.rotate(shapely.box(*box), placement.turn, origin=(0.0, 0.0))
    return affinity.translate(flat, *placement.corners[0])
