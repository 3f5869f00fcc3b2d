"""Whether a rectangular part can be got out of a piece, and where.

A fit is exact or it is not offered: each placement found is proved against the outline itself
before it is given.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.free_turn import check_free, rectangle_core, search, side_directions
from bindery_stock.shape.ground import EXACT, Ground, ground
from bindery_stock.shape.inner_fit import inner_fit, polygons_of, rings_of, touching
from bindery_stock.shape.outline import Flaw, Outline
from bindery_stock.shape.placement import Placement, check_size, check_turns, placement_at
from bindery_stock.shape.positions import TOLERANCE, Positions
from bindery_stock.shape.turns import Points
from bindery_stock.shape.zones import WHERE_FLAWS_MAY_LIE, FlawRule, Zone

_TRIED_AT_MOST = 40  # corners of one connected set of positions


def place(  # noqa: PLR0913 - one keyword for each thing the binder may decide
    outline: Outline,
    width: float,
    height: float,
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
    zones: Sequence[Zone] = (),
    rule: FlawRule = WHERE_FLAWS_MAY_LIE,
    free: float = 0.0,
) -> Placement | None:
    """A placement of a part of ``width`` × ``height`` mm in ``outline``, or ``None``.

    At turn 0 the width lies along x (across the warp) and the height along y (along the warp).
    ``turns`` are degrees counter-clockwise, tried in their order. ``margin`` is the least distance
    in mm to the edge, a hole or a flaw; touching counts as fitting. ``zones``
    divide the part into shown and hidden, and ``rule`` says which kind of flaw may lie where; a
    part without zones keeps clear of every flaw that may not be shown. ``free`` lets the part turn
    so many degrees either way from each of ``turns``; 180 is any way, for a patch whose weave does
    not matter. Raises ``ShapeError`` for a
    part without size, a margin below nothing or no turn at all.
    """
    check_size(width, height)
    turns = tuple(turns)
    check_turns(turns)
    check_free(free)
    usable = ground(outline, margin=margin, flaws=flaws, zones=zones, rule=rule)
    if free == 0.0:
        return place_on(usable, width, height, turns)
    return _place_turning(outline, usable, (width, height), turns, free)


def _place_turning(
    outline: Outline,
    usable: Ground,
    size: tuple[float, float],
    turns: Sequence[float],
    free: float,
) -> Placement | None:
    core_ground = replace(usable, spared=())  # zones can only take positions away

    def core_fits(middle: float, half: float) -> bool:
        return any(True for _ in all_positions(core_ground, *rectangle_core(*size, half), middle))

    def try_at(angle: float) -> Placement | None:
        return place_on(usable, *size, (angle,))

    distinct = turns
    if not usable.has_an_up:
        distinct = list({float(turn) % 180.0: float(turn) for turn in reversed(turns)}.values())
        free = min(free, 90.0)
    return search(distinct, free, side_directions(outline), try_at, core_fits)


def place_on(
    usable: Ground, width: float, height: float, turns: Sequence[float]
) -> Placement | None:
    """As :func:`place`, on ground already prepared."""
    refused: set[float] = set()
    for turn in turns:
        # a rectangle turned by half lies on itself, unless its zones differ
        half_turn = float(turn) % (360.0 if usable.has_an_up else 180.0)
        if half_turn in refused:
            continue
        for found in placements(usable, width, height, float(turn)):
            return found
        refused.add(half_turn)
    return None


def placements(usable: Ground, width: float, height: float, turn: float) -> Iterator[Placement]:
    """Proved placements at one turn, in the corners of the piece, outermost first."""
    for lain in all_positions(usable, width, height, turn):
        for corner in lain.positions.outermost[:_TRIED_AT_MOST]:
            found = settle(usable, lain, corner)
            if found is not None:
                yield found


@dataclass(frozen=True)
class Lain:
    """A rectangle at one turn, and a set of positions of its lower-left corner."""

    positions: Positions
    width: float
    height: float
    turn: float

    def at(self, corner: Points, *, tight: bool) -> Placement:
        """The part with its lower-left corner there."""
        x, y = float(corner[0]), float(corner[1])
        return placement_at(x, y, self.width, self.height, self.turn, tight=tight)

    def proved(self, usable: Ground, corner: Points, slack: float) -> bool:
        """Whether the part, smaller by ``slack`` all round, lies rightly there."""
        return usable.proves(self.at(corner, tight=True).corners, slack)


def all_positions(usable: Ground, width: float, height: float, turn: float) -> Iterator[Lain]:
    """Every connected set of positions in which the part lies inside, the roomiest first."""
    barred = _barred(usable, width, height, turn)
    for polygon in usable.polygons:
        rings = rings_of(polygon, turn)
        middle = (rings[0].min(axis=0) + rings[0].max(axis=0) - (width, height)) / 2.0
        regions = inner_fit(rings, width - TOLERANCE, height - TOLERANCE, barred)
        for region in sorted(regions, key=lambda r: -r.area):
            positions = Positions(region, -TOLERANCE / 2.0, middle)
            lain = Lain(positions, width, height, turn)
            if lain.proved(usable, positions.inside + positions.offset, TOLERANCE / 2.0):
                yield lain


def _barred(usable: Ground, width: float, height: float, turn: float) -> list[BaseGeometry]:
    """Positions at which a zone would lie on a flaw it must keep clear of."""
    return [
        touching(obstacle, (left, low, right - TOLERANCE, high - TOLERANCE))
        for spared, boxes in usable.clear_boxes(width, height)
        for polygon in polygons_of(spared.grown)
        for obstacle in [Polygon(*rings_of(polygon, turn)[:1])]
        for left, low, right, high in boxes
    ]


def settle(usable: Ground, lain: Lain, corner: Points) -> Placement | None:
    """The proved placement at a corner of the positions or as near to it as can be."""
    positions = lain.positions
    for at in positions.settlings(corner):
        if lain.proved(usable, at, EXACT):
            return lain.at(at, tight=positions.tight)
    at = corner + positions.offset
    if positions.tight and lain.proved(usable, at, TOLERANCE / 2.0):
        return lain.at(at, tight=True)
    return None
