"""Part of a layout taken up and laid anew, as long as the sheet is used no less for it.

The sheet is looked at from any of its sides. Some parts, with all that lies above them, are taken
up; into the edge that stays they and what was left out are laid depth-first, always into the lowest
gap, and a way is turned back from as soon as it must waste more than it may (local search through
the neighbourhoods of D. Pisinger and S. Ropke, *Large neighborhood search*, 2010; from memory).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from random import Random

from bindery_stock.shape.depth_first import (
    DepthFirst,
    EdgeSteps,
    SeenWay,
    levelled,
    scales,
    seen_ways,
)
from bindery_stock.shape.quick_rules import Spots
from bindery_stock.shape.sheet_parts import ROUNDING, SheetSpot, Size

BoxSeen = tuple[float, float, float, float]
"""Left, low, width and height as seen, mm."""

_TAKEN_UP = (6, 15)  # parts in one try, what was left out not counted
_WEIGHED = 30_000  # parts looked at in all the gaps of one try
_WEIGHED_A_LOOK = 100  # as many as take the time of one half-filled sheet of a beam
_WORSE = 0.012  # share of the sheet by which the layout in hand may fall short of the best
_SLACKS = (0.0, 0.0, 0.0, 0.003, 0.01)  # of which one try may be the worse


@dataclass(frozen=True, slots=True)
class _View:
    """One of the eight ways to look at a sheet."""

    sheet: Size
    mirrored: bool
    upside_down: bool
    on_its_side: bool

    @property
    def seen(self) -> Size:
        """The sheet, as it is seen."""
        return self.sheet[::-1] if self.on_its_side else self.sheet

    def there(self, x: float, y: float, size: Size) -> Size:
        """Where the corner of a part of the sheet is seen; ``size`` as it lies in the sheet."""
        x, y = self._flipped(x, y, size)
        return (y, x) if self.on_its_side else (x, y)

    def back(self, x: float, y: float, size: Size) -> Size:
        """The way back; ``size`` as it lies in the sheet."""
        return self._flipped(*((y, x) if self.on_its_side else (x, y)), size)

    def _flipped(self, x: float, y: float, size: Size) -> Size:
        x = self.sheet[0] - x - size[0] if self.mirrored else x
        return x, self.sheet[1] - y - size[1] if self.upside_down else y


class Refill:
    """Tries to better a layout, one small change after another."""

    def __init__(
        self, sheet: Size, ways: Sequence[Sequence[Size]], go_on: Callable[[int], bool]
    ) -> None:
        """``ways`` gives each part its sizes in mm; ``go_on`` is told of looks, as by a beam."""
        self._sheet, self._ways, self._go_on = sheet, ways, go_on
        self._random = Random(1)
        self._whole = sheet[0] * sheet[1]
        flipped = [[size[::-1] for size in own] for own in ways]
        self._seen = [
            (scale := scales(*seen), seen_ways(*seen, scale))
            for seen in ((sheet, ways), (sheet[::-1], flipped))
        ]
        self._best: Spots = []
        self._least = inf
        self._in_hand: Spots = []
        self.looked_at = 0
        """Half-filled sheets that would have taken as long."""

    def begin_with(self, spots: Spots) -> None:
        """Go on from a layout, where it is better than the best so far."""
        waste = self._waste(spots)
        if waste < self._least - ROUNDING:
            self._best, self._least = list(spots), waste
            self._in_hand = list(spots)

    @property
    def best(self) -> Spots:
        """The best layout so far."""
        return self._best

    def change(self) -> bool:
        """Take some parts up and lay them anew; False where it was stopped."""
        random = self._random
        view = _View(self._sheet, *(random.random() < 0.5 for _ in range(3)))
        lying = {
            part: (*view.there(spot.x, spot.y, size), *(size[::-1] if view.on_its_side else size))
            for part, spot in enumerate(self._in_hand)
            if spot
            for size in (self._ways[part][spot.way],)
        }
        kept = _kept(lying, random.randint(*_TAKEN_UP), random)
        waste = self._waste(self._in_hand)
        may_waste = waste + random.choice(_SLACKS) * self._whole
        scale, seen = self._seen[view.on_its_side]
        search = DepthFirst(
            view.seen, scale, _taste(random), lambda _gaps: search.weighed <= _WEIGHED, may_waste
        )
        edge = _upper_edge(list(kept.values()), view.seen[0])
        lost = sum(y * w for _, y, w in edge) - sum(w * h for _, _, w, h in kept.values())
        search.fill(edge, [way for way in seen if way.part not in kept], lost)
        looks = search.weighed // _WEIGHED_A_LOOK + 1
        self.looked_at += looks
        if search.found is not None:
            self._take(view, kept, search.found, waste)
        return self._go_on(looks)

    def _take(
        self,
        view: _View,
        kept: dict[int, BoxSeen],
        found: Sequence[tuple[SeenWay, float, float]],
        waste: float,
    ) -> None:
        spots: Spots = [self._in_hand[p] if p in kept else None for p in range(len(self._ways))]
        for way, x, y in found:
            spot = view.back(x, y, self._ways[way.part][way.way])
            spots[way.part] = SheetSpot(*spot, way.way)
        new = self._waste(spots)
        if new <= max(waste, self._least + _WORSE * self._whole):
            self._in_hand = spots
        if new < self._least - ROUNDING:
            self._best, self._least = spots, new

    def _waste(self, spots: Spots) -> float:
        laid = (self._ways[part][spot.way] for part, spot in enumerate(spots) if spot)
        return self._whole - sum(w * h for w, h in laid)


def _taste(random: Random) -> Callable[[SeenWay, float, float], float]:
    """How hopeful a part is in a gap, by what it wastes, its area and its flush sides."""
    waste, area = random.uniform(0.5, 3.0), random.uniform(0.1, 1.0)
    flush, luck = random.uniform(0.0, 0.015), random.uniform(0.0, 0.015)

    def hope(seen: SeenWay, wasted: float, flush_sides: float) -> float:
        return (
            waste * wasted
            - area * seen.area
            - (flush * flush_sides - luck * random.random()) * seen.whole
        )

    return hope


def _kept(lying: dict[int, BoxSeen], count: int, random: Random) -> dict[int, BoxSeen]:
    """What stays: all but ``count`` parts, and none of it over one that is taken up."""
    if random.random() < 0.5:
        lowest = sorted(lying, key=lambda part: lying[part][1])
        return {part: lying[part] for part in lowest[: max(len(lying) - count, 0)]}
    kept = dict(lying)
    for part in random.sample(list(lying), len(lying)):
        if len(lying) - len(kept) >= count:
            break
        fewer = dict(kept)
        _take_up(fewer, part)
        if len(lying) - len(fewer) <= _TAKEN_UP[1]:
            kept = fewer
    return kept


def _take_up(kept: dict[int, BoxSeen], part: int) -> None:
    """Take a part up, with all that lies above it."""
    waiting = [part]
    while waiting:
        box = kept.pop(waiting.pop(), None)
        if box is None:
            continue
        x, y, width, height = box
        waiting += [
            other
            for other, (left, low, wide, _) in kept.items()
            if low > y + height - ROUNDING
            and left < x + width - ROUNDING
            and left + wide > x + ROUNDING
        ]


def _upper_edge(boxes: Sequence[BoxSeen], width: float) -> EdgeSteps:
    """The upper edge of what is laid in a sheet of that width."""
    ends = sorted({0.0, width, *(x for x, *_ in boxes), *(x + w for x, _, w, _ in boxes)})
    edge = []
    for left, right in pairwise(ends):
        if right - left <= ROUNDING:
            continue
        tops = (y + h for x, y, w, h in boxes if x < right - ROUNDING and x + w > left + ROUNDING)
        edge.append((left, max(tops, default=0.0), right - left))
    return levelled(edge)
