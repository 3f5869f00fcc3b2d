"""Several rectangles in one rectangular sheet, by a bounded search.

Freely: the lowest gap of the skyline is filled first, each rectangle in turn against its left side,
or the gap is given up (after E. Burke, G. Kendall and G. Whitwell, *Operations Research* 52, 2004,
whose best fit this search begins with). By the board shears: each cut runs from edge to edge, so
that a rectangle in the corner of a board leaves two boards. Either search stops at its bound on
steps with the best found; it proves nothing about what it did not find.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

Size = tuple[float, float]

_STEPS = 30_000
_STEPS_WITHOUT_WASTE = 150_000  # most ways are turned back early there
_ROUNDING = 1e-9


@dataclass(frozen=True)
class SheetSpot:
    """Where a rectangle lies: its lower-left corner, and whether it lies a quarter turned."""

    x: float
    y: float
    turned: bool


@dataclass
class _SheetSearch:
    """What the search has used and found. Areas in mm²."""

    sheet: Size
    sizes: Sequence[Size]
    quarter: bool
    limit: float = 0.0
    """Area that may be given up before turning back."""
    steps_left: int = 0
    best_area: float = 0.0
    best: dict[int, SheetSpot] = field(default_factory=dict)
    laid: dict[int, SheetSpot] = field(default_factory=dict)
    area: float = 0.0

    @cached_property
    def total(self) -> float:
        """Area of all rectangles."""
        return sum(w * h for w, h in self.sizes)

    def with_growing_waste(self) -> Iterator[None]:
        """Search again with ever more waste allowed: what leaves little room is found first."""
        whole = self.sheet[0] * self.sheet[1]
        slack = max(whole - self.total, 0.0)
        for self.limit in (0.0, slack / 4.0, slack, whole):
            self.steps_left = _STEPS if self.limit else _STEPS_WITHOUT_WASTE
            if self.best_area < self.total - 1e-6:
                yield

    def over(self, waste: float) -> bool:
        """Whether to turn back: enough steps, too much waste, or no more can come of it."""
        self.steps_left -= 1
        if self.area > self.best_area + _ROUNDING:
            self.best_area, self.best = self.area, dict(self.laid)
        bound = min(self.sheet[0] * self.sheet[1] - waste, self.total)
        enough = self.steps_left < 0 or bound <= self.best_area + 1e-6
        return enough or waste > self.limit + 1e-6

    def choices(self, width: float, height: float) -> Iterator[tuple[int, Size, bool]]:
        """Rectangles that go into a gap, the best filling first, each size once."""
        seen: set[Size] = set()
        found = []
        for index, (w, h) in enumerate(self.sizes):
            if index in self.laid:
                continue
            for size, turned in (((w, h), False), ((h, w), True)):
                if (turned and not self.quarter) or size in seen:
                    continue
                seen.add(size)
                if size[0] <= width + _ROUNDING and size[1] <= height + _ROUNDING:
                    found.append((index, size, turned))
        found.sort(key=lambda f: (-f[1][0], -f[1][1]))
        yield from found

    def lay(self, index: int, spot: SheetSpot) -> None:
        self.laid[index] = spot
        self.area += self.sizes[index][0] * self.sizes[index][1]

    def lift(self, index: int) -> None:
        del self.laid[index]
        self.area -= self.sizes[index][0] * self.sizes[index][1]


def lay_freely(sheet: Size, sizes: Sequence[Size], *, quarter: bool) -> list[SheetSpot | None]:
    """Where each of ``sizes`` lies in ``sheet`` (both width × height, mm), as much as will go.

    ``quarter`` allows a quarter turn. A rectangle that found no place is ``None``.
    """
    search = _SheetSearch(sheet, sizes, quarter)
    for _ in search.with_growing_waste():
        _fill_skyline(search, [(0.0, 0.0, sheet[0])], 0.0)
    return [search.best.get(index) for index in range(len(sizes))]


def lay_by_shears(sheet: Size, sizes: Sequence[Size], *, quarter: bool) -> list[SheetSpot | None]:
    """As :func:`lay_freely`, every cut running from edge to edge."""
    search = _SheetSearch(sheet, sizes, quarter)
    for _ in search.with_growing_waste():
        _shear(search, [(0.0, 0.0, *sheet)], 0.0)
    return [search.best.get(index) for index in range(len(sizes))]


Skyline = list[tuple[float, float, float]]
"""Gaps from left to right: x, y, width."""


def _fill_skyline(search: _SheetSearch, skyline: Skyline, waste: float) -> None:
    sheet_height = search.sheet[1]
    if search.over(waste):
        return
    at = min(range(len(skyline)), key=lambda i: (skyline[i][1], skyline[i][0]))
    x, y, width = skyline[at]
    for index, (w, h), turned in search.choices(width, sheet_height - y):
        rest = [(x + w, y, width - w)] if width - w > _ROUNDING else []
        raised = [*skyline[:at], (x, y + h, w), *rest, *skyline[at + 1 :]]
        search.lay(index, SheetSpot(x, y, turned))
        _fill_skyline(search, _levelled(raised), waste)
        search.lift(index)
    beside = [skyline[i][1] for i in (at - 1, at + 1) if 0 <= i < len(skyline)]
    level = min(beside, default=sheet_height)
    if level > y + _ROUNDING and len(search.laid) < len(search.sizes):
        given_up = [*skyline[:at], (x, level, width), *skyline[at + 1 :]]
        if level < sheet_height - _ROUNDING:
            _fill_skyline(search, _levelled(given_up), waste + width * (level - y))


def _levelled(skyline: Skyline) -> Skyline:
    """Neighbouring gaps of one height made one."""
    level: Skyline = []
    for x, y, width in skyline:
        if level and abs(level[-1][1] - y) <= _ROUNDING:
            level[-1] = (level[-1][0], level[-1][1], level[-1][2] + width)
        else:
            level.append((x, y, width))
    return level


Board = tuple[float, float, float, float]
"""x, y, width, height."""


def _shear(search: _SheetSearch, boards: list[Board], waste: float) -> None:
    if search.over(waste) or not boards:
        return
    board = min(boards, key=lambda b: b[2] * b[3])
    others = [other for other in boards if other is not board]
    x, y, width, height = board
    for index, (w, h), turned in search.choices(width, height):
        search.lay(index, SheetSpot(x, y, turned))
        for halves in _halves(board, w, h):
            _shear(search, [*others, *halves], waste)
        search.lift(index)
    _shear(search, others, waste + width * height)


def _halves(board: Board, w: float, h: float) -> Iterator[list[Board]]:
    """What is left of a board with a rectangle in its corner, by either first cut."""
    x, y, width, height = board
    upright = [(x + w, y, width - w, height), (x, y + h, w, height - h)]
    level = [(x, y + h, width, height - h), (x + w, y, width - w, h)]
    for boards in (upright, level):
        yield [b for b in boards if b[2] > _ROUNDING and b[3] > _ROUNDING]
