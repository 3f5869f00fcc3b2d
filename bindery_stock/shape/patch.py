"""Small parts of any shape, such as corner patches: exact fits of a polygon in a polygon."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import radians, sin

import numpy as np
import shapely
from shapely import Polygon, affinity
from shapely.geometry.base import BaseGeometry

from bindery_stock.errors import ShapeError
from bindery_stock.shape.free_turn import check_free, search, side_directions
from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.inner_fit import polygons_of, rings_of
from bindery_stock.shape.outline import Flaw, Outline, Point, Ring
from bindery_stock.shape.placement import check_size, check_turns
from bindery_stock.shape.positions import TOLERANCE, Positions
from bindery_stock.shape.turns import Points, turned

_TRIED_AT_MOST = 40  # corners of one connected set of positions


@dataclass(frozen=True)
class PatchPlacement:
    """A part of any shape lying in a piece."""

    ring: Ring
    """In the millimetres of the piece, in the order of the part's own corners."""
    turn: float
    """Degrees counter-clockwise."""
    tight: bool
    """True where the part has less than 0.05 mm of play."""

    @property
    def corners(self) -> Ring:
        """The same ring, under the name it has for a rectangle."""
        return self.ring

    @cached_property
    def polygon(self) -> Polygon:
        """The part as it lies, for shapely."""
        return Polygon(self.ring)


def triangle(across: float, along: float) -> Outline:
    """A corner patch: a right-angled triangle, its right angle lower left at turn 0.

    ``across`` and ``along`` are its legs in mm. Raises ``ShapeError`` for one without size.
    """
    check_size(across, along)
    return Outline(((0.0, 0.0), (across, 0.0), (0.0, along)))


def place_patch(
    outline: Outline,
    part: Outline,
    *,
    turns: Sequence[float] = (0, 180),
    free: float = 0.0,
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
) -> PatchPlacement | None:
    """A placement of a part of any shape in ``outline``, or ``None``.

    The part may be turned up to ``free`` degrees either way from each of ``turns``; 180 is any way.
    Every flaw is kept clear of. Raises ``ShapeError`` for a part with holes, or as
    :func:`bindery_stock.shape.place`.
    """
    check_turns(tuple(turns))
    check_free(free)
    if part.holes:
        raise ShapeError("A part with a hole in it cannot be placed. Give its outer edge alone.")
    usable = ground(outline, margin=margin, flaws=flaws)
    about = shapely.get_coordinates(shapely.minimum_bounding_circle(part.polygon).centroid)[0]
    shape = affinity.translate(part.polygon, -about[0], -about[1])
    reach = float(np.hypot(*shapely.get_coordinates(shape).T).max())

    def core_fits(middle: float, half: float) -> bool:
        moved = 2.0 * reach * sin(radians(half) / 2.0)  # no point of the part moves further
        core = shapely.buffer(shape, -moved, quad_segs=4)
        return core.is_empty or any(_all_positions(usable, core, middle))

    def try_at(angle: float) -> PatchPlacement | None:
        return _place_at(usable, shape, angle)

    seeds = side_directions(outline) if free else []
    if free == 0.0:
        return next((found for turn in turns if (found := try_at(turn)) is not None), None)
    return search(turns, free, seeds, try_at, core_fits)


def patch_near_on(
    usable: Ground, part: Outline, near: Point, *, turn: float = 0.0, snap: float = 0.0
) -> PatchPlacement | None:
    """The placement whose own first corner lies nearest to ``near``, at one turn.

    Within ``snap`` mm a placement that touches the edge on two sides is taken instead.
    """
    first = np.array(part.exterior[0])
    at = turned(np.array([near], dtype=np.float64), -turn)[0] - first
    inner = shapely.buffer(part.polygon, -EXACT, join_style="mitre")
    best: tuple[float, PatchPlacement] | None = None
    for positions in _all_positions(usable, part.polygon, turn):
        for spot in positions.settlings(positions.nearest(at, snap)):
            if usable.proves_shape(_laid(inner, spot, turn)):
                apart = float(np.hypot(*(spot - at)))
                if best is None or apart < best[0]:
                    best = (apart, _placed(part.polygon, spot, turn, tight=positions.tight))
                break
    return None if best is None else best[1]


def patch_at(part: Outline, near: Point, turn: float) -> PatchPlacement:
    """The part with its own first corner at ``near``, whether it fits there or not."""
    at = turned(np.array([near], dtype=np.float64), -turn)[0] - np.array(part.exterior[0])
    return _placed(part.polygon, at, turn, tight=False)


def _place_at(usable: Ground, shape: Polygon, turn: float) -> PatchPlacement | None:
    inner = shapely.buffer(shape, -EXACT, join_style="mitre")
    for positions in _all_positions(usable, shape, turn):
        for corner in positions.outermost[:_TRIED_AT_MOST]:
            for at in positions.settlings(corner):
                if usable.proves_shape(_laid(inner, at, turn)):
                    return _placed(shape, at, turn, tight=positions.tight)
        at = positions.inside
        if positions.tight:
            return _placed(shape, at, turn, tight=True)
    return None


def _placed(shape: Polygon, at: Points, turn: float, *, tight: bool) -> PatchPlacement:
    ring = shapely.get_coordinates(_laid(shape, at, turn))[:-1]
    return PatchPlacement(tuple((float(x), float(y)) for x, y in ring), turn, tight)


def _laid(shape: Polygon, at: Points, turn: float) -> Polygon:
    return Polygon(turned(shapely.get_coordinates(shape.exterior) + at, turn))


def _all_positions(usable: Ground, shape: BaseGeometry, turn: float) -> Iterator[Positions]:
    """Every connected set of positions in which the shape lies inside, the roomiest first."""
    smaller = polygons_of(shapely.buffer(shape, -TOLERANCE / 2.0, join_style="mitre"))
    pieces = [piece for polygon in smaller for piece in _convex_pieces(polygon)]
    if not pieces:
        return
    bounds = np.array(shapely.union_all(smaller).bounds)
    for polygon in usable.polygons:
        rings = rings_of(polygon, turn)
        low = rings[0].min(axis=0) - bounds[:2]
        high = rings[0].max(axis=0) - bounds[2:]
        if np.any(high <= low):
            continue
        barred = shapely.union_all([_sweep(rings, piece) for piece in pieces])
        free = shapely.difference(shapely.box(*low, *high), barred)
        for region in sorted(polygons_of(free), key=lambda r: -r.area):
            positions = Positions(region, 0.0, (low + high) / 2.0)
            laid = [_laid(each, positions.inside, turn) for each in smaller]
            if all(usable.proves_shape(each) for each in laid):
                yield positions


def _convex_pieces(polygon: Polygon) -> list[Polygon]:
    hull = shapely.convex_hull(polygon)
    if hull.area - polygon.area <= EXACT:
        return [hull] if isinstance(hull, Polygon) else []
    return polygons_of(shapely.constrained_delaunay_triangles(polygon))


def _sweep(rings: list[Points], piece: Polygon) -> BaseGeometry:
    """Positions at which the convex piece would cross a side of the rings."""
    own = shapely.get_coordinates(piece.exterior)[:-1]
    start = np.concatenate([ring[:-1] for ring in rings])
    end = np.concatenate([ring[1:] for ring in rings])
    corners = np.concatenate((start[:, None] - own, end[:, None] - own), axis=1)
    return shapely.union_all(shapely.convex_hull(shapely.multipoints(corners)))
