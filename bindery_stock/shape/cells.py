"""Which cells of a net of lines lie wholly inside a shape, and the rectangles made of them.

The lines may be unevenly spaced. A cell counts only where no boundary passes through its inside, so
that a rectangle made of cells lies inside the shape exactly, however coarse the net; a coarse net
can only miss. Sampling cell middles, by contrast, leaks.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bindery_stock.shape.turns import Points

Lines = npt.NDArray[np.float64]
Truths = npt.NDArray[np.bool_]

ROUNDING = 1e-9
"""A boundary that reaches less than this, mm, into a cell only touches it."""


@dataclass(frozen=True)
class Edges:
    """The sides of closed rings, each running from its left to its right end."""

    left: Points
    right: Points

    @classmethod
    def of(cls, rings: list[Points]) -> "Edges":
        """All sides of all rings."""
        start = np.concatenate([ring[:-1] for ring in rings])
        end = np.concatenate([ring[1:] for ring in rings])
        swap = (start[:, 0] > end[:, 0])[:, None]
        return cls(np.where(swap, end, start), np.where(swap, start, end))

    def height_at(self, index: npt.NDArray[np.intp], x: Lines) -> Lines:
        """y of each side at x; the left end's y where the side is upright."""
        left, right = self.left[index], self.right[index]
        span = right[:, 0] - left[:, 0]
        share = np.divide(x - left[:, 0], span, out=np.zeros_like(span), where=span > 0.0)
        height: Lines = left[:, 1] + share * (right[:, 1] - left[:, 1])
        return height


def free_cells(edges: Edges, xs: Lines, ys: Lines) -> Truths:
    """Columns × rows: true where the whole cell lies inside the rings (even-odd)."""
    blocked = _blocked(edges, xs, ys)
    return ~blocked & _middles_inside(edges, xs, ys)


def _blocked(edges: Edges, xs: Lines, ys: Lines) -> Truths:
    columns, rows = len(xs) - 1, len(ys) - 1
    upright = edges.right[:, 0] - edges.left[:, 0] <= ROUNDING
    reach = np.where(upright, -ROUNDING, ROUNDING)  # an upright side on a line only touches
    first = np.searchsorted(xs, edges.left[:, 0] + np.abs(reach), side="right") - 1
    last = np.searchsorted(xs, edges.right[:, 0] - np.abs(reach), side="left") - 1
    first, last = np.maximum(first, 0), np.minimum(last, columns - 1)
    index, column = _pairs(first, last)
    at_left = edges.height_at(index, np.maximum(edges.left[index, 0], xs[column]))
    at_right = edges.height_at(index, np.minimum(edges.right[index, 0], xs[column + 1]))
    at_right = np.where(upright[index], edges.right[index, 1], at_right)
    low, high = np.minimum(at_left, at_right), np.maximum(at_left, at_right)
    bottom = np.maximum(np.searchsorted(ys, low + ROUNDING, side="right") - 1, 0)
    top = np.minimum(np.searchsorted(ys, high - ROUNDING, side="left") - 1, rows - 1)
    hit = bottom <= top
    flat = column[hit] * (rows + 1)
    size = columns * (rows + 1)
    opened = np.bincount(flat + bottom[hit], minlength=size)
    closed = np.bincount(flat + top[hit] + 1, minlength=size)
    count = np.cumsum((opened - closed).reshape(columns, rows + 1), axis=1)
    return np.asarray(count[:, :-1] > 0)


def _middles_inside(edges: Edges, xs: Lines, ys: Lines) -> Truths:
    columns, rows = len(xs) - 1, len(ys) - 1
    x, y = (xs[:-1] + xs[1:]) / 2.0, (ys[:-1] + ys[1:]) / 2.0
    first = np.searchsorted(x, edges.left[:, 0], side="left")
    last = np.searchsorted(x, edges.right[:, 0], side="left") - 1
    index, column = _pairs(first, last)
    crossing = edges.height_at(index, x[column])
    row = np.searchsorted(y, crossing, side="left")
    count = np.bincount(column * (rows + 1) + row, minlength=columns * (rows + 1))
    below = np.cumsum(count.reshape(columns, rows + 1), axis=1)[:, :-1]
    return np.asarray(below % 2 == 1)


def _pairs(
    first: npt.NDArray[np.intp], last: npt.NDArray[np.intp]
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]:
    """Every (side, column) with the column between the side's first and last."""
    counts = np.maximum(last - first + 1, 0)
    index = np.repeat(np.arange(len(first)), counts)
    start = np.repeat(np.cumsum(counts) - counts, counts)
    return index, first[index] + np.arange(len(index)) - start


@dataclass(frozen=True)
class Widest:
    """For every pair of rows the widest run of columns free from the one to the other."""

    width: Lines
    """rows × rows, mm; 0 where nothing is free or the pair runs downward."""
    end: npt.NDArray[np.intp]
    """rows × rows: the last column of that run."""


def widest(free: Truths, xs: Lines) -> Widest:
    """The widest free rectangle between each pair of rows."""
    rows = free.shape[1]
    filled = np.concatenate((np.zeros((len(free), 1), int), np.cumsum(~free, axis=1)), axis=1)
    upward = np.triu(np.ones((rows, rows), dtype=bool))
    run = np.zeros((rows, rows))
    best = np.zeros((rows, rows))
    end = np.zeros((rows, rows), dtype=np.intp)
    for column, step in enumerate(np.diff(xs).tolist()):
        clear = filled[column][None, 1:] == filled[column][:-1, None]
        run = np.where(clear & upward, run + step, 0.0)
        better = run > best
        best = np.where(better, run, best)
        end[better] = column
    return Widest(best, end)
