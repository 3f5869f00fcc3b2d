"""The placement that leaves the most useful offcut, and the one nearest to the hand."""

from collections.abc import Sequence

import numpy as np

from bindery_stock.shape.fit import all_positions, settle
from bindery_stock.shape.ground import Ground, ground
from bindery_stock.shape.outline import Flaw, Outline, Point
from bindery_stock.shape.placement import Placement, check_size, check_turns
from bindery_stock.shape.remnants import remains
from bindery_stock.shape.turns import turned
from bindery_stock.shape.usable_rectangle import rough_area
from bindery_stock.shape.zones import Zone

CORNERS_TRIED = 24
"""So many corners, spread over all positions, are weighed by what they leave."""
LEAST_AREA = 100.0
"""Remains smaller than this, mm², are not counted (our own choice)."""


def best_place(
    outline: Outline,
    width: float,
    height: float,
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
    zones: Sequence[Zone] = (),
    knife: float = 0.0,
) -> Placement | None:
    """Of the placements tried, the one that leaves the largest usable rectangle along the warp.

    Then the fewest remains decide. Takes some tenths of a second: for the leading candidates, away
    from the window. Arguments and errors as :func:`bindery_stock.shape.place`; ``knife`` is the
    width in mm lost all round the part.
    """
    check_size(width, height)
    check_turns(tuple(turns))
    usable = ground(outline, margin=margin, flaws=flaws, zones=zones)
    best: tuple[float, int, Placement] | None = None
    for found in spread_placements(
        usable, width, height, distinct_turns(turns, usable), CORNERS_TRIED
    ):
        area, count = _left(outline, found, flaws, knife)
        if best is None or (area, -count) > (best[0] + 1e-6, -best[1]):
            best = (area, count, found)
    return None if best is None else best[2]


def place_near(
    outline: Outline,
    width: float,
    height: float,
    near: Point,
    *,
    turn: float = 0.0,
    snap: float = 0.0,
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
) -> Placement | None:
    """The placement whose own lower-left corner lies nearest to ``near``, at one turn.

    Within ``snap`` mm a placement that touches the edge on two sides is taken instead.
    """
    usable = ground(outline, margin=margin, flaws=flaws)
    return near_on(usable, width, height, near, turn=turn, snap=snap)


def near_on(
    usable: Ground,
    width: float,
    height: float,
    near: Point,
    *,
    turn: float = 0.0,
    snap: float = 0.0,
) -> Placement | None:
    """As :func:`place_near`, on ground already prepared."""
    check_size(width, height)
    check_turns((turn,))
    at = turned(np.array([near], dtype=np.float64), -turn)[0]
    found = [
        placement
        for lain in all_positions(usable, width, height, turn)
        if (placement := settle(usable, lain, lain.positions.nearest(at, snap))) is not None
    ]
    return min(found, key=lambda p: _apart(p.corners[0], near), default=None)


def _apart(a: Point, b: Point) -> float:
    return float(np.hypot(a[0] - b[0], a[1] - b[1]))


def distinct_turns(turns: Sequence[float], usable: Ground) -> list[float]:
    """Turns without those that lay the part on the same ground again."""
    period = 360.0 if usable.has_an_up else 180.0
    return list({float(turn) % period: float(turn) for turn in reversed(turns)}.values())[::-1]


def spread_placements(
    usable: Ground, width: float, height: float, turns: Sequence[float], count: int
) -> list[Placement]:
    """Placements in up to ``count`` corners, each as far from the others as can be."""
    found = [lain for turn in turns for lain in all_positions(usable, width, height, turn)]
    if not found:
        return []
    corners = np.concatenate([lain.positions.corners for lain in found])
    owners = np.repeat(np.arange(len(found)), [len(lain.positions.corners) for lain in found])
    middles = np.array([lain.positions.middle for lain in found])[owners]
    apart = np.full(len(corners), np.inf)
    pick = int(np.argmax(np.hypot(*(corners - middles).T)))
    placements = []
    for _ in range(min(count, len(corners))):
        placed = settle(usable, found[owners[pick]], corners[pick])
        if placed is not None:
            placements.append(placed)
        others = np.hypot(*(corners - corners[pick]).T)
        apart = np.minimum(apart, np.where(owners == owners[pick], others, np.inf))
        apart[pick] = 0.0
        pick = int(np.argmax(apart))
    return placements


def _left(
    outline: Outline, placement: Placement, flaws: Sequence[Flaw], knife: float
) -> tuple[float, int]:
    """Area of the largest rectangle left, and the number of remains of any use."""
    left = remains(outline, placement, knife=knife)
    largest = 0.0
    for remain in left:
        if remain.area > largest:
            largest = max(largest, rough_area(ground(remain, flaws=flaws)))
    return largest, sum(remain.area > LEAST_AREA for remain in left)
