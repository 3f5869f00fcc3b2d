"""Where two scraps touch: from one inward corner to another, and along a line that is seen.

The corners alone prove nothing: a scrap torn to a waist has them too. So the line between them is
looked for in the pixels, dark or bright between two of one cloth, or a step between two cloths,
and must stand out from every line beside it that runs the same way: a stripe does not.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from scipy import ndimage
from shapely import Polygon

from bindery_stock.shape.edge_sight import Points, spaced
from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.scrap_pixels import Scores

_TURN = 55.0  # degrees inward of a corner where two scraps may meet
_STRAIGHT = 15.0  # degrees within which a seam goes on from an edge
_NARROW = 0.35  # of the root of the area: a waist as short as this may be a seam whatever its way
_MOST_CHORDS = 6  # looked along, the likeliest first
_MOST_CUTS = 8
_WANDER = 1.0  # mm by which a seam leaves the straight line
_BANDS = 3  # looked along on each side for what a line is worth that is no seam
_OVER_OTHERS = 1.5  # times the strongest of them, for a seam
_LEAST_LINE = 0.02  # logarithm of coded pixels
_PARTS = 4  # of its length, in each of which a seam must be seen
_WIDTH = 0.25  # mm left out on each side of a seam
_LEAST_PART = 0.05  # of the whole, for a part cut off


@dataclass(frozen=True)
class Chord:
    """A straight line through cloth from one inward corner to another, in pixels."""

    start: Points
    end: Points
    likely: float
    """From 0 to 1: how straight an edge goes on along it."""


def chords(part: Polygon, pixel: float) -> tuple[Chord, ...]:
    """Where two scraps may touch, the likeliest first; ``pixel`` is the mm of one."""
    corners = np.asarray(shapely.orient_polygons(part).exterior.coords[:-1])
    ring = spaced(corners * pixel) / pixel
    back, ahead = (np.roll(ring, turn, axis=0) for turn in (4, -4))
    before, after = ring - back, ahead - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turned = np.degrees(np.arctan2(cross, (before * after).sum(axis=1)))
    deep = [
        int(i)
        for i in np.flatnonzero(turned < -_TURN)
        if turned[i] == turned[np.arange(i - 4, i + 5) % len(turned)].min()
    ]
    pairs = [(i, j) for i in deep for j in deep if i < j]
    made = [_chord(part, ring, (before, after), pair) for pair in pairs]
    found = [chord for chord in made if chord is not None]
    return tuple(sorted(found, key=lambda chord: -chord.likely))


def _chord(
    part: Polygon, ring: Points, sides: tuple[Points, Points], ends: tuple[int, int]
) -> Chord | None:
    start, end = ring[ends[0]], ring[ends[1]]
    way = end - start
    length = float(np.hypot(*way))
    line = shapely.LineString((start + 0.05 * way, end - 0.05 * way))
    if length < 1.0 or not part.buffer(1.0).covers(line):
        return None
    near = [side[place] for side in sides for place in ends]
    straight = max(
        abs(float(way @ side)) / max(length * float(np.hypot(*side)), 1e-9) for side in near
    )
    narrow = length < _NARROW * np.sqrt(part.area)
    if straight <= np.cos(np.radians(_STRAIGHT)) and not narrow:
        return None
    if shapely.difference(part, line.buffer(0.06 * length)).area >= part.area:
        return None
    return Chord(start, end, straight)


def parted(part: Polygon, over: Scores, pixel: float) -> tuple[Polygon, ...]:
    """The parts between the seams that are seen, the largest first; the part itself if none is.

    ``over`` is what :class:`SeenScrap` has under that name, ``pixel`` the mm of one.
    """
    whole: list[Polygon] = [part]
    done: list[Polygon] = []
    least = _LEAST_PART * part.area
    for _ in range(_MOST_CUTS):
        if not whole:
            break
        one = whole.pop()
        pieces = _cut(one, over, pixel, least)
        (whole if len(pieces) > 1 else done).extend(pieces)
    return tuple(sorted((*whole, *done), key=lambda p: -p.area))


def _cut(part: Polygon, over: Scores, pixel: float, least: float) -> list[Polygon]:
    for chord in chords(part, pixel)[:_MOST_CHORDS]:
        line = seam(chord, part, over, pixel)
        if line is None:
            continue
        way = (chord.end - chord.start) / np.hypot(*(chord.end - chord.start))
        ends = (chord.start - way * 2.0 / pixel, *line, chord.end + way * 2.0 / pixel)
        knife = shapely.LineString(ends).buffer(_WIDTH / pixel, cap_style="flat")
        pieces = [p for p in polygons_of(shapely.difference(part, knife)) if p.area > least]
        if len(pieces) > 1:
            return pieces
    return [part]


def seam(chord: Chord, part: Polygon, over: Scores, pixel: float) -> Points | None:
    """The line of a seam near a chord, in pixels; ``None`` where none is seen."""
    way = chord.end - chord.start
    length = float(np.hypot(*way))
    way = way / length
    aside = np.array((-way[1], way[0]))
    reach = max(round(_WANDER / pixel), 2)
    band = 2 * reach + 1
    half = band * _BANDS + reach
    along = np.linspace(0.0, length, max(int(length), 8))
    across = np.arange(-half - 5, half + 6, dtype=np.float64)
    at = chord.start + along[:, None, None] * way + across[None, :, None] * aside
    inside = shapely.contains_xy(part, at[..., 0], at[..., 1])[:, 5:-5]
    left, low = np.floor(at.reshape(-1, 2).min(axis=0)).astype(int) - 2
    right, high = np.ceil(at.reshape(-1, 2).max(axis=0)).astype(int) + 3
    left, low = max(left, 0), max(low, 0)
    window = over[low:high, left:right]
    places = np.moveaxis(at - (left, low), 2, 0)[::-1] - 0.5
    tones = np.stack(
        [
            ndimage.map_coordinates(window[..., channel], places, order=1, mode="nearest")
            for channel in range(3)
        ],
        axis=-1,
    )
    tones = ndimage.uniform_filter1d(tones, 3, axis=0)
    for seen in _lines(tones):
        path, strength, quarters = _best(seen, inside, band)
        others = np.delete(strength, _BANDS)
        others = others[np.isfinite(others)]
        if not np.isfinite(strength[_BANDS]) or len(others) < 2:
            continue
        least = max(_OVER_OTHERS * float(others.max()), _LEAST_LINE)
        if strength[_BANDS] > least and quarters.min() > max(float(others.max()), 0.5 * least):
            found: Points = at[np.arange(len(along)), path + 5]
            return found
    return None


def _lines(tones: Scores) -> tuple[Scores, Scores, Scores]:
    """How bright, how dark a line, and how high a step runs along each place of a strip."""
    count = tones.shape[1] - 10

    def mean(first: int, last: int) -> Scores:
        shifted = [tones[:, 5 + step : 5 + step + count] for step in range(first, last + 1)]
        return np.asarray(np.mean(shifted, axis=0))

    before, after = mean(-5, -2), mean(2, 5)
    middle = mean(0, 0)
    high, low = np.maximum(before, after), np.minimum(before, after)
    bright, dark = (middle - high).mean(axis=2), (low - middle).mean(axis=2)
    step = np.linalg.norm(after - before, axis=2)
    return bright, dark, step


def _best(seen: Scores, inside: Scores, band: int) -> tuple[np.ndarray, Scores, Scores]:
    """The strongest way along the middle band, the strength in every band, and by quarters.

    A band that leaves the cloth tells nothing.
    """
    count = seen.shape[1] // band
    rows = len(seen)
    strips = seen[:, : count * band].reshape(rows, count, band)
    cloth = inside[:, : count * band].reshape(rows, count, band).mean(axis=(0, 2))
    best = strips[0].copy()
    came = np.zeros(strips.shape, dtype=np.int8)
    wall = np.full((count, 1), -np.inf)
    for row in range(1, rows):
        sides = np.stack(
            (np.hstack((wall, best[:, :-1])), best, np.hstack((best[:, 1:], wall))), axis=0
        )
        came[row] = np.argmax(sides, axis=0) - 1
        best = sides.max(axis=0) + strips[row]
    strength = np.where(cloth > 0.95, best.max(axis=1) / rows, -np.inf)
    place = int(np.argmax(best[_BANDS]))
    path = np.zeros(rows, dtype=np.int64)
    for row in range(rows - 1, -1, -1):
        path[row] = place
        place += int(came[row, _BANDS, place])
    values = strips[np.arange(rows), _BANDS, path]
    quarters = np.array([part.mean() for part in np.array_split(values, _PARTS)])
    return path + _BANDS * band, strength, quarters
