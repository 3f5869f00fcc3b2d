"""Rolls and great sheets as they are drawn: cut short with a break line, at true scale."""

from dataclasses import dataclass
from functools import lru_cache

from shapely import Polygon

from bindery_stock.shape import Outline

LONGEST_DRAWN = 360.0
"""What is longer than this, in mm, is drawn cut short."""
CUT_AT = 260.0
"""Where it is cut, mm."""
_TOOTH = 9.0  # mm: depth of the break line's zigzag


@dataclass(frozen=True, slots=True)
class Shortened:
    """An outline as it is drawn."""

    outline: Outline
    along: bool
    """Cut short along the warp: the break is at the top."""
    across: bool
    """Cut short across the warp: the break is at the right."""


def shortened(outline: Outline) -> Shortened:
    """The outline as it is drawn, whole unless it is longer than ``LONGEST_DRAWN``."""
    along, across = outline.height > LONGEST_DRAWN, outline.width > LONGEST_DRAWN
    if not along and not across:
        return Shortened(outline, along=False, across=False)
    return _cut_short(outline.exterior, outline.holes, along, across)


@lru_cache(maxsize=4096)
def _cut_short(
    exterior: tuple[tuple[float, float], ...],
    holes: tuple[tuple[tuple[float, float], ...], ...],
    along: bool,
    across: bool,
) -> Shortened:
    outline = Outline(exterior, holes)
    left, low, right, high = outline.bounds
    right = left + CUT_AT if across else right + 1.0
    high = low + CUT_AT if along else high + 1.0
    frame = [(left - 1.0, low - 1.0)]
    frame += _zigzag((right, low - 1.0), (right, high)) if across else [(right, low - 1.0)]
    frame += _zigzag((right, high), (left - 1.0, high)) if along else [(right, high)]
    frame.append((left - 1.0, high))
    shown = outline.polygon.intersection(Polygon(frame).buffer(0))
    parts = [part for part in getattr(shown, "geoms", [shown]) if isinstance(part, Polygon)]
    largest = max(parts, key=lambda part: part.area)
    return Shortened(Outline.from_polygon(largest), along=along, across=across)


def _zigzag(start: tuple[float, float], end: tuple[float, float]) -> list[tuple[float, float]]:
    """Points from ``start`` to ``end`` (along one axis), every other one set inward."""
    length = abs(end[0] - start[0]) + abs(end[1] - start[1])
    teeth = max(2, round(length / (2 * _TOOTH)))
    step = ((end[0] - start[0]) / (2 * teeth), (end[1] - start[1]) / (2 * teeth))
    # Inward lies to the left of the way round, which is counter-clockwise.
    inward = (-step[1] / max(abs(step[0]), abs(step[1])), step[0] / max(abs(step[0]), abs(step[1])))
    return [
        (
            start[0] + step[0] * n + (inward[0] * _TOOTH if n % 2 else 0.0),
            start[1] + step[1] * n + (inward[1] * _TOOTH if n % 2 else 0.0),
        )
        for n in range(2 * teeth + 1)
    ]
