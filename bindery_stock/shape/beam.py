"""Half-filled sheets carried side by side: a beam search for laying rectangles in a sheet.

Many half-filled sheets are carried side by side, all with the same number of parts in them; of
their children the most hopeful are kept (a beam search). What it hopes by is the area laid, what
has been given up, and what must be given up because no sum of the parts still waiting fills a gap.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Protocol, Self

import numpy as np

from bindery_stock.shape.sheet_parts import (
    ROUNDING,
    Floats,
    Numbers,
    Reach,
    SheetParts,
    Size,
    Truths,
)

Weights = tuple[float, float, float, float]
GIVEN_UP = 3
"""So many gaps may be given up between one part and the next."""


class Sheets(Protocol):
    """Half-filled sheets, a row for each."""

    def take(self, rows: Numbers) -> Self: ...  # noqa: D102
    def joined(self, other: Self) -> Self: ...  # noqa: D102
    @property
    def keys(self) -> Floats: ...  # noqa: D102
    def corner(self) -> tuple[Floats, Floats]: ...  # noqa: D102
    def room(self) -> tuple[Floats, Floats]: ...  # noqa: D102
    def given_up(self) -> tuple[Self, Floats]: ...  # noqa: D102
    def lost(self, parts: SheetParts, reach: Reach) -> tuple[Floats, Floats]: ...  # noqa: D102
    def laid(self, width: Floats, height: Floats, way: Numbers) -> Self: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Laid:
    """One part of a layout: the column of the parts, and its lower-left corner."""

    column: int
    x: float
    y: float


@dataclass(frozen=True, eq=False, slots=True)
class BeamLevel:
    """Sheets with equally many parts in them."""

    sheets: Sheets
    waiting: Truths
    """Sheets × parts not yet laid."""
    area: Floats
    """Laid, mm²."""
    waste: Floats
    """Given up, mm²."""
    before: "BeamLevel | None"
    parent: Numbers
    column: Numbers
    x: Floats
    y: Floats

    def way_here(self, row: int) -> list[Laid]:
        """The parts in one of the sheets, in the order they were laid."""
        level: BeamLevel | None = self
        laid = []
        while level is not None and level.before is not None:
            at = Laid(int(level.column[row]), float(level.x[row]), float(level.y[row]))
            laid.append(at)
            row, level = int(level.parent[row]), level.before
        return laid[::-1]


@dataclass(eq=False)
class Beam:
    """One way to fill a sheet; keeps the best found."""

    size: Size
    parts: SheetParts
    empty: Sheets
    go_on: Callable[[int], bool]
    """Told how many half-filled sheets are looked at next; whether to go on."""
    to_beat: float = 0.0
    """What has been laid elsewhere, mm²."""
    best_area: float = 0.0
    best: list[Laid] = field(default_factory=list)
    looked_at: int = 0
    """Half-filled sheets looked at in all."""

    @property
    def whole(self) -> float:
        """Area of the sheet, mm²."""
        return self.size[0] * self.size[1]

    def start(self) -> BeamLevel:
        """One sheet with nothing in it."""
        none = np.zeros(1)
        at = np.zeros(1, dtype=np.intp)
        waiting = np.ones((1, self.parts.count), dtype=bool)
        return BeamLevel(self.empty, waiting, none, none, None, at, at, none, none)

    def again(self, count: int) -> BeamLevel:
        """The first so many parts of the best layout."""
        level = self.start()
        for laid in self.best[:count]:
            rows = np.zeros(1, dtype=np.intp)
            sheets, waste = level.sheets, level.waste
            while not _at(sheets, laid):
                sheets, lost = sheets.given_up()
                waste = waste + lost
            level = self._next(level, sheets, rows, waste, np.array([laid.column]))
        return level

    def run(self, level: BeamLevel, width: int, weights: Weights) -> bool:
        """Fill the sheets up, the ``width`` most hopeful kept; False where it was stopped."""
        while len(level.waiting):
            following = self._children(level, width, weights)
            if following is None:
                return False
            level = following
            if len(level.area) and level.area.max() > self.best_area + ROUNDING:
                row = int(level.area.argmax())
                self.best_area, self.best = float(level.area[row]), level.way_here(row)
        return True

    def _children(self, level: BeamLevel, width: int, weights: Weights) -> BeamLevel | None:
        found = list(self._ready(level))
        if not found:
            return self._next(level, level.sheets, *_none())
        sheets, rows, waste, may = found[0]
        for more in found[1:]:
            sheets = sheets.joined(more[0])
        rows, waste, may = (np.concatenate([each[k] for each in found]) for k in (1, 2, 3))
        self.looked_at += len(rows)
        if not self.go_on(len(rows)):
            return None
        hope = self._hope(level, sheets, rows, waste, weights)
        hope[~may] = np.inf
        flat = _smallest(hope.ravel(), width + width // 2 + 1)
        row, column = np.unravel_index(flat, hope.shape)
        children = self._next(level, sheets.take(row), rows[row], waste[row], column)
        return _distinct(children, width)

    def _ready(self, level: BeamLevel) -> Iterator[tuple[Sheets, Numbers, Floats, Truths]]:
        """Sheets in which some part may come next, after as many gaps given up as need be."""
        rows = np.arange(len(level.area))
        sheets, waste = level.sheets, level.waste
        chosen = np.zeros(len(rows), dtype=np.intp)
        all_open = self.parts.open(level.waiting)
        while len(rows):
            wide, high = sheets.room()
            may = (
                all_open[rows]
                & (self.parts.width <= wide[:, None] + ROUNDING)
                & (self.parts.height <= high[:, None] + ROUNDING)
            )
            some = np.flatnonzero(may.any(axis=1))
            if len(some):
                yield sheets.take(some), rows[some], waste[some], may[some]
            chosen[some] += 1
            sheets, lost = sheets.given_up()
            waste = waste + lost
            hope = waste + max(self.best_area, self.to_beat) < self.whole - 1e-6
            on = np.flatnonzero(hope & (chosen < GIVEN_UP))
            sheets, rows, waste, chosen = sheets.take(on), rows[on], waste[on], chosen[on]

    def _hope(
        self,
        level: BeamLevel,
        sheets: Sheets,
        rows: Numbers,
        waste: Floats,
        weights: Weights,
    ) -> Floats:
        """The less the better, for each sheet and column."""
        each, flush_share, large, foreseen = weights
        reach = Reach.of(self.size, self.parts, level.waiting).take(rows)
        lost, flush = sheets.lost(self.parts, reach)
        area = level.area[rows][:, None] + self.parts.area
        count = (~level.waiting).sum(axis=1)[rows][:, None] + 1
        mean = self.whole / self.parts.count
        loss = waste[:, None] + foreseen * lost + each * mean * (1.0 - flush_share * flush)
        return np.asarray(loss / (area * (area / count) ** large))

    def _next(
        self, level: BeamLevel, sheets: Sheets, rows: Numbers, waste: Floats, column: Numbers
    ) -> BeamLevel:
        parts = self.parts
        x, y = sheets.corner()
        waiting = level.waiting[rows]
        waiting[np.arange(len(rows)), parts.part[column]] = False
        if len(rows):
            sheets = sheets.laid(parts.width[column], parts.height[column], parts.way[column])
        area = level.area[rows] + parts.area[column]
        return BeamLevel(sheets, waiting, area, waste, level, rows, column, x, y)


def _none() -> tuple[Numbers, Floats, Numbers]:
    nothing = np.zeros(0, dtype=np.intp)
    return nothing, np.zeros(0), nothing


def _at(sheets: Sheets, laid: Laid) -> bool:
    x, y = sheets.corner()
    return abs(float(x[0]) - laid.x) <= ROUNDING and abs(float(y[0]) - laid.y) <= ROUNDING


def _smallest(values: Floats, count: int) -> Numbers:
    """Where the least values are, in order, none of them infinite."""
    if count < len(values):
        where = np.argpartition(values, count)[:count]
        where.sort()
    else:
        where = np.arange(len(values))
    where = where[np.argsort(values[where], kind="stable")]
    return np.asarray(where[np.isfinite(values[where])])


def _distinct(level: BeamLevel, width: int) -> BeamLevel:
    """The first ``width`` sheets that differ."""
    mixed = np.modf(np.arange(1, level.waiting.shape[1] + 1) * 0.6180339887498949)[0]
    keys = np.round(level.sheets.keys + level.waiting @ mixed * 31.0, 9)
    _, first = np.unique(keys, return_index=True)
    first.sort()
    rows = first[:width]
    return BeamLevel(
        level.sheets.take(rows),
        level.waiting[rows],
        level.area[rows],
        level.waste[rows],
        level.before,
        level.parent[rows],
        level.column[rows],
        level.x[rows],
        level.y[rows],
    )
