"""What is left of a piece when a part has been cut from it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.errors import ShapeError
from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.knife_way import KnifeWay, cut_in, is_thin
from bindery_stock.shape.outline import Outline
from bindery_stock.shape.patch import PatchPlacement
from bindery_stock.shape.placement import Placement

LEAST_AREA = 1e-3
"""Remains below this area in mm² are rounding, not cloth."""
HAIR = 0.02
"""Strips thinner than this in mm are not cloth either."""


@dataclass(frozen=True, slots=True)
class Leavings:
    """All that a piece comes to beside the parts cut from it."""

    offcuts: tuple[Outline, ...]
    """Cloth, largest first; holes are kept."""
    waste: float
    """Area in mm² that is neither part nor offcut: what the knife takes, and hairs."""


def leavings(
    outline: Outline,
    placements: Sequence[Placement | PatchPlacement],
    *,
    knife: float = 0.0,
    way: KnifeWay = KnifeWay.ROUND,
    sliver: float = 0.0,
) -> Leavings:
    """What parts, each grown by ``knife`` mm all round, leave of ``outline``.

    With ``KnifeWay.IN`` the knife comes in from the edge, and what is nowhere ``sliver`` mm wide
    between edge and part comes off by itself. Parts, offcuts and waste together have the area of
    the outline, to rounding. Raises ``ShapeError`` where the knife's width is below nothing.
    """
    _check_knife(knife)
    whole = outline.polygon
    parts = shapely.union_all([placement.polygon for placement in placements])
    removed = shapely.union_all([_lost(placement, knife) for placement in placements])
    left = polygons_of(shapely.difference(whole, removed))
    if way is KnifeWay.IN:
        left = cut_in(left, [placement.polygon for placement in placements], knife, sliver)
    parted = [_parted(polygon) for polygon in left]
    cloth = sorted((each for found, _ in parted for each in found), key=lambda each: -each.area)
    offcuts = [Outline.from_polygon(polygon) for polygon in cloth if polygon.area > LEAST_AREA]
    hairs = sum(each.area for _, found in parted for each in found)
    crumbs = sum(polygon.area for polygon in cloth if polygon.area <= LEAST_AREA)
    by_knife = shapely.intersection(whole, removed).area - shapely.intersection(whole, parts).area
    return Leavings(tuple(offcuts), max(float(by_knife + hairs + crumbs), 0.0))


def cut(
    outline: Outline, placement: Placement | PatchPlacement, *, knife: float = 0.0
) -> list[Outline]:
    """The remains of ``outline`` with the part, grown by ``knife`` mm all round, removed.

    Largest first; holes are kept. Raises ``ShapeError`` where the knife's width is below nothing or
    the part does not touch the piece at all.
    """
    _check_knife(knife)
    _check_lies(outline, placement)
    return list(leavings(outline, [placement], knife=knife).offcuts)


def cut_all(
    outline: Outline, placements: Sequence[Placement | PatchPlacement], *, knife: float = 0.0
) -> list[Outline]:
    """As :func:`cut`, several parts removed in one sitting."""
    return list(leavings(outline, placements, knife=knife).offcuts)


def _lost(placement: Placement | PatchPlacement, knife: float) -> BaseGeometry:
    part = placement.polygon
    return shapely.buffer(part, knife, join_style="mitre") if knife else part


def _check_knife(knife: float) -> None:
    if not isfinite(knife) or knife < 0.0:
        raise ShapeError(f"The knife's width is {knife} mm. Give nothing or more.")


def _check_lies(outline: Outline, placement: Placement | PatchPlacement) -> None:
    if not outline.polygon.intersects(placement.polygon):
        raise ShapeError("The part does not lie on this piece. Place it again before cutting.")


def remains(
    outline: Outline, placement: Placement | PatchPlacement, *, knife: float = 0.0
) -> list[Outline]:
    """As :func:`cut`, hairs left on: quick, for weighing many placements."""
    _check_knife(knife)
    _check_lies(outline, placement)
    removed = _lost(placement, knife)
    left = polygons_of(shapely.difference(outline.polygon, removed))
    left.sort(key=lambda polygon: -polygon.area)
    return [Outline.from_polygon(polygon) for polygon in left if polygon.area > LEAST_AREA]


def _parted(polygon: Polygon) -> tuple[list[Polygon], list[Polygon]]:
    """The polygon without strips too thin to be cloth, and these strips.

    They are left where a part all but touched the edge. No corner moves where there are none.
    """
    # The ends are round: a mitre of a blunt corner so near the boundary may come out crossed.
    body = _sound(shapely.buffer(_sound(shapely.buffer(polygon, -HAIR / 2.0)), HAIR / 2.0))
    cloth, hairs = _trimmed(polygon, shapely.buffer(body, HAIR))
    if len(cloth) < len(polygons_of(body)):  # two hang together by a neck too short to be seen so
        cloth, hairs = _trimmed(polygon, shapely.buffer(body, HAIR / 100.0))
    return cloth, hairs


def _trimmed(polygon: Polygon, body: BaseGeometry) -> tuple[list[Polygon], list[Polygon]]:
    """The polygon less what of it is thin and outside ``body``, and that."""
    outside = polygons_of(shapely.difference(polygon, _sound(body)))
    # What is wide was lost by the arithmetic, not by the knife: that stays cloth.
    hairs = [each for each in outside if 2.0 * each.area <= HAIR * each.length]
    if not hairs:
        return [polygon], []
    cloth = polygons_of(shapely.difference(polygon, shapely.union_all(hairs)))
    return cloth, hairs


def _sound(geometry: BaseGeometry) -> BaseGeometry:
    """A shape that no side of crosses another: any other is refused by what comes next."""
    return geometry if geometry.is_valid else shapely.make_valid(geometry)


def is_sliver(outline: Outline, least_width: float) -> bool:
    """Whether the remains are nowhere as wide as ``least_width`` mm, whichever way they run."""
    if not isfinite(least_width) or least_width < 0.0:
        raise ShapeError(f"A sliver's width is {least_width} mm. Give nothing or more.")
    if least_width == 0.0:
        return False
    return is_thin(outline.polygon, least_width)


def slivers(offcuts: Sequence[Outline], least_width: float) -> tuple[list[Outline], list[Outline]]:
    """Remains worth keeping, and those proposed for discard for being nowhere wide enough.

    Nothing is thrown away here: the binder decides.
    """
    kept = [offcut for offcut in offcuts if not is_sliver(offcut, least_width)]
    thin = [offcut for offcut in offcuts if is_sliver(offcut, least_width)]
    return kept, thin
