"""What is left of a piece when a part has been cut from it."""

from collections.abc import Sequence
from math import isfinite

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.errors import ShapeError
from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.outline import Outline
from bindery_stock.shape.patch import PatchPlacement
from bindery_stock.shape.placement import Placement

LEAST_AREA = 1e-3
"""Remains below this area in mm² are rounding, not cloth."""
HAIR = 0.02
"""Strips thinner than this in mm are not cloth either."""


def cut(
    outline: Outline, placement: Placement | PatchPlacement, *, knife: float = 0.0
) -> list[Outline]:
    """The remains of ``outline`` with the part, grown by ``knife`` mm all round, removed.

    Largest first; holes are kept. Raises ``ShapeError`` where the knife's width is below nothing or
    the part does not touch the piece at all.
    """
    return _cleaned([each.polygon for each in remains(outline, placement, knife=knife)])


def cut_all(
    outline: Outline, placements: Sequence[Placement | PatchPlacement], *, knife: float = 0.0
) -> list[Outline]:
    """As :func:`cut`, several parts removed in one sitting."""
    _check_knife(knife)
    removed = shapely.union_all([_lost(placement, knife) for placement in placements])
    left = polygons_of(shapely.difference(outline.polygon, removed))
    return _cleaned(left)


def _cleaned(left: Sequence[Polygon]) -> list[Outline]:
    """What is cloth of the remains, largest first."""
    clean = [each for polygon in left for each in _without_hairs(polygon)]
    clean.sort(key=lambda polygon: -polygon.area)
    return [Outline.from_polygon(polygon) for polygon in clean if polygon.area > LEAST_AREA]


def _lost(placement: Placement | PatchPlacement, knife: float) -> BaseGeometry:
    part = placement.polygon
    return shapely.buffer(part, knife, join_style="mitre") if knife else part


def _check_knife(knife: float) -> None:
    if not isfinite(knife) or knife < 0.0:
        raise ShapeError(f"The knife's width is {knife} mm. Give nothing or more.")


def remains(
    outline: Outline, placement: Placement | PatchPlacement, *, knife: float = 0.0
) -> list[Outline]:
    """As :func:`cut`, hairs left on: quick, for weighing many placements."""
    _check_knife(knife)
    if not outline.polygon.intersects(placement.polygon):
        raise ShapeError("The part does not lie on this piece. Place it again before cutting.")
    removed = _lost(placement, knife)
    left = polygons_of(shapely.difference(outline.polygon, removed))
    left.sort(key=lambda polygon: -polygon.area)
    return [Outline.from_polygon(polygon) for polygon in left if polygon.area > LEAST_AREA]


def _without_hairs(polygon: Polygon) -> list[Polygon]:
    """The polygon without strips too thin to be cloth, left where a part all but touched the edge.

    As it is where there are none, so that no corner moves.
    """
    opened = shapely.buffer(
        shapely.buffer(polygon, -HAIR / 2.0, join_style="mitre"), HAIR / 2.0, join_style="mitre"
    )
    cleaned = [p for p in polygons_of(shapely.intersection(opened, polygon)) if p.area > LEAST_AREA]
    reach = shapely.difference(polygon, shapely.buffer(opened, HAIR))
    return [polygon] if len(cleaned) == 1 and reach.is_empty else cleaned


def is_sliver(outline: Outline, least_width: float) -> bool:
    """Whether the remains are nowhere as wide as ``least_width`` mm, whichever way they run."""
    if not isfinite(least_width) or least_width < 0.0:
        raise ShapeError(f"A sliver's width is {least_width} mm. Give nothing or more.")
    if least_width == 0.0:
        return False
    return bool(shapely.buffer(outline.polygon, -least_width / 2.0 + 1e-9).is_empty)


def slivers(offcuts: Sequence[Outline], least_width: float) -> tuple[list[Outline], list[Outline]]:
    """Remains worth keeping, and those proposed for discard for being nowhere wide enough.

    Nothing is thrown away here: the binder decides.
    """
    kept = [offcut for offcut in offcuts if not is_sliver(offcut, least_width)]
    thin = [offcut for offcut in offcuts if is_sliver(offcut, least_width)]
    return kept, thin
