"""How large a rectangle a piece keeps when parts are laid in it, told quickly.

Sharing out asks this for thousands of loads, where the exact rectangle would take all its time. So
the piece is ruled into cells of a few mm, and the rectangle is one of whole cells; the lines go
through the edges of upright parts, so that a sheet of right angles is measured exactly and a ragged
scrap a little short of the true rectangle.
"""

from collections.abc import Iterable

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from bindery_stock.matching.fits import Lying
from bindery_stock.matching.values import Piece

_CELL = 4.0  # mm
_MOST = (32, 96)  # cells across and along at most; the longer way has more
_ROUNDING = 1e-6  # mm

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]


class WholeCloth:
    """One piece, ruled into cells."""

    def __init__(self, piece: Piece, fixed: Iterable[Lying] = ()) -> None:
        """``fixed`` are parts that lie in the piece already."""
        free: BaseGeometry = piece.outline.polygon
        laid = [lying.polygon for lying in fixed]
        if laid:
            free = shapely.difference(free, shapely.union_all(laid))
        self.area = float(free.area)
        """Square millimetres that are free, flaws among them: hidden parts may lie there."""
        if piece.flaws:
            flaws = shapely.union_all([flaw.polygon for flaw in piece.flaws])
            free = shapely.difference(free, flaws)
        left, low, right, high = piece.outline.polygon.bounds
        self._flipped = right - left > high - low
        sides = ((low, high), (left, right)) if self._flipped else ((left, right), (low, high))
        self._lines = [
            np.linspace(a, b, 1 + min(int(np.ceil((b - a) / _CELL)), most))
            for (a, b), most in zip(sides, _MOST, strict=True)
        ]
        shapely.prepare(free)
        self._free = shapely.covers(free, self._boxes(*self._lines))
        self.best = _largest(self._free, *(np.diff(lines) for lines in self._lines))
        """Square millimetres of the largest rectangle, nothing being cut."""

    def left(self, placements: Iterable[Lying]) -> float:
        """Square millimetres of the largest rectangle beside these parts."""
        laid = list(placements)
        boxes = [self._box(placement) for placement in laid]
        lines = [
            np.unique(np.concatenate((own, *([box[way] for box in boxes]))))
            for way, own in enumerate(self._lines)
        ]
        cells = [
            np.clip(np.searchsorted(own, (new[1:] + new[:-1]) / 2) - 1, 0, len(own) - 2)
            for own, new in zip(self._lines, lines, strict=True)
        ]
        free = self._free[np.ix_(*cells)]
        for placement, box in zip(laid, boxes, strict=True):
            at = tuple(_between(new, side) for new, side in zip(lines, box, strict=True))
            if placement.turn % 90 == 0 and len(placement.corners) == 4:
                free[at] = False
            else:
                ways = [
                    new[part.start : part.stop + 1] for new, part in zip(lines, at, strict=True)
                ]
                free[at] &= ~shapely.intersects(placement.polygon, self._boxes(*ways))
        return _largest(free, *(np.diff(new) for new in lines))

    def _box(self, placement: Lying) -> Floats:
        """The sides of the box about a part: two rows, the shorter way of the piece first."""
        corners = np.array(placement.corners)
        sides = np.array((corners.min(axis=0), corners.max(axis=0))).T
        return sides[::-1] if self._flipped else sides

    def _boxes(self, first: Floats, second: Floats) -> NDArray[np.object_]:
        """The cells between lines, a little smaller than they are."""
        a, b = np.meshgrid(first[:-1] + _ROUNDING, second[:-1] + _ROUNDING, indexing="ij")
        c, d = np.meshgrid(first[1:] - _ROUNDING, second[1:] - _ROUNDING, indexing="ij")
        made = shapely.box(b, a, d, c) if self._flipped else shapely.box(a, b, c, d)
        return np.asarray(made, dtype=object)


def _between(lines: Floats, side: Floats) -> slice:
    """The cells between two of the lines."""
    first, last = np.searchsorted(lines, (side[0] + _ROUNDING, side[1] - _ROUNDING)).tolist()
    return slice(first - 1, last)


def _largest(free: Truths, across: Floats, along: Floats) -> float:
    """Area of the largest rectangle of free cells: every first and last row, the longest run."""
    rows = len(across)
    if not free.size or not free.any():
        return 0.0
    runs = np.zeros((rows, rows, len(along)), dtype=np.bool_)
    for first in range(rows):
        np.logical_and.accumulate(free[first:], axis=0, out=runs[first, first:])
    ends = np.cumsum(along)
    broken = np.maximum.accumulate(np.where(runs, 0.0, ends), axis=2)
    longest = (ends - broken).max(axis=2)
    tall = np.cumsum(across)
    heights = tall[None, :] - (tall - across)[:, None]
    return float((longest * np.maximum(heights, 0.0)).max())
