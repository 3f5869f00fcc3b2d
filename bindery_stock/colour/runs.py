"""The pixels inside a polygon as runs along the rows: exact, and small however large the patch."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.space import Array, Mask

Whole = NDArray[np.int_]


@dataclass(frozen=True, slots=True)
class Runs:
    """Runs of pixels in the order of the rows, each from its first column to before its end."""

    rows: Whole
    first: Whole
    end: Whole

    @property
    def total(self) -> int:
        """How many pixels."""
        return int((self.end - self.first).sum())

    def places(self, ranks: Whole) -> Whole:
        """Column and row (n × 2) of the pixels of these numbers, counted along the rows."""
        ends = np.cumsum(self.end - self.first)
        run = np.searchsorted(ends, ranks, side="right")
        columns = self.end[run] - (ends[run] - ranks)
        return np.stack([columns, self.rows[run]], axis=1)

    def hold(self, places: Whole) -> Mask:
        """Which pixels (n × 2, column and row) belong to a run."""
        if not len(self.rows):
            return np.zeros(len(places), dtype=bool)
        width = max(int(self.end.max()), int(places[:, 0].max(initial=0))) + 1
        here = places[:, 1] * width + places[:, 0]
        run = np.searchsorted(self.rows * width + self.first, here, side="right") - 1
        near = np.maximum(run, 0)
        return np.asarray((run >= 0) & (here < self.rows[near] * width + self.end[near]))

    def blocks(self, side: int) -> Whole:
        """Squares of a grid of ``side`` pixels that a run touches: across and down (n × 2)."""
        if not len(self.rows):
            return np.zeros((0, 2), dtype=np.int_)
        down, left, right = self.rows // side, self.first // side, (self.end - 1) // side
        change = np.zeros((int(down.max()) + 1, int(right.max()) + 2), dtype=np.int_)
        np.add.at(change, (down, left), 1)
        np.add.at(change, (down, right + 1), -1)
        return np.argwhere(np.cumsum(change, axis=1) > 0)[:, ::-1]


def runs_inside(corners: Array, size: tuple[int, int]) -> Runs:
    """The pixels of a picture of this size whose centres lie inside (even-odd rule).

    ``corners`` (n × 2, pixels). A row is cut where it crosses a side; between an odd cut and the
    next it is inside.
    """
    (x1, y1), (x2, y2) = corners.T, np.roll(corners, -1, axis=0).T
    # The centres c + 0.5 with y1 ≤ c + 0.5 < y2, whichever way the side runs.
    top = np.clip(np.ceil(np.minimum(y1, y2) - 0.5), 0, size[1]).astype(np.int_)
    bottom = np.clip(np.ceil(np.maximum(y1, y2) - 0.5), 0, size[1]).astype(np.int_)
    counts = bottom - top
    side = np.repeat(np.arange(len(corners)), counts)
    rows = np.arange(len(side)) - np.repeat(np.cumsum(counts) - counts, counts) + top[side]
    share = (rows + 0.5 - y1[side]) / (y2 - y1)[side]
    cuts = x1[side] + share * (x2 - x1)[side]
    order = np.lexsort((cuts, rows))
    columns = np.clip(np.ceil(cuts[order] - 0.5), 0, size[0]).astype(np.int_)
    rows, first, end = rows[order][::2], columns[::2], columns[1::2]
    some = end > first
    return Runs(rows[some], first[some], end[some])
