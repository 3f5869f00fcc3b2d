"""Many half-cut sheets at once, each as the boards that cuts from edge to edge have left.

The next part always goes into the lower-left corner of the smallest board, which leaves two, or
the board is given up. All arrays have a row for each sheet.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bindery_stock.shape.sheet_parts import ROUNDING, Reach, SheetParts

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]


@dataclass(frozen=True, eq=False, slots=True)
class Boards:
    """The boards of each sheet; unused columns have no width."""

    x: Floats
    y: Floats
    width: Floats
    height: Floats

    @classmethod
    def empty(cls, sheet: tuple[float, float]) -> "Boards":
        """One sheet, uncut."""
        none = np.zeros((1, 1))
        return cls(none, none, np.full((1, 1), sheet[0]), np.full((1, 1), sheet[1]))

    def take(self, rows: Numbers) -> "Boards":
        """Those rows, in that order."""
        return Boards(self.x[rows], self.y[rows], self.width[rows], self.height[rows])

    def joined(self, other: "Boards") -> "Boards":
        """The rows of both."""
        count = max(self.x.shape[1], other.x.shape[1])
        one, two = self._padded(count), other._padded(count)
        return Boards(*(np.concatenate(pair) for pair in zip(one, two, strict=True)))

    def _padded(self, count: int) -> list[Floats]:
        more = ((0, 0), (0, count - self.x.shape[1]))
        return [np.pad(each, more) for each in (self.x, self.y, self.width, self.height)]

    @property
    def keys(self) -> Floats:
        """A number for each row: the same where the boards are, in whatever order."""
        mixed = np.sin(self.x * 12.9898 + self.width * 3.7) + np.cos(
            self.y * 78.233 + self.height * 5.1
        )
        return np.asarray(np.where(self.width > 0.0, mixed, 0.0).sum(axis=1).round(9))

    def _smallest(self) -> tuple[Numbers, Numbers]:
        areas = np.where(self.width > 0.0, self.width * self.height, np.inf)
        return np.arange(len(areas)), np.asarray(areas.argmin(axis=1))

    def corner(self) -> tuple[Floats, Floats]:
        """Where the next part would lie in each sheet."""
        at = self._smallest()
        return self.x[at], self.y[at]

    def room(self) -> tuple[Floats, Floats]:
        """How wide and how high the next part may be in each sheet."""
        at = self._smallest()
        return self.width[at], self.height[at]

    def given_up(self) -> tuple["Boards", Floats]:
        """Each without its smallest board, and the area lost by that."""
        at = self._smallest()
        lost = self.width[at] * self.height[at]
        width = self.width.copy()
        width[at] = 0.0
        return Boards(self.x, self.y, width, self.height)._compact(), lost

    def lost(self, parts: SheetParts, reach: Reach) -> tuple[Floats, Floats]:
        """For each sheet and way to lay a part: area that will go to waste, and flush sides."""
        at = self._smallest()
        width, height = self.width[at][:, None], self.height[at][:, None]
        beside, above = width - parts.width, height - parts.height
        tall = parts.way % 2 == 0  # the board beside is as tall as all
        side = np.where(tall, height, parts.height)
        top = np.where(tall, parts.width, width)
        waste = _wasted(beside, side, reach) + _wasted(top, above, reach)
        flush = 1.0 * (np.abs(beside) <= ROUNDING) + 1.0 * (np.abs(above) <= ROUNDING)
        return waste, np.asarray(1.5 * flush)

    def laid(self, width: Floats, height: Floats, way: Numbers) -> "Boards":
        """Each with one part of that size in its smallest board; odd ways cut across first."""
        at = self._smallest()
        x, y, board_width, board_height = (
            each[at] for each in (self.x, self.y, self.width, self.height)
        )
        tall = way % 2 == 0
        beside = (x + width, y, board_width - width, np.where(tall, board_height, height))
        above = (x, y + height, np.where(tall, width, board_width), board_height - height)
        columns = []
        for old, one, two in zip(
            (self.x, self.y, self.width, self.height), beside, above, strict=True
        ):
            new = np.concatenate((old, two[:, None]), axis=1)
            new[at] = one
            columns.append(new)
        return Boards(*columns)._compact()

    def _compact(self) -> "Boards":
        used = (self.width > ROUNDING) & (self.height > ROUNDING)
        order = np.argsort(~used, axis=1, kind="stable")
        order = order[:, : int(used.sum(axis=1).max(initial=1)) or 1]
        down = np.arange(len(used))[:, None]
        kept = used[down, order]
        columns = (
            np.where(kept, each[down, order], 0.0)
            for each in (self.x, self.y, self.width, self.height)
        )
        return Boards(*columns)


def _wasted(width: Floats, height: Floats, reach: Reach) -> Floats:
    """Area of a board that no sum of the parts waiting can use: each line through it is short."""
    lines = reach.short_across(width) * height, reach.short_along(height) * width
    return np.asarray(np.maximum(*lines))
