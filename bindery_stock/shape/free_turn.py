"""A part that may be turned freely within some degrees: a certified search over the angles.

An interval of angles is given up only where even the core of the part, what lies under it at every
angle of the interval, cannot be laid down. An interval that may hold a fit is tried in its middle
and halved, so that only a fit with hardly any play either way can be missed, never invented.
"""

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, degrees, isfinite, radians, sin
from typing import TypeVar

from bindery_stock.errors import ShapeError
from bindery_stock.shape.outline import Outline

FINEST = 0.05
"""Degrees: intervals this narrow are not halved again."""
_WIDEST = 7.5  # degrees either side of the middle of the first intervals
_SIDES_TRIED = 24  # longest sides of the outline whose directions are tried first

Found = TypeVar("Found")


def check_free(free: float) -> None:
    """Refuse a freedom to turn that is no angle."""
    if not isfinite(free) or free < 0.0:
        raise ShapeError(f"A freedom to turn of {free}° is none. Give 0 to 180 degrees either way.")


def search(
    turns: Sequence[float],
    free: float,
    seeds: Sequence[float],
    try_at: Callable[[float], Found | None],
    core_fits: Callable[[float, float], bool],
) -> Found | None:
    """The first fit found within ``free`` degrees of any of ``turns``, or ``None``.

    ``try_at`` lays the part at an angle; ``core_fits`` says whether the part's core over so many
    degrees either side of an angle can be laid. ``seeds`` are angles worth trying first, such as
    the directions of the outline's sides, where a part without play comes to lie.
    """
    ends = [turn + end for turn in turns for end in (-free, free)]  # no interval's middle
    for angle in (*turns, *_within(seeds, turns, free), *ends):
        found = try_at(angle)
        if found is not None:
            return found
    waiting = deque(_intervals(turns, free))
    while waiting:
        middle, half = waiting.popleft()
        if not core_fits(middle, half):
            continue
        found = try_at(middle)
        if found is not None:
            return found
        if half > FINEST:
            waiting.append((middle - half / 2.0, half / 2.0))
            waiting.append((middle + half / 2.0, half / 2.0))
    return None


def side_directions(outline: Outline) -> list[float]:
    """Directions of the outline's longest sides, degrees, a quarter turn apart."""
    rings = (outline.exterior, *outline.holes)
    sides = [(a, b) for ring in rings for a, b in pairwise((*ring, ring[0]))]
    sides.sort(key=lambda s: -((s[0][0] - s[1][0]) ** 2 + (s[0][1] - s[1][1]) ** 2))
    along = [degrees(atan2(b[1] - a[1], b[0] - a[0])) for a, b in sides[:_SIDES_TRIED]]
    return [angle + quarter for angle in along for quarter in (0.0, 90.0, 180.0, 270.0)]


def rectangle_core(width: float, height: float, half: float) -> tuple[float, float]:
    """Sides of a rectangle that lies under one of ``width`` × ``height`` turned up to ``half``.

    Both about their middles, ``half`` degrees either way.
    """
    c, s = cos(radians(half)), sin(radians(half))
    across = (width * c - height * s) / (c * c - s * s)
    along = (height * c - width * s) / (c * c - s * s)
    least = min(width, height) / 2.0**0.5  # the square in the greatest circle inside
    return (across, along) if min(across, along) > least else (least, least)


def _intervals(turns: Sequence[float], free: float) -> Iterator[tuple[float, float]]:
    """Middles and half widths, nearest to the wanted turns first."""
    count = max(int(free / _WIDEST / 2.0) + 1, 1)
    half = free / (2.0 * count)
    for step in range(count):
        for turn in turns:
            yield turn + (2 * step + 1) * half, half
            yield turn - (2 * step + 1) * half, half


def _within(seeds: Sequence[float], turns: Sequence[float], free: float) -> list[float]:
    """The seeds within the freedom, the least turned first, each once."""
    near: dict[float, float] = {}
    for seed in seeds:
        for turn in turns:
            off = (seed - turn + 180.0) % 360.0 - 180.0
            if abs(off) <= free:
                near.setdefault(round(turn + off, 9), abs(off))
    return sorted(near, key=lambda angle: near[angle])
