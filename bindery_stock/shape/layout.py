"""Several parts out of one piece in one sitting."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from shapely import Polygon

from bindery_stock.errors import ShapeError
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
from bindery_stock.shape.sheet_layout import SheetSpot, Size, lay_by_shears, lay_freely
from bindery_stock.shape.sheets import is_sheet
from bindery_stock.shape.usable_rectangle import largest_on
from bindery_stock.shape.zones import Zone

_CORNERS = 5  # tried for each part
_STEPS = 60  # parts laid down in all before the best found is taken


@dataclass(frozen=True)
class RectangleWanted:
    """A rectangle to be laid among others. Fields as the arguments of ``place``."""

    width: float
    height: float
    turns: tuple[float, ...] = (0.0, 180.0)
    margin: float = 0.0
    zones: tuple[Zone, ...] = ()

    @property
    def area(self) -> float:
        """Square millimetres."""
        return self.width * self.height

    @property
    def upright(self) -> float | None:
        """The first turn that leaves the height along the warp, if there is one."""
        return next((turn for turn in self.turns if turn % 180.0 == 0.0), None)

    @property
    def quarter(self) -> float | None:
        """The first turn that lays the height across the warp, if there is one."""
        return next((turn for turn in self.turns if turn % 180.0 == 90.0), None)


def place_all(
    outline: Outline,
    rectangles: Sequence[Size],
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    gap: float = 0.0,
    flaws: Sequence[Flaw] = (),
    zones: Sequence[Sequence[Zone]] = (),
    guillotine: bool = False,
) -> list[Placement | None]:
    """Where each part (width × height, mm) lies, in the order given; ``None`` where it does not.

    ``turns`` and ``margin`` hold for every part; ``zones`` gives each part its own, in the same
    order, or none to any. The rest is as in :func:`lay_all`. Raises ``ShapeError`` as
    :func:`bindery_stock.shape.place`, and where there are not as many lists of zones as parts.
    """
    if zones and len(zones) != len(rectangles):
        raise ShapeError(
            f"There are {len(rectangles)} parts and {len(zones)} lists of zones. Give each part "
            "its list, if only an empty one."
        )
    own = zones or [()] * len(rectangles)
    wanted = [
        RectangleWanted(width, height, tuple(map(float, turns)), margin, tuple(each))
        for (width, height), each in zip(rectangles, own, strict=True)
    ]
    return lay_all(outline, wanted, gap=gap, flaws=flaws, guillotine=guillotine)


def lay_all(
    outline: Outline,
    wanted: Sequence[RectangleWanted],
    *,
    gap: float = 0.0,
    flaws: Sequence[Flaw] = (),
    taken: Sequence[Polygon] = (),
    guillotine: bool = False,
) -> list[Placement | None]:
    """Where each part lies, in the order given; ``None`` where it does not.

    As much area as a bounded search finds is laid. ``gap`` is the knife's width in mm between
    parts; nothing lies on what is ``taken``. With ``guillotine`` every cut runs from edge to edge,
    as on board shears; in an irregular piece that is done in its largest rectangle clear of flaws.
    """
    check_margin(gap)
    for part in wanted:
        check_turns(part.turns)
        check_size(part.width, part.height)
    clear = ground(outline, margin=max((p.margin for p in wanted), default=0.0), flaws=flaws)
    for each in taken:
        clear = clear.without(each)
    whole = is_sheet(outline) and not flaws and not taken
    board = largest_on(clear) if guillotine or whole else None
    if board is not None and all(turn % 90.0 == 0.0 for part in wanted for turn in part.turns):
        return _in_sheet(clear, board, wanted, gap, guillotine=guillotine)
    if guillotine:
        return [None] * len(wanted)
    kinds = list(dict.fromkeys((part.margin, part.zones) for part in wanted))
    grounds = [_ground(outline, flaws, taken, *kind) for kind in kinds]
    search = _LayoutSearch(wanted, [kinds.index((p.margin, p.zones)) for p in wanted], gap)
    for order in _orders(wanted):
        search.lay(grounds, order, {}, 0.0)
    return [search.best.get(index) for index in range(len(wanted))]


def _ground(
    outline: Outline,
    flaws: Sequence[Flaw],
    taken: Sequence[Polygon],
    margin: float,
    zones: tuple[Zone, ...],
) -> Ground:
    usable = ground(outline, margin=margin, flaws=flaws, zones=zones)
    for each in taken:
        usable = usable.without(each)
    return usable


def _in_sheet(
    usable: Ground,
    board: Placement,
    wanted: Sequence[RectangleWanted],
    gap: float,
    *,
    guillotine: bool,
) -> list[Placement | None]:
    lying = [part.upright is None for part in wanted]
    sizes = [
        (p.height + gap, p.width + gap) if lies else (p.width + gap, p.height + gap)
        for p, lies in zip(wanted, lying, strict=True)
    ]
    both = all(part.upright is not None and part.quarter is not None for part in wanted)
    lay = lay_by_shears if guillotine else lay_freely
    spots = lay((board.width + gap, board.height + gap), sizes, quarter=both)
    corner = board.polygon.bounds[:2]
    laid: list[Placement | None] = []
    for part, lies, spot in zip(wanted, lying, spots, strict=True):
        turn = part.quarter if lies or (spot and spot.turned) else part.upright
        placed = None if spot is None else _placed(spot, corner, part, turn or 0.0)
        proved = placed is not None and usable.proves(placed.corners, EXACT)
        laid.append(placed if proved else None)
    return laid


def _placed(
    spot: SheetSpot, corner: Sequence[float], part: RectangleWanted, turn: float
) -> Placement:
    """The part with its lowest left corner at the spot, whichever way it is turned."""
    flat = placement_at(0.0, 0.0, part.width, part.height, turn)
    left, low = np.array(flat.corners).min(axis=0)
    by = (corner[0] + spot.x - left, corner[1] + spot.y - low)
    a, b, c, d = ((x + float(by[0]), y + float(by[1])) for x, y in flat.corners)
    return Placement((a, b, c, d), turn, False, part.width, part.height)


@dataclass
class _LayoutSearch:
    """Laying parts one after another in an irregular piece, several corners tried for each."""

    wanted: Sequence[RectangleWanted]
    ground_of: Sequence[int]
    """Which of the grounds each part lies on: parts of other zones have other ground."""
    gap: float
    steps: int = 0
    best_area: float = -1.0
    best: dict[int, Placement] = field(default_factory=dict)

    def lay(
        self, grounds: list[Ground], order: list[int], laid: dict[int, Placement], area: float
    ) -> None:
        if area > self.best_area:
            self.best_area, self.best = area, dict(laid)
        if not order or (area + self._at_most(grounds, order) <= self.best_area + 1e-6 and laid):
            return
        index, *rest = order
        for found in self._choices(grounds[self.ground_of[index]], self.wanted[index]):
            self.steps += 1
            after = [usable.without(found.polygon, self.gap) for usable in grounds]
            self.lay(after, rest, {**laid, index: found}, area + self.wanted[index].area)
            if self.steps > _STEPS or len(self.best) == len(self.wanted):
                return
        self.lay(grounds, rest, laid, area)

    def _at_most(self, grounds: list[Ground], order: list[int]) -> float:
        """More area than this the parts still to be laid cannot take, mm²."""
        waiting = [0.0] * len(grounds)
        for index in order:
            waiting[self.ground_of[index]] += self.wanted[index].area
        rooms = (sum(polygon.area for polygon in usable.polygons) for usable in grounds)
        return sum(map(min, waiting, rooms))

    def _choices(self, usable: Ground, part: RectangleWanted) -> list[Placement]:
        if self.steps > _STEPS:
            found = place_on(usable, part.width, part.height, part.turns)
            return [] if found is None else [found]
        turns = distinct_turns(part.turns, usable)
        return spread_placements(usable, part.width, part.height, turns, _CORNERS)


def _orders(wanted: Sequence[RectangleWanted]) -> list[list[int]]:
    """The largest first, then the longest first."""
    by_area = sorted(range(len(wanted)), key=lambda i: -wanted[i].area)
    by_length = sorted(range(len(wanted)), key=lambda i: -max(wanted[i].width, wanted[i].height))
    return [by_area] if by_area == by_length else [by_area, by_length]
