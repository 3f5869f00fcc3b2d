"""What is seen beyond each stretch of an outline, and how far the true edge may lie from it."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from bindery_stock.shape.edge_stretch import EdgeSight, EdgeStretch
from bindery_stock.shape.scrap_pixels import Scores, Truths

REACH = 5.0
"""mm beyond the outline that are looked at."""
DOUBTFUL = 0.5
"""mm between cloth and ground from which on a stretch is no clear edge."""
_STEP = 0.25  # mm between the places looked at outward
_ALONG = 1.0  # mm between the places looked at along the outline
_WINDOW = 5  # of those places, over which what is seen is averaged
_GROUND = 0.12  # what is nearer to the ground than this is ground
_THREADY = 0.045  # spread along the edge above which it is threads, not shadow
_SIDE = 15  # places over which threads are told from shadow
_BEYOND = (0.9, 1.8)  # mm beyond the outline: past the smear of a clear edge, within a long shadow
_DARKER = 0.05  # logarithm of coded pixels by which a long shadow darkens the ground there

Points = npt.NDArray[np.float64]
Looks = list[tuple[EdgeSight, float]]
"""For each place of an edge what it looks like, and mm by which the edge may lie elsewhere."""


@dataclass(frozen=True)
class EdgeGround:
    """What is needed to look beyond an edge: pixels, and where the burnt ones are."""

    field: Scores
    burnt: Truths
    noise: float
    """Spread of the ground in the same measure as ``field``."""
    light: Scores
    """Logarithm of the light beside that of the ground."""


def spaced(ring: Points) -> Points:
    """Places along a closed ring, about a millimetre apart."""
    closed = np.vstack((ring, ring[:1]))
    lengths = np.hypot(*np.diff(closed, axis=0).T)
    at = np.concatenate(([0.0], np.cumsum(lengths)))
    places = np.linspace(0.0, at[-1], max(int(at[-1] / _ALONG), 12), endpoint=False)
    return np.column_stack([np.interp(places, at, closed[:, axis]) for axis in (0, 1)])


def outward(places: Points) -> Points:
    """Unit normals that point out of a ring wound counter-clockwise."""
    ahead = np.roll(places, -2, axis=0) - np.roll(places, 2, axis=0)
    normals = np.column_stack((ahead[:, 1], -ahead[:, 0]))
    return np.asarray(normals / np.maximum(np.hypot(*normals.T), 1e-9)[:, None])


def looked_at(places: Points) -> Points:
    """Places × steps × 2: where to look beyond each place, in mm."""
    steps = np.arange(0.0, REACH + _STEP / 2, _STEP)
    return np.asarray(places[:, None, :] + steps[None, :, None] * outward(places)[:, None, :])


def sights(pixels: Points, ground: EdgeGround) -> Looks:
    """What each place looks like; ``pixels`` is what :func:`looked_at` gives, in pixels."""
    at = np.moveaxis(pixels, 2, 0)[::-1] - 0.5
    seen = ndimage.map_coordinates(ground.field, at, order=1, mode="nearest")
    mean = ndimage.uniform_filter1d(seen, _WINDOW, axis=0, mode="wrap")
    square = ndimage.uniform_filter1d(seen**2, _WINDOW, axis=0, mode="wrap")
    spread = np.sqrt(np.maximum(square - mean**2, 0.0))
    burnt = ndimage.map_coordinates(ground.burnt.astype(np.float32), at, order=1, mode="nearest")
    limit = max(_GROUND, 2.0 * ground.noise)
    first = [int(np.argmax(on)) if on.any() else len(on) for on in np.abs(mean) < limit]
    between = [float(np.mean(s[2 : max(end, 3)])) for s, end in zip(spread, first, strict=True)]
    thready = ndimage.uniform_filter1d(np.asarray(between), _SIDE, mode="wrap") > _THREADY
    return [
        _sight(mean[i], bool(thready[i]), bool((burnt[i, :9] > 0.5).any()), limit)
        for i in range(len(mean))
    ]


def long_shadow(pixels: Points, looks: Looks, ground: EdgeGround) -> float:
    """By how much the ground is darkened past the clear edges, on the darkest side of them.

    A scrap that lies flat under a lamp that is not low throws no shadow as long as this.
    """
    steps = slice(*(round(mm / _STEP) for mm in _BEYOND))
    at = np.moveaxis(pixels[:, steps], 2, 0)[::-1] - 0.5
    tone = ndimage.map_coordinates(ground.light, at, order=1, mode="nearest").mean(axis=1)
    clear = np.asarray([kind is EdgeSight.CLEAR for kind, _ in looks], dtype=np.float64)
    if clear.sum() < _SIDE:
        return 0.0
    near = ndimage.uniform_filter1d(clear, _SIDE, mode="wrap")
    side = ndimage.uniform_filter1d(tone * clear, _SIDE, mode="wrap") / np.maximum(near, 1e-9)
    sides = side[near > 0.5]
    return float(np.median(sides) - sides.min()) if len(sides) else 0.0


def _sight(mean: Points, thready: bool, glare: bool, limit: float) -> tuple[EdgeSight, float]:
    if glare:
        return EdgeSight.GLARE, REACH
    on_ground = np.abs(mean) < limit
    if not on_ground.any():
        return (EdgeSight.CLOSE if mean.min() > 0.5 else EdgeSight.UNCLEAR), REACH
    first = int(np.argmax(on_ground))
    width = max(first * _STEP - 0.75, 0.0)  # a sharp edge takes as much by its blur
    if mean[:first].min(initial=1.0) < -limit:
        return EdgeSight.UNCLEAR, REACH
    if width < DOUBTFUL:
        again = mean[first:] > 0.5
        return (EdgeSight.CLOSE, REACH) if again[:6].any() else (EdgeSight.CLEAR, width)
    return (EdgeSight.FRAYED if thready else EdgeSight.SHADOW), width


def stretches(places: Points, looks: Looks) -> tuple[EdgeStretch, ...]:
    """Neighbouring places that look alike, as stretches; two places alone are no stretch."""
    kinds = [kind for kind, _ in looks]
    count = len(kinds)
    for place in range(count):  # a lone place goes with its neighbours
        before, after = kinds[place - 1], kinds[(place + 1) % count]
        if kinds[place] is not before and before is after:
            kinds[place] = before
    turns = [p for p in range(count) if kinds[p] is not kinds[p - 1]]
    if not turns:
        return (_stretch(places, range(count), kinds[0], looks),)
    ends = [*turns[1:], turns[0] + count]
    return tuple(
        _stretch(places, range(start, end + 1), kinds[start], looks)
        for start, end in zip(turns, ends, strict=True)
    )


def _stretch(places: Points, span: range, kind: EdgeSight, looks: Looks) -> EdgeStretch:
    at = [place % len(places) for place in span]
    points = tuple((float(places[p, 0]), float(places[p, 1])) for p in at)
    inner = at[:-1] or at
    return EdgeStretch(points, kind, float(np.median([looks[p][1] for p in inner])))
