"""Several parts out of one piece in one sitting."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from time import monotonic

import numpy as np
from shapely import MultiPolygon, Polygon

from bindery_stock.errors import ShapeError
from bindery_stock.shape.best_fit import distinct_turns, spread_placements
from bindery_stock.shape.fit import place_on
from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.layout_bound import most_area
from bindery_stock.shape.outline import Flaw, Outline
from bindery_stock.shape.placement import (
    Placement,
    check_margin,
    check_size,
    check_turns,
    placement_at,
)
from bindery_stock.shape.sheet_parts import SheetSpot, Size
from bindery_stock.shape.sheet_search import fill_sheet
from bindery_stock.shape.sheets import is_sheet
from bindery_stock.shape.usable_rectangle import largest_on
from bindery_stock.shape.zones import Zone

_CORNERS = 5  # tried for each part
_STEPS = 60  # parts laid down in all in an odd piece before the best found is taken
_LOOKS = 6_000  # half-filled sheets looked at, where neither steps nor seconds are given
_TIED = 2e-9  # mm: parts nearer than the knife's width by this touch it by rounding alone


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
    def ways(self) -> tuple[float, ...]:
        """Its turns that lay it differently on a bare sheet; none where one lies aslant."""
        if any(turn % 90.0 for turn in self.turns):
            return ()
        return tuple(turn for turn in (self.upright, self.quarter) if turn is not None)

    def laid_size(self, turn: float) -> Size:
        """Across and along the warp where it lies so."""
        return (self.width, self.height) if turn % 180.0 == 0.0 else (self.height, self.width)

    @property
    def upright(self) -> float | None:
        """The first turn that leaves the height along the warp, if there is one."""
        return next((turn for turn in self.turns if turn % 180.0 == 0.0), None)

    @property
    def quarter(self) -> float | None:
        """The first turn that lays the height across the warp, if there is one."""
        return next((turn for turn in self.turns if turn % 180.0 == 90.0), None)


@dataclass(frozen=True)
class Layout:
    """Parts laid in a piece, and how near that is to the most there could be."""

    placements: tuple[Placement | None, ...]
    """In the order of the parts; ``None`` where one was not laid."""
    used: float
    """Share of the usable ground that the parts cover."""
    at_most: float
    """Share that no layout of these parts can exceed."""


def place_all(  # noqa: PLR0913 - one keyword for each thing the binder may decide
    outline: Outline,
    rectangles: Sequence[Size],
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    gap: float = 0.0,
    flaws: Sequence[Flaw] = (),
    zones: Sequence[Sequence[Zone]] = (),
    guillotine: bool = False,
    steps: int | None = None,
    seconds: float | None = None,
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
    return lay_all(
        outline,
        wanted,
        gap=gap,
        flaws=flaws,
        guillotine=guillotine,
        steps=steps,
        seconds=seconds,
    )


def lay_all(
    outline: Outline,
    wanted: Sequence[RectangleWanted],
    *,
    gap: float = 0.0,
    flaws: Sequence[Flaw] = (),
    taken: Sequence[Polygon] = (),
    guillotine: bool = False,
    steps: int | None = None,
    seconds: float | None = None,
) -> list[Placement | None]:
    """The placements of :func:`lay_out`."""
    layout = lay_out(
        outline,
        wanted,
        gap=gap,
        flaws=flaws,
        taken=taken,
        guillotine=guillotine,
        steps=steps,
        seconds=seconds,
    )
    return list(layout.placements)


def lay_out(
    outline: Outline,
    wanted: Sequence[RectangleWanted],
    *,
    gap: float = 0.0,
    flaws: Sequence[Flaw] = (),
    taken: Sequence[Polygon] = (),
    guillotine: bool = False,
    steps: int | None = None,
    seconds: float | None = None,
) -> Layout:
    """Parts laid in a piece: as much area as a bounded search finds.

    ``gap`` is the knife's width in mm between parts; nothing lies on what is ``taken``. With
    ``guillotine`` every cut runs from edge to edge, as on board shears; in an irregular piece that
    is done in its largest rectangle clear of flaws. The search ends after ``steps`` half-filled
    sheets, the same answer for the same steps, or after ``seconds``.
    """
    check_margin(gap)
    for part in wanted:
        check_turns(part.turns)
        check_size(part.width, part.height)
    go_on = _until(steps, seconds)
    laid = _laid(outline, wanted, gap, flaws, taken, guillotine=guillotine, go_on=go_on)
    least = min((part.margin for part in wanted), default=0.0)
    kinds = {zone.sight for part in wanted for zone in part.zones}
    open_ground = _ground(outline, () if kinds else flaws, taken, least, ())
    left, low, right, high = (
        MultiPolygon(open_ground.polygons).bounds if open_ground.polygons else (0.0,) * 4
    )
    area = sum(polygon.area for polygon in open_ground.polygons)
    ways = [[part.laid_size(turn) for turn in part.ways] for part in wanted]
    most = most_area((right - left, high - low), area, ways, [p.area for p in wanted], gap)
    used = sum(part.area for part, placed in zip(wanted, laid, strict=True) if placed)
    whole = area or 1.0
    return Layout(tuple(laid), used / whole, max(most, used) / whole)


def _until(steps: int | None, seconds: float | None) -> Callable[[int], bool]:
    """What stops a search: so many steps, or so many seconds from now."""
    left = _LOOKS if steps is None and seconds is None else steps
    end = None if seconds is None else monotonic() + seconds

    def go_on(looks: int) -> bool:
        nonlocal left
        if left is not None:
            left -= looks
            if left < 0:
                return False
        return end is None or monotonic() < end

    return go_on


def _laid(
    outline: Outline,
    wanted: Sequence[RectangleWanted],
    gap: float,
    flaws: Sequence[Flaw],
    taken: Sequence[Polygon],
    *,
    guillotine: bool,
    go_on: Callable[[int], bool],
) -> list[Placement | None]:
    if not wanted:
        return []
    clear = ground(outline, margin=max(p.margin for p in wanted), flaws=flaws)
    for each in taken:
        clear = clear.without(each)
    whole = is_sheet(outline) and not flaws and not taken
    board = largest_on(clear)
    square = all(part.ways for part in wanted)
    in_board: list[Placement | None] = [None] * len(wanted)
    if board is not None and square:
        in_board = _in_sheet(clear, board, wanted, gap, guillotine=guillotine, go_on=go_on)
    if guillotine or (whole and square) or all(in_board):
        return in_board
    kinds = list(dict.fromkeys((part.margin, part.zones) for part in wanted))
    grounds = [_ground(outline, flaws, taken, *kind) for kind in kinds]
    search = _LayoutSearch(wanted, [kinds.index((p.margin, p.zones)) for p in wanted], gap, go_on)
    search.begin_with(grounds, in_board)
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
    go_on: Callable[[int], bool],
) -> list[Placement | None]:
    """Parts laid in an upright rectangle, each proved, and proved to lie apart."""
    ways = [
        [(across + gap, along + gap) for across, along in map(part.laid_size, part.ways)]
        for part in wanted
    ]
    sheet = (board.polygon.bounds[2] - board.polygon.bounds[0] + gap, board.height + gap)
    spots = fill_sheet(sheet, ways, guillotine=guillotine, go_on=go_on)
    corner = board.polygon.bounds[:2]
    laid: list[Placement | None] = [None] * len(wanted)
    boxes: list[tuple[float, float, float, float]] = []
    for index, (part, spot) in enumerate(zip(wanted, spots, strict=True)):
        if spot is None:
            continue
        placed = _placed(spot, corner, part, part.ways[spot.way])
        box = placed.polygon.bounds
        if usable.proves(placed.corners, EXACT) and all(_apart(box, o, gap) for o in boxes):
            laid[index] = placed
            boxes.append(box)
    return laid


def _apart(one: Sequence[float], other: Sequence[float], gap: float) -> bool:
    """Whether a straight cut of the knife's width parts two boxes."""
    across = max(one[0] - other[2], other[0] - one[2])
    along = max(one[1] - other[3], other[1] - one[3])
    return max(across, along) >= gap - _TIED


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
    go_on: Callable[[int], bool]
    steps: int = 0
    best_area: float = -1.0
    best: dict[int, Placement] = field(default_factory=dict)

    def begin_with(self, grounds: list[Ground], laid: Sequence[Placement | None]) -> None:
        """What has been laid in one rectangle of the piece, with the rest laid round about it."""
        found = {index: placed for index, placed in enumerate(laid) if placed is not None}
        for placed in found.values():
            grounds = [usable.without(placed.polygon, self.gap) for usable in grounds]
        for index in sorted(range(len(laid)), key=lambda i: -self.wanted[i].area):
            part = self.wanted[index]
            if index in found:
                continue
            more = place_on(grounds[self.ground_of[index]], part.width, part.height, part.turns)
            if more is not None:
                found[index] = more
                grounds = [usable.without(more.polygon, self.gap) for usable in grounds]
        self.best, self.best_area = found, sum(self.wanted[index].area for index in found)

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
            if self.stopped or len(self.best) == len(self.wanted):
                return
        self.lay(grounds, rest, laid, area)

    @property
    def stopped(self) -> bool:
        """Whether each further part takes the first place found for it."""
        return self.steps > _STEPS or not self.go_on(0)

    def _at_most(self, grounds: list[Ground], order: list[int]) -> float:
        """More area than this the parts still to be laid cannot take, mm²."""
        waiting = [0.0] * len(grounds)
        for index in order:
            waiting[self.ground_of[index]] += self.wanted[index].area
        rooms = (sum(polygon.area for polygon in usable.polygons) for usable in grounds)
        return sum(map(min, waiting, rooms))

    def _choices(self, usable: Ground, part: RectangleWanted) -> list[Placement]:
        if self.stopped:
            found = place_on(usable, part.width, part.height, part.turns)
            return [] if found is None else [found]
        turns = distinct_turns(part.turns, usable)
        return spread_placements(usable, part.width, part.height, turns, _CORNERS)


def _orders(wanted: Sequence[RectangleWanted]) -> list[list[int]]:
    """The largest first, then the longest first."""
    by_area = sorted(range(len(wanted)), key=lambda i: -wanted[i].area)
    by_length = sorted(range(len(wanted)), key=lambda i: -max(wanted[i].width, wanted[i].height))
    return [by_area] if by_area == by_length else [by_area, by_length]
