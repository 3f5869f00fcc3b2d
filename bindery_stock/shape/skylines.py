"""Many half-filled sheets at once, each as the upper edge of what is laid in it.

The next part always goes into the lowest gap of that edge, against its left side, or the gap is
given up (after E. Burke, G. Kendall and G. Whitwell, *Operations Research* 52, 2004). All arrays
have a row for each sheet.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bindery_stock.shape.sheet_parts import ROUNDING, Reach, SheetParts

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]
Truths = NDArray[np.bool_]


@dataclass(frozen=True, eq=False, slots=True)
class Skylines:
    """The steps of each skyline from left to right; unused columns have no width and no depth."""

    sheet: tuple[float, float]
    x: Floats
    y: Floats
    """Height of each step; infinite where the column is not used."""
    width: Floats

    @classmethod
    def empty(cls, sheet: tuple[float, float]) -> "Skylines":
        """One sheet with nothing in it."""
        return cls(sheet, np.zeros((1, 1)), np.zeros((1, 1)), np.full((1, 1), sheet[0]))

    def take(self, rows: Numbers) -> "Skylines":
        """Those rows, in that order."""
        return Skylines(self.sheet, self.x[rows], self.y[rows], self.width[rows])

    def joined(self, other: "Skylines") -> "Skylines":
        """The rows of both."""
        count = max(self.x.shape[1], other.x.shape[1])
        one, two = self._padded(count), other._padded(count)
        columns = (np.concatenate(pair) for pair in zip(one, two, strict=True))
        return Skylines(self.sheet, *columns)

    def _padded(self, count: int) -> tuple[Floats, Floats, Floats]:
        more = ((0, 0), (0, count - self.x.shape[1]))
        return (
            np.pad(self.x, more),
            np.pad(self.y, more, constant_values=np.inf),
            np.pad(self.width, more),
        )

    @property
    def keys(self) -> Floats:
        """A number for each row: the same where the skyline is."""
        at = np.arange(1.0, self.x.shape[1] + 1.0)
        used = np.isfinite(self.y)
        mixed = np.sin(self.x * 12.9898 + at) + np.cos(np.where(used, self.y, 0.0) * 78.233 + at)
        return np.asarray(np.where(used, mixed, 0.0).sum(axis=1))

    def _gap(self) -> tuple[Numbers, Floats, Floats, Floats, Floats, Floats]:
        """The lowest gap: its column, x, y, width, and how high its two sides are."""
        rows = np.arange(len(self.x))
        at = np.asarray(self.y.argmin(axis=1))
        last = self.x.shape[1] - 1
        top = self.sheet[1]
        left = np.where(at > 0, self.y[rows, np.maximum(at - 1, 0)], top)
        right = np.where(at < last, self.y[rows, np.minimum(at + 1, last)], top)
        right = np.minimum(right, top)
        return at, self.x[rows, at], self.y[rows, at], self.width[rows, at], left, right

    def corner(self) -> tuple[Floats, Floats]:
        """Where the next part would lie in each sheet."""
        _, x, y, *_ = self._gap()
        return x, y

    def room(self) -> tuple[Floats, Floats]:
        """How wide and how high the next part may be in each sheet."""
        _, _, y, width, _, _ = self._gap()
        return width, self.sheet[1] - y

    def given_up(self) -> tuple["Skylines", Floats]:
        """Each with its lowest gap filled to the lower side, and the area lost by that."""
        rows = np.arange(len(self.x))
        at, _, y, width, left, right = self._gap()
        level = np.minimum(left, right)
        heights = self.y.copy()
        heights[rows, at] = level
        lost = width * (level - y)
        return Skylines(self.sheet, self.x, heights, self.width)._levelled(), lost

    def lost(self, parts: SheetParts, reach: Reach) -> tuple[Floats, Floats]:
        """For each sheet and part: area that will go to waste beside it, and flush sides."""
        _, _, y, width, left, right = self._gap()
        y, width, left, right = y[:, None], width[:, None], left[:, None], right[:, None]
        rest, top = width - parts.width, y + parts.height
        # each line straight across what is left of the gap, and each straight up above the part,
        # falls short of the parts waiting by so much
        waste = reach.short_across(rest) * (np.minimum(top, right) - y)
        waste += reach.short_along(self.sheet[1] - top) * parts.width
        waste += self._lost_above(reach)[:, None]
        level, filled = np.abs(top - left) <= ROUNDING, np.abs(rest) <= ROUNDING
        flush = level + filled * (1.0 + (np.abs(top - right) <= ROUNDING))
        return waste, np.asarray(flush, dtype=np.float64)

    def _lost_above(self, reach: Reach) -> Floats:
        """Area above all steps but the lowest that no sum of heights fills."""
        room = np.where(np.isfinite(self.y), self.sheet[1] - self.y, 0.0)
        room[np.arange(len(room)), self.y.argmin(axis=1)] = 0.0
        return np.asarray((reach.short_along(room) * self.width).sum(axis=1))

    def laid(self, width: Floats, height: Floats, _way: Numbers) -> "Skylines":
        """Each with one part of that size in its lowest gap."""
        at, x, y, gap, _, _ = self._gap()
        count = self.x.shape[1] + 1
        column = np.arange(count)[None]
        source = np.where(column <= at[:, None], column, column - 1)
        rows = np.arange(len(at))
        down = rows[:, None]
        xs, ys, widths = (each[down, source] for each in (self.x, self.y, self.width))
        ys[rows, at], widths[rows, at] = y + height, width
        rest = gap - width
        xs[rows, at + 1], widths[rows, at + 1] = x + width, np.where(rest > ROUNDING, rest, 0.0)
        return Skylines(self.sheet, xs, ys, widths)._levelled()

    def _levelled(self) -> "Skylines":
        """Neighbouring steps of one height made one, and unused columns at the end."""
        used = self.width > 0.0
        x, y, width = self._compact(used)
        # what has been joined to the step before it is marked, and its width carried to the left
        same = np.zeros(x.shape, dtype=bool)
        same[:, 1:] = np.abs(np.diff(np.where(np.isfinite(y), y, -1.0), axis=1)) <= ROUNDING
        same &= width > 0.0
        for column in range(x.shape[1] - 1, 0, -1):
            joined = same[:, column]
            if joined.any():
                width[joined, column - 1] += width[joined, column]
        width[same] = 0.0
        return Skylines(self.sheet, *Skylines(self.sheet, x, y, width)._compact(width > 0.0))

    def _compact(self, used: Truths) -> tuple[Floats, Floats, Floats]:
        order = np.argsort(~used, axis=1, kind="stable")
        most = int(used.sum(axis=1).max(initial=1))
        order = order[:, :most]
        down = np.arange(len(used))[:, None]
        kept = used[down, order]
        x, y, width = (each[down, order] for each in (self.x, self.y, self.width))
        return np.where(kept, x, 0.0), np.where(kept, y, np.inf), np.where(kept, width, 0.0)
