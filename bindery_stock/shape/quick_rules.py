"""Quick rules that lay one rectangle after another in a sheet, and the best order found for them.

Freely: the room left is kept as all its largest rectangles. By edge-to-edge cuts: as the boards
that the cuts have left. (Both after J. Jylänki, *A thousand ways to pack the bin*, 2010; from
memory.)
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product

import numpy as np

from bindery_stock.shape.sheet_parts import ROUNDING, SheetSpot, Size

Room = tuple[float, float, float, float]
"""Left, low, right, high."""
Spots = list[SheetSpot | None]
Lay = Callable[[Sequence[int]], Spots]


@dataclass(frozen=True, eq=False)
class QuickRules:
    """The rules for one sheet and one set of parts."""

    sheet: Size
    ways: Sequence[Sequence[Size]]
    """For each part the sizes it may lie in."""
    guillotine: bool

    def area(self, spots: Spots) -> float:
        """Laid, mm²."""
        return sum(
            self.ways[n][s.way][0] * self.ways[n][s.way][1] for n, s in enumerate(spots) if s
        )

    def orders(self) -> list[list[int]]:
        """By area, girth, sides, width, height, their difference and ratio, the largest first."""
        first = [each[0] for each in self.ways]
        measures: tuple[Callable[[Size], float], ...] = (
            lambda s: s[0] * s[1],
            lambda s: s[0] + s[1],
            max,
            min,
            lambda s: s[0],
            lambda s: s[1],
            lambda s: abs(s[0] - s[1]),
            lambda s: s[0] / s[1],
        )
        own = range(len(first))
        return [sorted(own, key=lambda n: (-m(first[n]), -max(first[n]))) for m in measures]

    def rules(self) -> list[Lay]:
        """Every way to choose among the rooms for a part."""
        if not self.guillotine:
            return [lambda order, fit=fit: self.lay_freely(order, fit) for fit in range(5)]  # type: ignore[misc]
        return [
            lambda order, fit=fit, split=split: self.lay_boards(order, fit, split)  # type: ignore[misc]
            for fit, split in product(range(3), range(6))
        ]

    def lay_freely(
        self, order: Sequence[int], fit: int, laid: Sequence[tuple[int, SheetSpot]] = ()
    ) -> Spots:
        """Each part in turn where it fits best beside what is ``laid``."""
        rooms: list[Room] = [(0.0, 0.0, *self.sheet)]
        spots: Spots = [None] * len(self.ways)
        for part, spot in laid:
            width, height = self.ways[part][spot.way]
            spots[part] = spot
            rooms = _without(rooms, (spot.x, spot.y, spot.x + width, spot.y + height))
        for part in order:
            best: tuple[float, float, int, int] | None = None
            for way, (width, height) in enumerate(self.ways[part]):
                found = _fit(rooms, width, height, fit)
                if found is not None and (best is None or found[:2] < best[:2]):
                    best = (*found, way)
            if best is None:
                continue
            at, way = best[2:]
            width, height = self.ways[part][way]
            x, y = rooms[at][:2]
            spots[part] = SheetSpot(x, y, way)
            rooms = _without(rooms, (x, y, x + width, y + height))
            if not rooms:
                break
        return spots

    def lay_boards(self, order: Sequence[int], fit: int, split: int) -> Spots:
        """Each part in turn in the board that it fits best, cut from edge to edge."""
        boards = [(0.0, 0.0, *self.sheet)]
        spots: Spots = [None] * len(self.ways)
        for part in order:
            best: tuple[tuple[float, float], int, int] | None = None
            for way, (width, height) in enumerate(self.ways[part]):
                for at, (_, _, right, top) in enumerate(boards):
                    across, along = right - width, top - height
                    if across < -ROUNDING or along < -ROUNDING:
                        continue
                    worth = _worth(across, along, right * top, fit)
                    if best is None or worth < best[0]:
                        best = (worth, at, way)
            if best is None:
                continue
            _, at, way = best
            x, y, right, top = boards.pop(at)
            width, height = self.ways[part][way]
            spots[part] = SheetSpot(x, y, way)
            boards += _halves((x, y, right, top), width, height, split)
        return spots


def _worth(across: float, along: float, area: float, fit: int) -> tuple[float, float]:
    """Short side, long side or area of what is left; the less the better."""
    short, long = (across, along) if across < along else (along, across)
    return ((short, long), (long, short), (area, short))[fit]


def _halves(
    board: tuple[float, float, float, float], width: float, height: float, split: int
) -> list[tuple[float, float, float, float]]:
    """The boards beside and above a part in the corner of a board (x, y, width, height)."""
    x, y, wide, high = board
    across, along = wide - width, high - height
    upright = (
        across < along,
        across >= along,
        across * height < along * width,
        across * height >= along * width,
        wide < high,
        wide >= high,
    )[split]
    # upright: the board above is as wide as all; else the board beside is as high as all
    if upright:
        boards = [(x + width, y, across, height), (x, y + height, wide, along)]
    else:
        boards = [(x + width, y, across, high), (x, y + height, width, along)]
    return [b for b in boards if b[2] > ROUNDING and b[3] > ROUNDING]


def _fit(
    rooms: Sequence[Room], width: float, height: float, fit: int
) -> tuple[float, float, int] | None:
    """The room in which a part fits best, with how well."""
    best: tuple[float, float, int] | None = None
    for at, (left, low, right, high) in enumerate(rooms):
        across, along = right - left - width, high - low - height
        if across < -ROUNDING or along < -ROUNDING:
            continue
        if fit == 3:
            worth = (low + height, left, at)
        elif fit == 4:
            worth = (left + low, min(across, along), at)
        else:
            worth = (*_worth(across, along, (right - left) * (high - low), fit), at)
        if best is None or worth < best:
            best = worth
    return best


def _without(rooms: Sequence[Room], part: Room) -> list[Room]:
    """The largest rectangles of the room left beside a part."""
    left, low, right, high = part
    kept: list[Room] = []
    new: list[Room] = []
    for room in rooms:
        a, b, c, d = room
        if (
            a >= right - ROUNDING
            or c <= left + ROUNDING
            or b >= high - ROUNDING
            or d <= low + ROUNDING
        ):
            kept.append(room)
            continue
        if left - a > ROUNDING:
            new.append((a, b, left, d))
        if low - b > ROUNDING:
            new.append((a, b, c, low))
        if c - right > ROUNDING:
            new.append((right, b, c, d))
        if d - high > ROUNDING:
            new.append((a, high, c, d))
    fresh = list(dict.fromkeys(new))
    return kept + [
        room
        for room in fresh
        if not any(_covers(other, room) for other in kept)
        and not any(_covers(other, room) for other in fresh if other is not room)
    ]


def _covers(other: Room, room: Room) -> bool:
    return (
        other[0] <= room[0] + ROUNDING
        and other[1] <= room[1] + ROUNDING
        and other[2] >= room[2] - ROUNDING
        and other[3] >= room[3] - ROUNDING
    )


@dataclass(eq=False)
class OrderSearch:
    """The best layout by a quick rule: every rule and order first, then orders a little changed."""

    rules: QuickRules
    go_on: Callable[[int], bool]
    area: float = 0.0
    spots: Spots = field(default_factory=list)
    _best: tuple[Lay, list[int]] | None = None
    _random: np.random.Generator = field(default_factory=lambda: np.random.default_rng(1))

    def every_rule(self) -> Iterator[None]:
        """Each rule with each order; a pause after each."""
        for order, lay in product(self.rules.orders(), self.rules.rules()):
            self._try(lay, order)
            yield

    def changed(self) -> None:
        """The best order with one part moved or two exchanged, or what was left out put first."""
        if self._best is None:
            return
        lay, order = self._best
        order = list(order)
        out = [n for n in order if self.spots[n] is None]
        one, other = self._random.integers(0, len(order), 2).tolist()
        if out and self._random.random() < 0.4:
            one = order.index(out[int(self._random.integers(0, len(out)))])
        if self._random.random() < 0.5:
            order[one], order[other] = order[other], order[one]
        else:
            order.insert(other, order.pop(one))
        self._try(lay, order)

    def take(self, spots: Spots) -> None:
        """Another layout, with what it left out laid in its holes where that can be."""
        laid = [(n, spot) for n, spot in enumerate(spots) if spot]
        if not self.rules.guillotine:
            out = [n for n in self.rules.orders()[0] if spots[n] is None]
            spots = self.rules.lay_freely(out, 0, laid)
        area = self.rules.area(spots)
        if area > self.area:
            self.area, self.spots = area, spots

    def _try(self, lay: Lay, order: list[int]) -> None:
        spots = lay(order)
        area = self.rules.area(spots)
        if self._best is None or area >= self.area:
            self.area, self.spots, self._best = area, spots, (lay, order)
