"""What is left of a piece when a part has been cut from it."""

from collections.abc import Sequence
from math import isfinite

import shapely

from bindery_stock.errors import ShapeError
from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.outline import Outline
from bindery_stock.shape.patch import PatchPlacement
from bindery_stock.shape.placement import Placement

LEAST_AREA = 1e-3
"""Remains below this area in mm² are rounding, not cloth."""


def cut(
    outline: Outline, placement: Placement | PatchPlacement, *, knife: float = 0.0
) -> list[Outline]:
    """The remains of ``outline`` with the part, grown by ``knife`` mm all round, removed.

    Largest first; holes are kept. Raises ``ShapeError`` where the knife's width is below nothing or
    the part does not touch the piece at all.
    """
    if not isfinite(knife) or knife < 0.0:
        raise ShapeError(f"The knife's width is {knife} mm. Give nothing or more.")
    part = placement.polygon
    if not outline.polygon.intersects(part):
        raise ShapeError("The part does not lie on this piece. Place it again before cutting.")
    removed = shapely.buffer(part, knife, join_style="mitre") if knife else part
    left = polygons_of(shapely.difference(outline.polygon, removed))
    left.sort(key=lambda polygon: -polygon.area)
    return [Outline.from_polygon(polygon) for polygon in left if polygon.area > LEAST_AREA]


def is_sliver(outline: Outline, least_width: float) -> bool:
    """Whether the remains are nowhere as wide as ``least_width`` mm, whichever way they run."""
    if not isfinite(least_width) or least_width < 0.0:
        raise ShapeError(f"A sliver's width is {least_width} mm. Give nothing or more.")
    if least_width == 0.0:
        return False
    return bool(shapely.buffer(outline.polygon, -least_width / 2.0 + 1e-9).is_empty)


def slivers(remains: Sequence[Outline], least_width: float) -> tuple[list[Outline], list[Outline]]:
    """Remains worth keeping, and those proposed for discard for being nowhere wide enough.

    Nothing is thrown away here: the binder decides.
    """
    kept = [remain for remain in remains if not is_sliver(remain, least_width)]
    thin = [remain for remain in remains if is_sliver(remain, least_width)]
    return kept, thin
