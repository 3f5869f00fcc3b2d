"""Which outline of the shelf a found one is: turned by any angle, mirrored where it lies face down.

The distance from the middle, as a function of the angle, gives the likely turns at once (a
circular correlation); each of them is then brought to rest edge on edge (P. J. Besl and
N. D. McKay, *A method for registration of 3-D shapes*, 1992, doi 10.1109/34.121791).
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from math import degrees, sqrt
from typing import Final

import numpy as np
import numpy.typing as npt
from shapely import Polygon

from bindery_stock.shape.outline import Outline

Points = npt.NDArray[np.float64]

_ANGLES: Final = 180
_EDGE: Final = 160
"""Points along an edge that is brought to rest on another."""
_TURNS: Final = 3
_ROUNDS: Final = 10
_TRIED: Final = 3
"""Outlines of the shelf that are tried edge on edge: the likeliest by their distances."""
_AREA_APART: Final = 0.15
"""Share by which an area found in a photograph may differ from the one kept: twice the 6 % that
was measured on photographs with a ruler alone, taken aslant."""
_CLEARLY: Final = 2.0
"""Times as far off as the best another must lie before it is told from it: our own choice."""


@dataclass(frozen=True, slots=True)
class Likeness:
    """How one outline lies on another after the best turn."""

    off: float
    """Mean distance of their edges, mm."""
    farthest: float
    """The greatest distance of a point of one edge from the other, mm (Hausdorff)."""
    turn: float
    """Degrees counter-clockwise by which the known one lies turned."""
    mirrored: bool
    """Whether the known one lies face down."""


@dataclass(frozen=True, slots=True)
class ToldOutline:
    """The one outline of the shelf that a found one can be."""

    code: str
    likeness: Likeness


def most_off(found: Outline) -> float:
    """mm by which the edges of one scrap may differ on the average between two photographs.

    Own measurement on drawn scraps of about 80 × 60 mm: 0.5 mm where one side is read longer by
    3 %, 1.1 mm and more to the likest of 24 others; the limit there is 0.8.
    """
    return 0.4 + 0.006 * sqrt(_whole(found).area)


def likeness(found: Outline, known: Outline) -> Likeness:
    """How ``known`` lies on ``found``: the way up that it was kept where both fit alike."""
    straight = _best(found, known, mirrored=False)
    over = _best(found, known, mirrored=True)
    return over if _CLEARLY * over.off < straight.off else straight


def told_outline(
    found: Outline, shelf: Mapping[str, Outline], first: Collection[str] = ()
) -> ToldOutline | None:
    """The one outline of the shelf that this is, or nothing where none or several may be it.

    Those in ``first`` are known to lie there: others then only stand against them where they lie
    clearly better. Holes count for nothing, as a label lying on the cloth looks like one.
    """
    limit = most_off(found)
    tried = {code: likeness(found, shelf[code]) for code in _likely(found, shelf, first)}
    ranked = sorted(tried, key=lambda code: tried[code].off)
    fitting = [code for code in ranked if tried[code].off <= limit]
    near = [code for code in fitting if tried[code].farthest <= 4.0 * limit]
    if not near:
        return None
    best = next((code for code in near if code in first), near[0])
    rivals = [code for code in fitting if code != best and (best not in first or code in first)]
    if any(tried[code].off < _CLEARLY * tried[best].off for code in rivals):
        return None
    if any(_CLEARLY * tried[code].off < tried[best].off for code in fitting):
        return None
    return ToldOutline(best, tried[best])


def _likely(found: Outline, shelf: Mapping[str, Outline], first: Collection[str]) -> list[str]:
    """The outlines of about the same area, the likeliest by their distances first."""
    area = _whole(found).area
    alike = [
        code for code, known in shelf.items() if abs(_whole(known).area - area) < _AREA_APART * area
    ]
    if not alike:
        return []
    own = np.fft.rfft(_distances(_whole(found)))
    far = np.array([_distances(_whole(shelf[code])) for code in alike])
    apart = {}
    for code, row in zip(alike, far, strict=True):
        both = [_apart(own, distances).min() for distances in (row, row[::-1])]
        apart[code] = float(min(both))
    ranked = sorted(alike, key=lambda code: (code not in first, apart[code]))
    closest = sorted(alike, key=apart.__getitem__)[:_TRIED]
    return list(dict.fromkeys((*(c for c in ranked if c in first), *closest)))


def _whole(outline: Outline) -> Polygon:
    return Polygon(outline.exterior)


def _distances(polygon: Polygon) -> Points:
    """The greatest distance of the edge from the middle in each of the angles."""
    ring = _edge(polygon, 4 * _ANGLES) - np.array(polygon.centroid.coords[0])
    angle = np.arctan2(ring[:, 1], ring[:, 0]) % (2 * np.pi)
    at = (angle * (_ANGLES / (2 * np.pi))).astype(int) % _ANGLES
    far = np.full(_ANGLES, np.nan)
    np.fmax.at(far, at, np.hypot(*ring.T))
    known = np.flatnonzero(~np.isnan(far))
    filled = np.interp(np.arange(_ANGLES), known, far[known], period=_ANGLES)
    return np.asarray(filled, dtype=np.float64)


def _apart(own: npt.NDArray[np.complex128], other: Points) -> Points:
    """Mean square difference of the distances at every turn."""
    together = np.fft.irfft(own * np.conj(np.fft.rfft(other)), _ANGLES)
    square = (np.abs(own[0]) ** 2 + 2 * (np.abs(own[1:]) ** 2).sum()) / _ANGLES
    return np.asarray((square + (other**2).sum() - 2 * together) / _ANGLES)


def _best(found: Outline, known: Outline, *, mirrored: bool) -> Likeness:
    from scipy.spatial import cKDTree  # noqa: PLC0415 - at first use

    target, moved = _whole(found), _whole(known)
    rest = _edge(target, 4 * _EDGE)
    tree = cKDTree(rest)
    way = np.array((-1.0 if mirrored else 1.0, 1.0))
    ring = (_edge(moved, _EDGE) - np.array(moved.centroid.coords[0])) * way
    own, other = _distances(target), _distances(Polygon(ring))
    order = np.argsort(_apart(np.fft.rfft(own), other), kind="stable")
    starts: list[int] = []
    for turn in order.tolist():
        if all(min((turn - t) % _ANGLES, (t - turn) % _ANGLES) > 4 for t in starts):
            starts.append(turn)
        if len(starts) == _TURNS:
            break
    centre = np.array(target.centroid.coords[0])
    found_at = [_at_rest(ring, rest, tree, centre, 2 * np.pi * t / _ANGLES) for t in starts]
    off, farthest, turn_ = min(found_at)
    return Likeness(off, farthest, degrees(turn_) % 360.0, mirrored)


def _at_rest(
    ring: Points, rest: Points, tree: object, centre: Points, turn: float
) -> tuple[float, float, float]:
    """Mean and greatest distance of the edges once they rest on each other, and the turn."""
    from scipy.spatial import cKDTree  # noqa: PLC0415 - at first use

    assert isinstance(tree, cKDTree)
    placed = ring @ _turned(turn) + centre
    for _ in range(_ROUNDS):
        nearest = rest[tree.query(placed)[1]]
        a, b = placed - placed.mean(axis=0), nearest - nearest.mean(axis=0)
        more = float(np.arctan2((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), (a * b).sum()))
        turn += more
        placed = a @ _turned(more) + nearest.mean(axis=0)
    there = np.asarray(tree.query(placed)[0])
    back = np.asarray(cKDTree(_edge(Polygon(placed), len(rest))).query(rest)[0])
    off = 0.5 * float(there.mean() + back.mean())
    return off, float(max(there.max(), back.max())), turn


def _turned(angle: float) -> Points:
    """For rows of points: a turn counter-clockwise."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array(((c, s), (-s, c)))


def _edge(polygon: Polygon, count: int) -> Points:
    """So many points spaced evenly along the outer edge, counter-clockwise."""
    ring = np.asarray(polygon.exterior.coords)
    if not polygon.exterior.is_ccw:
        ring = ring[::-1]
    along = np.concatenate(([0.0], np.hypot(*np.diff(ring, axis=0).T).cumsum()))
    at = np.arange(count) * (along[-1] / count)
    return np.column_stack([np.interp(at, along, axis) for axis in ring.T])
