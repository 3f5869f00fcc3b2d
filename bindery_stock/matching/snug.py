"""Where a part lies snuggest: in the corner where most of its edge touches what is already edge.

Parts laid so leave what remains in one piece as far as can be had, so that more go in after them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from bindery_stock.matching.fits import Lying
from bindery_stock.shape import PatchPlacement, Placement, patch_near_on, triangle
from bindery_stock.shape.fit import placements
from bindery_stock.shape.ground import EXACT, Ground
from bindery_stock.shape.inner_fit import inner_fit, rings_of
from bindery_stock.shape.placement import placement_at
from bindery_stock.shape.positions import PLAY, TOLERANCE
from bindery_stock.shape.turns import Points, turned

_LOOKED_AT = 24  # corners of one connected set of positions
_PROVED_AT_MOST = 6
_PULL = 1e-3  # mm towards the middle of the positions, where the corner itself fails
_ROUNDING = 1e-3  # share of an area
_SHIFTS = np.array(((0.0, 0.0), (TOLERANCE, 0.0), (0.0, TOLERANCE), (TOLERANCE, TOLERANCE)))


def snuggest(
    usable: Ground, width: float, height: float, turns: tuple[float, ...]
) -> Placement | None:
    """The snuggest proved placement of a part of ``width`` × ``height`` mm, or nothing.

    Nothing means that there is no room on this ground at these turns.
    """
    size = (width, height)
    if not usable.has_an_up:
        spots = [spot for turn in turns for spot in _spots(usable, size, turn)]
        for spot in sorted(spots, key=lambda s: (s.edge, s.turn, s.x, s.y))[:_PROVED_AT_MOST]:
            found = spot.settled(size)
            if found is not None and usable.proves(np.array(found.corners), EXACT):
                return found
        if not spots:
            return None
    # Zones decide where flaws may lie, or there is hardly any play: the exact fit knows how.
    exact = (next(placements(usable, width, height, turn), None) for turn in turns)
    return next((placement for placement in exact if placement is not None), None)


def snuggest_patch(
    usable: Ground, width: float, height: float, turns: tuple[float, ...]
) -> PatchPlacement | None:
    """A proved placement of a right-angled triangle with these legs, mm, or nothing.

    Half a rectangle where one has room; else it nestles in as near as can be to where the ground
    begins, so that two lie long side to long side.
    """
    if not usable.polygons:
        return None
    ground = MultiPolygon(usable.polygons)
    wholes = [snuggest(usable, width, height, (turn,)) for turn in turns]
    found = [half(about) for whole in wholes if whole for about in _ways_about(whole, turns)]
    if not found:
        part, near = triangle(width, height), ground.bounds[:2]
        laid = [patch_near_on(usable, part, near, turn=turn) for turn in turns]
        found = [placement for placement in laid if placement is not None]
    left = [shapely.length(shapely.difference(ground, patch.polygon)) for patch in found]
    return found[int(np.argmin(left))] if found else None


def _ways_about(placement: Placement, turns: tuple[float, ...]) -> Iterator[Placement]:
    """A rectangle as it lies, and turned by half where that is allowed."""
    yield placement
    a, b, c, d = placement.corners
    opposite = (placement.turn + 180.0) % 360.0
    if opposite in turns:
        yield replace(placement, corners=(c, d, a, b), turn=opposite)


def half(placement: Placement) -> PatchPlacement:
    """The corner patch in the lower-left half of a rectangle as it lies."""
    a, b, _, d = placement.corners
    return PatchPlacement((a, b, d), placement.turn, placement.tight)


def shrunk(larger: Lying, width: float, height: float) -> Placement:
    """A smaller rectangle at the own corner of a larger part, turned alike."""
    corner = turned(np.array(larger.corners[:1]), -larger.turn)[0]
    return placement_at(float(corner[0]), float(corner[1]), width, height, larger.turn)


@dataclass(frozen=True, slots=True)
class _Spot:
    """A corner of the positions open to the part's lower-left corner, turned upright."""

    edge: float
    """By how much the edge of the ground would grow, mm."""
    turn: float
    x: float
    y: float
    inside: Points
    """A position amid them."""
    region: Polygon
    ground: Polygon
    """What the positions are positions on."""

    def settled(self, size: tuple[float, float]) -> Placement | None:
        """The whole part at this corner, as near to it as it can lie."""
        corner = np.array((self.x, self.y))
        way = self.inside - corner
        length = float(np.hypot(*way))
        ways = corner - _SHIFTS
        if length > _PULL:
            ways = np.vstack((ways, corner + way * (_PULL / length)))
        for at in ways[shapely.covers(self.ground, _boxes(ways, size))][:1].tolist():
            tight = shapely.buffer(self.region, -PLAY / 2.0, join_style="mitre").is_empty
            return placement_at(at[0], at[1], *size, self.turn, tight=bool(tight))
        return None


def _spots(usable: Ground, size: tuple[float, float], turn: float) -> Iterator[_Spot]:
    for polygon in usable.polygons:
        if polygon.area < size[0] * size[1] * (1 - _ROUNDING):
            continue
        rings = rings_of(polygon, turn)
        regions = inner_fit(rings, size[0] - TOLERANCE, size[1] - TOLERANCE)
        if not regions:
            continue
        upright = Polygon(rings[0], rings[1:])
        shapely.prepare(upright)
        middle = (rings[0].min(axis=0) + rings[0].max(axis=0) - size) / 2.0
        for region in regions:
            inside = shapely.get_coordinates(shapely.point_on_surface(region))
            smaller = _boxes(inside, (size[0] - TOLERANCE, size[1] - TOLERANCE))
            if not shapely.covers(upright, smaller).all():
                continue  # in a bay or a hole, not on the cloth
            corners = np.unique(shapely.get_coordinates(region), axis=0)
            order = np.argsort(-np.hypot(*(corners - middle).T), kind="stable")
            tried = corners[order][:_LOOKED_AT]
            left = shapely.difference(upright, _boxes(tried, size))
            edges = (shapely.length(left) - upright.length).round(6)
            for edge, (x, y) in zip(edges.tolist(), tried.tolist(), strict=True):
                yield _Spot(edge, turn, x, y, inside[0], region, upright)


def _boxes(corners: Points, size: tuple[float, float]) -> NDArray[np.object_]:
    """Upright boxes of that size by their lower-left corners, smaller by rounding all round."""
    left, low = corners.T + EXACT
    boxes = shapely.box(left, low, left + size[0] - 2 * EXACT, low + size[1] - 2 * EXACT)
    return np.asarray(boxes, dtype=object)
