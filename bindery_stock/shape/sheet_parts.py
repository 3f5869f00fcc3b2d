"""Parts to be laid in a sheet, in columns, and which lengths those still to be laid add up to."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]
Truths = NDArray[np.bool_]

Size = tuple[float, float]
"""Width × height, mm."""

ROUNDING = 1e-9  # mm: what sums of lengths may be out by
_STEPS = 400  # of the scale on which sums of lengths are kept


@dataclass(frozen=True, slots=True)
class SheetSpot:
    """Where a rectangle lies: its lower-left corner, and which of its ways it lies."""

    x: float
    y: float
    way: int


@dataclass(frozen=True, eq=False)
class SheetParts:
    """Every way that every part may lie is one column; parts from the largest to the smallest."""

    count: int
    part: Numbers
    """The number of the part."""
    way: Numbers
    """Which of its ways."""
    width: Floats
    height: Floats
    twin: Numbers
    """The part before, of which it is the double, or the part itself."""

    @classmethod
    def of(cls, ways: Sequence[Sequence[Size]]) -> "SheetParts":
        """Columns of parts, each with the sizes of the ways that it may lie in."""
        order = sorted(range(len(ways)), key=lambda i: (-max(w * h for w, h in ways[i]), ways[i]))
        columns = [(i, k, w, h) for i in order for k, (w, h) in enumerate(ways[i])]
        twin = np.arange(len(ways))
        for before, after in pairwise(order):
            if ways[before] == ways[after]:
                twin[after] = before
        part, way, width, height = zip(*columns, strict=True)
        return cls(
            len(ways),
            np.array(part, dtype=np.intp),
            np.array(way, dtype=np.intp),
            np.array(width, dtype=np.float64),
            np.array(height, dtype=np.float64),
            twin,
        )

    @property
    def area(self) -> Floats:
        """Of each column, mm²."""
        return self.width * self.height

    def open(self, waiting: Truths) -> Truths:
        """Of sheets × parts still waiting: sheets × columns that may come next.

        Of parts of one size only the first is worth trying.
        """
        own = np.arange(self.count)
        first = waiting & ((self.twin == own) | ~waiting[:, self.twin])
        return np.asarray(first[:, self.part])


@dataclass(frozen=True, eq=False)
class Reach:
    """By how much lengths fall short of the nearest sum of the parts still waiting."""

    across: Floats
    """By sheet and step of the scale: the longest sum of widths that is not longer."""
    along: Floats
    scale: tuple[float, float]

    @classmethod
    def of(cls, sheet: Size, parts: SheetParts, waiting: Truths) -> "Reach":
        """What the parts waiting in each sheet add up to."""
        scale = scale_of(sheet[0], parts.width), scale_of(sheet[1], parts.height)
        there = waiting[:, parts.part]
        return cls(
            _sums(sheet[0], scale[0], parts.width, there),
            _sums(sheet[1], scale[1], parts.height, there),
            scale,
        )

    def take(self, rows: Numbers) -> "Reach":
        """Those rows, in that order."""
        return Reach(self.across[rows], self.along[rows], self.scale)

    def short_across(self, length: Floats) -> Floats:
        """By how much the widths fall short of each length."""
        return _short(self.across, self.scale[0], length)

    def short_along(self, length: Floats) -> Floats:
        """By how much the heights fall short of each length."""
        return _short(self.along, self.scale[1], length)


def scale_of(whole: float, lengths: Sequence[float] | Floats) -> float:
    """A step in mm: whole millimetres where all lengths are whole and few; else a fine division."""
    if whole <= _STEPS and np.all(np.asarray(lengths) == np.round(lengths)):
        return 1.0
    return whole / _STEPS


def _sums(whole: float, scale: float, lengths: Floats, there: Truths) -> Floats:
    steps = int(whole / scale + 1e-6)
    reached = np.zeros((len(there), steps + 1), dtype=bool)
    reached[:, 0] = True
    for column in np.flatnonzero(there.any(axis=0)):
        shift = max(round(lengths[column] / scale), 1)
        if shift <= steps:
            reached[:, shift:] |= reached[:, :-shift] & there[:, column, None]
    at = np.where(reached, np.arange(steps + 1), 0)
    return np.asarray(np.maximum.accumulate(at, axis=1) * scale)


def _short(sums: Floats, scale: float, length: Floats) -> Floats:
    at = np.clip((length / scale + 1e-6).astype(np.intp), 0, sums.shape[1] - 1)
    reached = sums[np.arange(len(sums))[:, None], at]
    short = np.maximum(length - reached, 0.0)
    return np.where(short > scale / 2.0, short, 0.0)
