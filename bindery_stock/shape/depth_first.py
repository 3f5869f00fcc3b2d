"""Rectangles laid one after another into the lowest gap of a sheet, every way tried in turn.

A way is turned back from as soon as it must waste more than the best found, or more than it may:
what lies closed beneath the edge is lost, and so is what no sum of the parts waiting can fill.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bindery_stock.shape.sheet_parts import ROUNDING, Size, scale_of

_EACH_GAP = 15  # a gap takes as long as so many parts looked at in it
EdgeSteps = list[tuple[float, float, float]]
"""The upper edge of what is laid, from left to right: x, y, width."""


@dataclass(frozen=True, slots=True)
class SeenWay:
    """A part, one way that it may lie, and its sides in whole steps of the scale."""

    part: int
    way: int
    width: float
    height: float
    across: int
    along: int
    area: float
    whole: float
    """Area of the sheet, mm²."""


Laying = tuple[SeenWay, float, float]
"""A part, and where its lower-left corner lies."""
Hope = Callable[[SeenWay, float, float], float]
"""How hopeful a part is in a gap, the less the better, by the waste foreseen and flush sides."""


def scales(sheet: Size, ways: Sequence[Sequence[Size]]) -> Size:
    """Steps in mm on which widths and heights are counted."""
    sizes = [size for own in ways for size in own]
    return scale_of(sheet[0], [w for w, _ in sizes]), scale_of(sheet[1], [h for _, h in sizes])


def seen_ways(sheet: Size, ways: Sequence[Sequence[Size]], scale: Size) -> list[SeenWay]:
    """Every way of every part, the largest first."""
    whole = sheet[0] * sheet[1]
    found = [
        SeenWay(p, k, w, h, max(round(w / scale[0]), 1), max(round(h / scale[1]), 1), w * h, whole)
        for p, own in enumerate(ways)
        for k, (w, h) in enumerate(own)
    ]
    return sorted(found, key=lambda seen: (-seen.area, seen.part, seen.way))


class DepthFirst:
    """One search; ``found`` is its answer."""

    def __init__(
        self,
        sheet: Size,
        scale: Size,
        hope: Hope,
        go_on: Callable[[int], bool],
        may_waste: float = 0.0,
    ) -> None:
        """``go_on`` is told the number of each gap, and stops the search."""
        self.found: list[Laying] | None = None
        self.may_waste = may_waste
        """mm²; that of the best found."""
        self.gaps = 0
        """Looked at."""
        self.weighed = 0
        """Parts looked at in all these gaps, each gap counted as some parts more."""
        self._high, self._scale, self._hope, self._go_on = sheet[1], scale, hope, go_on
        self._laid: list[Laying] = []
        self._across = self._along = 1

    def fill(self, edge: EdgeSteps, waiting: Sequence[SeenWay], lost: float) -> bool:
        """Lay parts upon an edge, beneath which so much is ``lost`` already, mm².

        False where the search was stopped, or nothing better can be found.
        """
        self.gaps += 1
        self.weighed += len(waiting) + _EACH_GAP
        if not self._go_on(self.gaps):
            return False
        at = min(range(len(edge)), key=lambda step: edge[step][1])
        x, y, width = edge[at]
        if y >= self._high - ROUNDING:
            if self._is_enough(lost):
                self.may_waste, self.found = lost, list(self._laid)
            return self.found is None or self.may_waste > ROUNDING
        left = edge[at - 1][1] if at else self._high
        right = edge[at + 1][1] if at + 1 < len(edge) else self._high
        before, after = edge[:at], edge[at + 1 :]
        self._count(waiting)
        above = self._above(before) + self._above(after)
        for seen in self._choices((y, width, left, right), waiting, lost, above):
            self._laid.append((seen, x, y))
            rest = width - seen.width
            beside = [(x + seen.width, y, rest)] if rest > ROUNDING else []
            step = (x, y + seen.height, seen.width)
            others = [other for other in waiting if other.part != seen.part]
            goes_on = self.fill(levelled([*before, step, *beside, *after]), others, lost)
            self._laid.pop()
            if not goes_on:
                return False
        level = min(left, right)
        lost += width * (level - y)
        if not self._is_enough(lost):
            return True
        return self.fill(levelled([*before, (x, level, width), *after]), waiting, lost)

    def _is_enough(self, lost: float) -> bool:
        """Whether a layout that wastes no more than so much would be taken."""
        slack = ROUNDING if self.found is None else -ROUNDING
        return lost <= self.may_waste + slack

    def _choices(
        self,
        gap: tuple[float, float, float, float],
        waiting: Sequence[SeenWay],
        lost: float,
        above: float,
    ) -> list[SeenWay]:
        """Parts that go into a gap, the most hopeful first, each size once.

        ``above`` is what must go to waste above the other steps of the edge, mm².
        """
        y, width, left, right = gap
        most, high = width + ROUNDING, self._high - y + ROUNDING
        fits: dict[Size, SeenWay] = {}
        for seen in waiting:
            if seen.width <= most and seen.height <= high:
                fits.setdefault((seen.width, seen.height), seen)
        across, along, hope = self._across, self._along, self._hope
        allowed = self.may_waste - lost + ROUNDING
        choices: list[tuple[float, int, SeenWay]] = []
        for seen in fits.values():
            rest, top = width - seen.width, y + seen.height
            # each line straight across what is left of the gap is short of its parts by so much
            rise = (top if top < right else right) - y
            level = _short(rest, across, self._scale[0]) * rise
            upright = _short(self._high - top, along, self._scale[1]) * seen.width + above
            if level > allowed or upright > allowed:
                continue
            flush = 1.0 if abs(top - left) <= ROUNDING else 0.0
            if rest <= ROUNDING:
                flush += 2.0 if abs(top - right) <= ROUNDING else 1.0
            choices.append((hope(seen, level + upright, flush), len(choices), seen))
        return [seen for *_, seen in sorted(choices)]

    def _count(self, waiting: Sequence[SeenWay]) -> None:
        """What the parts waiting add up to: a bit for each sum, across and along."""
        across = along = 1
        for seen in waiting:
            across |= across << seen.across
            along |= along << seen.along
        self._across, self._along = across, along

    def _above(self, edge: EdgeSteps) -> float:
        """What must go to waste above an edge: no sum of heights fills a line straight up, mm²."""
        return sum(
            width * _short(self._high - y, self._along, self._scale[1]) for _, y, width in edge
        )


def _short(length: float, sums: int, scale: float) -> float:
    """By how much the sums fall short of a length, mm."""
    if length <= ROUNDING:
        return 0.0
    reached = (sums & ((2 << int(length / scale + 1e-6)) - 1)).bit_length() - 1
    short = length - reached * scale
    return short if short > scale / 2.0 else 0.0


def levelled(edge: EdgeSteps) -> EdgeSteps:
    """Neighbouring steps of one height made one."""
    level: EdgeSteps = []
    for x, y, width in edge:
        if level and abs(level[-1][1] - y) <= ROUNDING:
            level[-1] = (level[-1][0], level[-1][1], level[-1][2] + width)
        else:
            level.append((x, y, width))
    return level
