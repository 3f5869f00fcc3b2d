"""Several parts out of one piece in one sitting."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from bindery_stock.shape.best_fit import distinct_turns, spread_placements
from bindery_stock.shape.fit import place_on
from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.outline import Flaw, Outline
from bindery_stock.shape.placement import (
    Placement,
    check_margin,
    check_size,
    check_turns,
    placement_at,
)
from bindery_stock.shape.sheet_layout import Size, Spot, lay_by_shears, lay_freely
from bindery_stock.shape.sheets import is_sheet
from bindery_stock.shape.usable_rectangle import largest_on

_CORNERS = 5  # tried for each part
_STEPS = 60  # parts laid down in all before the best found is taken


def place_all(
    outline: Outline,
    rectangles: Sequence[Size],
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    gap: float = 0.0,
    flaws: Sequence[Flaw] = (),
    guillotine: bool = False,
) -> list[Placement | None]:
    """Where each part (width × height, mm) lies, in the order given; ``None`` where it does not.

    As much area as a bounded search finds is laid. ``gap`` is the knife's width in mm between
    parts, ``margin`` the least distance to edges and flaws. With ``guillotine`` every cut runs from
    edge to edge, as on board shears; in an irregular piece that is done in its largest rectangle.
    Raises ``ShapeError`` as :func:`bindery_stock.shape.place`.
    """
    turns = tuple(turns)
    check_turns(turns)
    check_margin(margin)
    check_margin(gap)
    for width, height in rectangles:
        check_size(width, height)
    usable = ground(outline, margin=margin, flaws=flaws)
    square_on = all(turn % 90.0 == 0.0 for turn in turns)
    board = largest_on(usable) if guillotine or (is_sheet(outline) and not flaws) else None
    if board is not None and square_on:
        return _in_sheet(usable, board, rectangles, turns, gap, guillotine=guillotine)
    if guillotine:
        return [None] * len(rectangles)
    search = _Search(rectangles, turns, gap)
    for order in _orders(rectangles):
        search.lay(usable, order, {}, 0.0)
    return [search.best.get(index) for index in range(len(rectangles))]


def _in_sheet(
    usable: Ground,
    board: Placement,
    rectangles: Sequence[Size],
    turns: Sequence[float],
    gap: float,
    *,
    guillotine: bool,
) -> list[Placement | None]:
    upright = next((float(t) for t in turns if t % 180.0 == 0.0), None)
    quarter = next((float(t) for t in turns if t % 180.0 == 90.0), None)
    sizes = [(w + gap, h + gap) for w, h in rectangles]
    if upright is None:
        sizes = [(h, w) for w, h in sizes]
    lay = lay_by_shears if guillotine else lay_freely
    both = upright is not None and quarter is not None
    spots = lay((board.width + gap, board.height + gap), sizes, quarter=both)
    corner = board.polygon.bounds[:2]
    laid: list[Placement | None] = []
    for (width, height), spot in zip(rectangles, spots, strict=True):
        turn = quarter if upright is None or (spot and spot.turned) else upright
        placed = None if spot is None else _placed(spot, corner, (width, height), turn or 0.0)
        proved = placed is not None and usable.proves(placed.corners, EXACT)
        laid.append(placed if proved else None)
    return laid


def _placed(spot: Spot, corner: Sequence[float], size: Size, turn: float) -> Placement:
    """The part with its lowest left corner at the spot, whichever way it is turned."""
    flat = placement_at(0.0, 0.0, *size, turn)
    left, low = np.array(flat.corners).min(axis=0)
    by = (corner[0] + spot.x - left, corner[1] + spot.y - low)
    a, b, c, d = ((x + float(by[0]), y + float(by[1])) for x, y in flat.corners)
    return Placement((a, b, c, d), turn, False, *size)


@dataclass
class _Search:
    """Laying parts one after another in an irregular piece, several corners tried for each."""

    rectangles: Sequence[Size]
    turns: Sequence[float]
    gap: float
    steps: int = 0
    best_area: float = -1.0
    best: dict[int, Placement] = field(default_factory=dict)

    def lay(
        self, usable: Ground, order: list[int], laid: dict[int, Placement], area: float
    ) -> None:
        if area > self.best_area:
            self.best_area, self.best = area, dict(laid)
        left = sum(self._area(index) for index in order)
        room = sum(polygon.area for polygon in usable.polygons)
        if not order or (area + min(left, room) <= self.best_area + 1e-6 and laid):
            return
        index, *rest = order
        width, height = self.rectangles[index]
        choices = self._choices(usable, width, height)
        for found in choices:
            self.steps += 1
            after = usable.without(found.polygon, self.gap)
            self.lay(after, rest, {**laid, index: found}, area + self._area(index))
            if self.steps > _STEPS or len(self.best) == len(self.rectangles):
                return
        self.lay(usable, rest, laid, area)

    def _choices(self, usable: Ground, width: float, height: float) -> list[Placement]:
        if self.steps > _STEPS:
            found = place_on(usable, width, height, self.turns)
            return [] if found is None else [found]
        turns = distinct_turns(self.turns, usable)
        return spread_placements(usable, width, height, turns, _CORNERS)

    def _area(self, index: int) -> float:
        width, height = self.rectangles[index]
        return width * height


def _orders(rectangles: Sequence[Size]) -> list[list[int]]:
    """The largest first, then the longest first."""
    by_area = sorted(range(len(rectangles)), key=lambda i: -rectangles[i][0] * rectangles[i][1])
    by_length = sorted(range(len(rectangles)), key=lambda i: -max(rectangles[i]))
    return [by_area] if by_area == by_length else [by_area, by_length]
