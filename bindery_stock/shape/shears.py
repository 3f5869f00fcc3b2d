"""Edge-to-edge cuts, as on board shears: in which order they are made, and what they leave."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.outline import Outline
from bindery_stock.shape.placement import Placement

Box = tuple[float, float, float, float]
"""Left, low, right, high in mm."""

_SAME = 1e-3  # mm: lines closer than this are one cut
_LEAST_AREA = 1e-3  # mm²


@dataclass(frozen=True, slots=True)
class ShearCut:
    """One cut from edge to edge of the board in hand."""

    board: Box
    """What is cut, in the millimetres of the piece."""
    along: bool
    """True where the cut runs along the warp, so that it parts left from right."""
    at: float
    """Its distance from the left edge of that board, or from its lower edge, in mm."""


@dataclass(frozen=True, slots=True)
class Sheared:
    """All cuts in order, and what goes back on the shelf."""

    cuts: tuple[ShearCut, ...]
    remains: tuple[Outline, ...]
    """Largest first."""


def shear(
    outline: Outline, placements: Sequence[Placement], *, knife: float = 0.0
) -> Sheared | None:
    """The edge-to-edge cuts that free every part; ``None`` where no such cuts do.

    Cuts that set the largest remains free come first, so that these stay whole. ``knife`` mm are
    lost beside each cut on the side away from the part it is made for.
    """
    parts = [_box_of(placement) for placement in placements]
    if any(part is None for part in parts):
        return None
    cuts: list[ShearCut] = []
    left: list[Box] = []
    if not _part(outline.bounds, [part for part in parts if part], knife, cuts, left):
        return None
    pieces = [
        polygon
        for box in left
        for polygon in polygons_of(shapely.intersection(outline.polygon, shapely.box(*box)))
        if polygon.area > _LEAST_AREA
    ]
    pieces.sort(key=lambda polygon: -polygon.area)
    return Sheared(tuple(cuts), tuple(Outline.from_polygon(polygon) for polygon in pieces))


def _box_of(placement: Placement) -> Box | None:
    """The part's box where it lies square to the warp."""
    if placement.turn % 90.0 != 0.0:
        return None
    left, low, right, high = placement.polygon.bounds
    return left, low, right, high


def _part(
    board: Box, parts: list[Box], knife: float, cuts: list[ShearCut], left: list[Box]
) -> bool:
    """Cut a board up; False where a cut would go through a part whichever way it is laid."""
    if not parts:
        left.append(board)
        return True
    if len(parts) == 1 and all(abs(a - b) <= _SAME for a, b in zip(board, parts[0], strict=True)):
        return True
    best = max(_ways(board, parts, knife), key=_worth, default=None)
    if best is None:
        return False
    cut, sides = best
    cuts.append(cut)
    return all(_part(side, inside, knife, cuts, left) for side, inside in sides)


Way = tuple[ShearCut, list[tuple[Box, list[Box]]]]


def _ways(board: Box, parts: list[Box], knife: float) -> Iterator[Way]:
    """Every cut along a side of a part that goes through no part."""
    for axis in (0, 1):
        for part in parts:
            for line, lower, upper in (
                (part[axis], part[axis] - knife, part[axis]),
                (part[axis + 2], part[axis + 2], part[axis + 2] + knife),
            ):
                if not board[axis] + _SAME < line < board[axis + 2] - _SAME:
                    continue
                below = [p for p in parts if p[axis + 2] <= lower + _SAME]
                above = [p for p in parts if p[axis] >= upper - _SAME]
                if len(below) + len(above) != len(parts):
                    continue
                cut = ShearCut(board, along=axis == 0, at=line - board[axis])
                sides = [
                    (_cropped(board, axis + 2, lower), below),
                    (_cropped(board, axis, upper), above),
                ]
                yield cut, [(box, inside) for box, inside in sides if box[axis] < box[axis + 2]]


def _worth(way: Way) -> float:
    """Area of the larger side without parts, which the cut sets free as one piece."""
    return max((_area(box) for box, inside in way[1] if not inside), default=0.0)


def _area(box: Box) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _cropped(box: Box, side: int, at: float) -> Box:
    sides = list(box)
    sides[side] = at
    return (sides[0], sides[1], sides[2], sides[3])
