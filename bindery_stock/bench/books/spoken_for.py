"""Cloth that is spoken for: reservations as parts that stay where they lie."""

import math
from collections.abc import Sequence

from bindery_stock import matching
from bindery_stock.matching import Lying, Pin
from bindery_stock.shape import PatchPlacement, Placement, Ring
from bindery_stock.stock import Reservation


def spoken_for(held: Reservation) -> matching.Part:
    """A reservation as a part that nothing else may overlap."""
    return matching.Part(
        held.width,
        held.height,
        None,
        shown=False,
        name=held.purpose,
        triangular=len(held.corners) == 3,
    )


def held_pins(held: Sequence[Reservation], first: int) -> list[Pin]:
    """Each where it lies, the parts numbered from ``first``."""
    return [Pin(first + n, r.code, _lying(r)) for n, r in enumerate(held)]


def _lying(held: Reservation) -> Lying:
    if len(held.corners) == 3:  # a corner patch
        return PatchPlacement(held.corners, 0.0, tight=False)
    return placement_of(held.corners, held.width, held.height)


def placement_of(corners: Ring, width: float, height: float) -> Placement:
    """A placement from the corners of a part, its own lower-left corner first."""
    a, b, c, d = corners
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 360.0
    return Placement((a, b, c, d), round(turn, 6), False, width, height)
