"""Several rectangles in one rectangular sheet: a search that widens for as long as it may.

Many half-filled sheets are carried side by side, all with the same number of parts in them; of
their children the most hopeful are kept (a beam search). What it hopes by is the area laid, what
has been given up, and what must be given up because no sum of the parts still waiting fills a gap.
It starts narrow and doubles its width; each width is tried with several weights of these, from
either side of the sheet, and again from the middle of the best layout found.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Protocol, Self

import numpy as np

from bindery_stock.shape.boards import Boards
from bindery_stock.shape.perfect_layout import lay_without_waste
from bindery_stock.shape.quick_rules import OrderSearch, QuickRules
from bindery_stock.shape.sheet_parts import (
    ROUNDING,
    Floats,
    Numbers,
    Reach,
    SheetParts,
    SheetSpot,
    Size,
    Truths,
)
from bindery_stock.shape.skylines import Skylines

Weights = tuple[float, float, float, float]
_GIVEN_UP = 3
"""So many gaps may be given up between one part and the next."""
_CELLS = 2_000_000  # sheets × columns carried at a time: some hundred megabytes
_BEAM = 150  # looks that each beam counts as, however soon it ends
_LOOKS_AN_ORDER = 40  # a quick rule takes about as long as so many looks
_WEIGHTS: tuple[Weights, ...] = ((3.0, 0.3, 1.0, 1.0), (1.2, 0.2, 0.3, 1.0), (3.0, 0.0, 1.0, 0.5))
"""Of a part's area for each part, less for a flush side; how much large parts go first; and how
much what must go to waste counts. Others are drawn after these."""
_LIKELY: tuple[Weights, Weights] = ((0.8, 0.0, 0.0, 0.3), (5.0, 0.4, 1.5, 1.5))
_FEW = 40
_PERFECT = 1e-6  # share of a sheet: with less to spare a layout without waste is looked for
_ORDERS = (0.1, 1.0)
"""Time for other orders of the quick rules beside that of the beams: of few parts, and else."""
_WIDE = 128
"""Beams double up to this width, and grow slowly from there on: other weights find more."""


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
class _Level:
    """Sheets with equally many parts in them."""

    sheets: Sheets
    waiting: Truths
    """Sheets × parts not yet laid."""
    area: Floats
    """Laid, mm²."""
    waste: Floats
    """Given up, mm²."""
    before: "_Level | None"
    parent: Numbers
    column: Numbers
    x: Floats
    y: Floats

    def way_here(self, row: int) -> list[Laid]:
        """The parts in one of the sheets, in the order they were laid."""
        level: _Level | None = self
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

    def start(self) -> _Level:
        """One sheet with nothing in it."""
        none = np.zeros(1)
        at = np.zeros(1, dtype=np.intp)
        waiting = np.ones((1, self.parts.count), dtype=bool)
        return _Level(self.empty, waiting, none, none, None, at, at, none, none)

    def again(self, count: int) -> _Level:
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

    def run(self, level: _Level, width: int, weights: Weights) -> bool:
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

    def _children(self, level: _Level, width: int, weights: Weights) -> _Level | None:
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

    def _ready(self, level: _Level) -> Iterator[tuple[Sheets, Numbers, Floats, Truths]]:
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
            on = np.flatnonzero(hope & (chosen < _GIVEN_UP))
            sheets, rows, waste, chosen = sheets.take(on), rows[on], waste[on], chosen[on]

    def _hope(
        self,
        level: _Level,
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
        self, level: _Level, sheets: Sheets, rows: Numbers, waste: Floats, column: Numbers
    ) -> _Level:
        parts = self.parts
        x, y = sheets.corner()
        waiting = level.waiting[rows]
        waiting[np.arange(len(rows)), parts.part[column]] = False
        if len(rows):
            sheets = sheets.laid(parts.width[column], parts.height[column], parts.way[column])
        area = level.area[rows] + parts.area[column]
        return _Level(sheets, waiting, area, waste, level, rows, column, x, y)


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


def _distinct(level: _Level, width: int) -> _Level:
    """The first ``width`` sheets that differ."""
    mixed = np.modf(np.arange(1, level.waiting.shape[1] + 1) * 0.6180339887498949)[0]
    keys = np.round(level.sheets.keys + level.waiting @ mixed * 31.0, 9)
    _, first = np.unique(keys, return_index=True)
    first.sort()
    rows = first[:width]
    return _Level(
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


def fill_sheet(
    size: Size, ways: Sequence[Sequence[Size]], *, guillotine: bool, go_on: Callable[[int], bool]
) -> list[SheetSpot | None]:
    """Where each part lies in a sheet of that size, as much area as is found; ``None`` if not.

    ``ways`` gives each part the sizes it may lie in, width × height in mm. ``go_on`` is told how
    many half-filled sheets are looked at next, and stops the search.
    """
    split = 2 if guillotine else 1
    parts = [[(w, h) for w, h in each for _ in range(split)] for each in ways]
    flipped = [[(h, w) for w, h in each] for each in parts]
    frame: type[Boards] | type[Skylines] = Boards if guillotine else Skylines
    beams = [
        Beam(sheet, SheetParts.of(own), frame.empty(sheet), go_on)
        for sheet, own in ((size, parts), (size[::-1], flipped))
    ]
    full = min(size[0] * size[1], sum(max(w * h for w, h in each) for each in ways)) - 1e-6
    quick = OrderSearch(QuickRules(size, ways, guillotine), go_on)
    perfect = not guillotine and full > size[0] * size[1] * (1.0 - _PERFECT) and len(ways) <= _FEW
    for _ in quick.every_rule():
        if quick.area >= full or not go_on(len(ways)):
            return quick.spots
    for beam in _widened(beams, quick, full):
        quick.take(_spots_of(beams, len(ways), split))
        if perfect and beam == 1:
            quick.take(lay_without_waste(size, ways, go_on))
    quick.take(_spots_of(beams, len(ways), split))
    return quick.spots


def _spots_of(beams: Sequence[Beam], count: int, split: int) -> list[SheetSpot | None]:
    """What the better of the beams has found."""
    best = max(beams, key=lambda beam: beam.best_area)
    spots: list[SheetSpot | None] = [None] * count
    for laid in best.best:
        x, y = (laid.x, laid.y) if best is beams[0] else (laid.y, laid.x)
        way = int(best.parts.way[laid.column]) // split
        spots[int(best.parts.part[laid.column])] = SheetSpot(x, y, way)
    return spots


def _widened(beams: Sequence[Beam], quick: OrderSearch, full: float) -> Iterator[int]:
    """Search ever wider, until stopped or nothing is left to be found; after each beam its number.

    As many steps as a beam has taken are spent on other orders for the quick rules.
    """
    random = np.random.default_rng(1)
    share = _ORDERS[beams[0].parts.count > _FEW or quick.rules.guillotine]
    width, count = 16.0, 0
    while True:
        for beam, start, weights in _starts(beams, random, first=width == 16.0):
            most = max(_CELLS // (len(beam.parts.part) * _GIVEN_UP), 1)
            beam.to_beat = max(quick.area, *(each.best_area for each in beams))
            before = beam.looked_at
            # where nothing can come of a beam it looks at no sheet, and must end all the same
            if beam.to_beat >= full or not beam.go_on(_BEAM):
                return
            if not beam.run(start(), min(int(width), most), weights):
                return
            yield count
            count += 1
            for _ in range(int(share * (beam.looked_at - before) / _LOOKS_AN_ORDER)):
                if quick.area >= full or not quick.go_on(_LOOKS_AN_ORDER):
                    return
                quick.changed()
        width *= 2.0 if width < _WIDE else 1.15


def _starts(
    beams: Sequence[Beam], random: np.random.Generator, *, first: bool
) -> Iterator[tuple[Beam, Callable[[], _Level], Weights]]:
    """From the empty sheet, either way round, and from the middle of the best."""
    drawn = random.uniform(*_LIKELY, size=(len(_WEIGHTS), 4)).tolist()
    for weights in _WEIGHTS if first else (tuple(each) for each in drawn):
        for beam in beams:
            yield beam, beam.start, weights
    best = max(beams, key=lambda beam: beam.best_area)
    for share in (0.25, 0.5):
        count = int(share * len(best.best))
        weights = tuple(random.uniform(*_LIKELY).tolist())
        yield best, lambda count=count: best.again(count), weights  # type: ignore[misc]
