"""Changing rings: each function gives a new ring or a new row of rings."""

import math

from bindery_stock.shape import Point, Ring

Rings = tuple[Ring, ...]


def rectangle(first: Point, second: Point) -> Ring:
    """The upright rectangle between two opposite corners."""
    (x0, y0), (x1, y1) = first, second
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def moved(ring: Ring, dx: float, dy: float) -> Ring:
    """The whole ring moved."""
    return tuple((x + dx, y + dy) for x, y in ring)


def with_point(ring: Ring, place: int, at: Point) -> Ring:
    """One point put elsewhere."""
    return (*ring[:place], at, *ring[place + 1 :])


def with_point_after(ring: Ring, place: int, at: Point) -> Ring:
    """A point put into the side that begins at ``place``."""
    return (*ring[: place + 1], at, *ring[place + 1 :])


def without_point(ring: Ring, place: int) -> Ring:
    """One point taken out."""
    return (*ring[:place], *ring[place + 1 :])


def with_ring(rings: Rings, place: int, ring: Ring) -> Rings:
    """One ring put in the place of another."""
    return (*rings[:place], ring, *rings[place + 1 :])


def without_ring(rings: Rings, place: int) -> Rings:
    """One ring taken out."""
    return (*rings[:place], *rings[place + 1 :])


def point_after(rings: Rings, now: tuple[int | None, int | None]) -> tuple[int, int] | None:
    """The next point after this one, round all rings; the first where it is none of theirs."""
    every = [(ring, point) for ring, points in enumerate(rings) for point in range(len(points))]
    if not every:
        return None
    place = next((i for i, at in enumerate(every) if at == now), -1)
    return every[(place + 1) % len(every)]


def side_at(rings: Rings, at: Point, reach: float) -> tuple[int, int] | None:
    """The first side within reach of a spot: which ring, and at which point the side begins."""
    for place, ring in enumerate(rings):
        for side, start in enumerate(ring):
            if _from_side(at, start, ring[(side + 1) % len(ring)]) <= reach:
                return place, side
    return None


def _from_side(at: Point, start: Point, end: Point) -> float:
    length = math.dist(start, end)
    if length == 0.0:
        return math.dist(at, start)
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    along = (at[0] - start[0]) * dx + (at[1] - start[1]) * dy
    along = min(max(along, 0.0), length)
    return math.dist(at, (start[0] + along * dx, start[1] + along * dy))
