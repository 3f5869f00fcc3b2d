"""An outline found in a rendered photograph, beside the true one."""

from dataclasses import dataclass

import shapely

from bindery_stock.errors import ShapeError
from bindery_stock.shape.outline_photo import read_outline
from tests.rendered import kinds
from tests.rendered.scene import shoot

MOST_OUTSIDE = 0.3
"""mm anywhere beyond the true cloth, on an outline called good."""
MOST_AREA = 0.01
MOST_BY_PERIMETER = 0.3
"""mm, area error by perimeter."""


@dataclass(frozen=True)
class Judged:
    """One photograph."""

    found: bool
    good: bool = False
    area: float = 0.0
    """Relative error of the area."""
    by_perimeter: float = 0.0
    outside: float = 0.0

    @property
    def right(self) -> bool:
        """Whether it may be called good."""
        return (
            self.found
            and self.outside <= MOST_OUTSIDE
            and abs(self.area) <= MOST_AREA
            and abs(self.by_perimeter) <= MOST_BY_PERIMETER
        )


def outside(found: shapely.Polygon, truth: shapely.Polygon) -> float:
    """mm by which a found outline leaves the true cloth anywhere, a hole not seen included."""
    low, high = 0.0, 0.05
    if found.difference(truth.buffer(1e-6)).is_empty:
        return 0.0
    while not found.difference(truth.buffer(high, 32)).is_empty:
        low, high = high, 2.0 * high
    while high - low > 0.01:
        middle = 0.5 * (low + high)
        if found.difference(truth.buffer(middle, 32)).is_empty:
            high = middle
        else:
            low = middle
    return high


def judged(kind: str, seed: int) -> Judged:
    """Render, find and compare with the scrap most of it covers."""
    made = kinds.plain if kind == "plain" else kinds.HARD[kind]
    shot = shoot(made(seed))
    try:
        reading = read_outline(shot.pixels, shot.scale)
    except ShapeError:
        return Judged(found=False)
    outline = reading.outline.polygon
    truth = max(shot.truths, key=lambda each: each.intersection(outline).area)
    more = outline.area - truth.area
    return Judged(
        True, reading.good, more / truth.area, more / truth.length, outside(outline, truth)
    )
