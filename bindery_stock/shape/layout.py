"""Several parts out of one piece in one sitting."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from time import monotonic

import numpy as np
from shapely import MultiPolygon, Polygon

from bindery_stock.errors import ShapeError
from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.layout_bound import most_area
from bindery_stock.shape.odd_piece import OddPieceSearch, orders
from bindery_stock.shape.outline import Flaw, Outline
from bindery_stock.shape.placement import (
    Placement,
    check_margin,
    check_size,
    check_turns,
    placement_at,
)
from bindery_stock.shape.rectangle_wanted import RectangleWanted
from bindery_stock.shape.sheet_parts import SheetSpot, Size
from bindery_stock.shape.sheet_search import fill_sheet
from bindery_stock.shape.sheets import is_sheet
from bindery_stock.shape.usable_rectangle import largest_on
from bindery_stock.shape.zones import Zone

_LOOKS = 6_000  # half-filled sheets looked at, where neither steps nor seconds are given
_PROVED = 1.0 - 1e-5  # of the bound: what has been laid is the most there can be
_TIED = 2e-9  # mm: parts nearer than the knife's width by this touch it by rounding alone


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
    order, or none to any. The rest is as in :func:`lay_out`. Raises ``ShapeError`` as
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
    layout = lay_out(
        outline,
        wanted,
        gap=gap,
        flaws=flaws,
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
    least = min((part.margin for part in wanted), default=0.0)
    kinds = {zone.sight for part in wanted for zone in part.zones}
    open_ground = _ground(outline, () if kinds else flaws, taken, least, ())
    left, low, right, high = (
        MultiPolygon(open_ground.polygons).bounds if open_ground.polygons else (0.0,) * 4
    )
    area = sum(polygon.area for polygon in open_ground.polygons)
    ways = [[part.laid_size(turn) for turn in part.ways] for part in wanted]

    @cache
    def most() -> float:
        return most_area((right - left, high - low), area, ways, [p.area for p in wanted], gap)

    laid = _laid(outline, wanted, gap, flaws, taken, guillotine=guillotine, go_on=go_on, most=most)
    used = sum(part.area for part, placed in zip(wanted, laid, strict=True) if placed)
    whole = area or 1.0
    return Layout(tuple(laid), used / whole, max(most(), used) / whole)


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
    most: Callable[[], float],
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
        in_board = _in_sheet(
            clear, board, wanted, gap, guillotine=guillotine, go_on=go_on, most=most
        )
    if guillotine or (whole and square) or all(in_board):
        return in_board
    kinds = list(dict.fromkeys((part.margin, part.zones) for part in wanted))
    grounds = [_ground(outline, flaws, taken, *kind) for kind in kinds]
    search = OddPieceSearch(wanted, [kinds.index((p.margin, p.zones)) for p in wanted], gap, go_on)
    search.begin_with(grounds, in_board)
    search.enough = most() * _PROVED
    for order in orders(wanted):
        if not search.done:
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
    most: Callable[[], float],
) -> list[Placement | None]:
    """Parts laid in an upright rectangle, each proved, and proved to lie apart."""
    ways = [
        [(across + gap, along + gap) for across, along in map(part.laid_size, part.ways)]
        for part in wanted
    ]
    sheet = (board.polygon.bounds[2] - board.polygon.bounds[0] + gap, board.height + gap)

    def enough(spots: Sequence[SheetSpot | None]) -> bool:
        used = sum(part.area for part, spot in zip(wanted, spots, strict=True) if spot)
        return used >= most() * _PROVED

    spots = fill_sheet(sheet, ways, guillotine=guillotine, go_on=go_on, enough=enough)
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
