"""Rectangles that fill a sheet without waste: every way to fill the lowest gap is tried in turn.

Ways that leave a gap nothing goes into are turned back from at once, so that a small perfect
layout is found, or known not to be there, sooner than by a search that weighs waste.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from bindery_stock.shape.sheet_parts import ROUNDING, SheetSpot, Size

Steps = list[tuple[float, float, float]]
"""The upper edge of what is laid, from left to right: x, y, width."""

_MOST_STEPS = 150_000
_STEPS_A_LOOK = 100  # counted as one half-filled sheet looked at


@dataclass
class _Filling:
    sheet: Size
    ways: Sequence[Sequence[Size]]
    go_on: Callable[[int], bool]
    steps: int = 0
    laid: dict[int, SheetSpot] = field(default_factory=dict)

    def stopped(self) -> bool:
        self.steps += 1
        if self.steps % _STEPS_A_LOOK == 0 and not self.go_on(1):
            self.steps = _MOST_STEPS + 1  # and so for every gap that is still open
        return self.steps > _MOST_STEPS

    def choices(self, width: float, height: float) -> Iterator[tuple[int, int, Size]]:
        """Parts that go into a gap, the broadest first, each size once."""
        seen: set[Size] = set()
        found = []
        for part, ways in enumerate(self.ways):
            for way, size in enumerate(ways):
                if part in self.laid or size in seen:
                    continue
                seen.add(size)
                if size[0] <= width + ROUNDING and size[1] <= height + ROUNDING:
                    found.append((part, way, size))
        yield from sorted(found, key=lambda f: (-f[2][0], -f[2][1]))

    def fill(self, edge: Steps) -> bool:
        """Whether all the rest of the sheet was filled."""
        at = min(range(len(edge)), key=lambda i: (edge[i][1], edge[i][0]))
        x, y, width = edge[at]
        if y >= self.sheet[1] - ROUNDING:
            return True
        for part, way, (w, h) in self.choices(width, self.sheet[1] - y):
            if self.stopped():
                return False
            rest = [(x + w, y, width - w)] if width - w > ROUNDING else []
            self.laid[part] = SheetSpot(x, y, way)
            if self.fill(_levelled([*edge[:at], (x, y + h, w), *rest, *edge[at + 1 :]])):
                return True
            del self.laid[part]
        return False


def lay_without_waste(
    sheet: Size, ways: Sequence[Sequence[Size]], go_on: Callable[[int], bool]
) -> list[SheetSpot | None]:
    """Where parts lie that fill ``sheet`` wholly; all ``None`` where no such way was found."""
    filling = _Filling(sheet, ways, go_on)
    filled = filling.fill([(0.0, 0.0, sheet[0])])
    return [filling.laid.get(part) if filled else None for part in range(len(ways))]


def _levelled(edge: Steps) -> Steps:
    """Neighbouring steps of one height made one."""
    level: Steps = []
    for x, y, width in edge:
        if level and abs(level[-1][1] - y) <= ROUNDING:
            level[-1] = (level[-1][0], level[-1][1], level[-1][2] + width)
        else:
            level.append((x, y, width))
    return level
