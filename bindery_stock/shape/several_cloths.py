"""Whether what seems one scrap is two that touch, or a stripe of a patterned one."""

from collections.abc import Iterator

import numpy as np
import shapely
from scipy import ndimage
from shapely import Polygon

from bindery_stock.shape.edge_sight import spaced
from bindery_stock.shape.scrap_pixels import Scores, SeenScrap, Truths
from bindery_stock.shape.sound_edge import SoundCloth, rings

_LEAST_SHARE = 0.08  # of the scrap, for a second colour to count
_APART = 4.0  # spreads by which two colours of cloth lie apart
_TURN = 55.0  # degrees inward of a corner where two scraps may meet
_STRAIGHT = 15.0  # degrees within which a seam goes on from an edge
_BESIDE = 14.0  # mm: the widest stripe of the ground's colour looked over

TOUCHING = "Two scraps may be touching here: lay them apart, or look along the whole edge."
PATTERNED = "The cloth is patterned: check every side."
STRIPED = (
    "Other pieces of its colour lie close along it: a striped cloth seen only in part? Draw it by "
    "hand, or lay it on a ground unlike any of its stripes."
)


def what_else(
    part: Polygon, cloth: SoundCloth, shown: SeenScrap, per_pixel: float
) -> Iterator[str]:
    """Sentences about what a part may be besides one plain scrap; ``per_pixel`` is in mm²."""
    pixel = float(np.sqrt(per_pixel))
    said = _colours(part, shown, pixel)
    if len(cloth.parts) > 1 or said == TOUCHING or _meets(part, pixel):
        yield TOUCHING
    if said == PATTERNED:
        yield PATTERNED
    if _beside(part, shown.score, pixel):
        yield STRIPED


def _inside(part: Polygon, shape: tuple[int, ...]) -> Truths:
    y, x = np.mgrid[0 : shape[0], 0 : shape[1]] + 0.5
    return np.asarray(shapely.contains_xy(shapely.simplify(part, 0.5), x, y))


def _colours(part: Polygon, shown: SeenScrap, pixel: float) -> str:
    """Two colours within one scrap: two large patches are two scraps, more are a pattern."""
    inner = _inside(shapely.buffer(part, -1.5 / pixel), shown.score.shape)
    if inner.sum() < 400:
        return ""
    smooth = ndimage.gaussian_filter(shown.over, (0.7 / pixel, 0.7 / pixel, 0))
    tones = smooth[inner]
    tones = tones - tones.mean(axis=0)
    way = np.linalg.svd(tones[:: max(len(tones) // 5_000, 1)], full_matrices=False)[2][0]
    along = tones @ way
    cut = 0.5 * float(np.percentile(along, 3) + np.percentile(along, 97))
    high = along > cut
    for _ in range(4):
        high = along > cut
        if not high.any() or high.all():
            return ""
        cut = 0.5 * float(along[high].mean() + along[~high].mean())
    share = float(min(high.mean(), 1.0 - high.mean()))
    spread = max(float(np.median(np.abs(c - np.median(c)))) for c in (along[high], along[~high]))
    gap = float(along[high].mean() - along[~high].mean())
    if share < _LEAST_SHARE or gap < max(_APART * 1.4826 * spread, 0.05):
        return ""
    second = np.zeros_like(inner)
    second[inner] = high
    patches = _patches(second) + _patches(inner & ~second)
    return TOUCHING if patches == 2 else PATTERNED


def _patches(mask: Truths) -> int:
    labels = ndimage.label(mask)[0]
    sizes = np.bincount(labels.ravel())[1:]
    return int((sizes > 0.1 * max(int(mask.sum()), 1)).sum())


def _meets(part: Polygon, pixel: float) -> bool:
    """Whether an edge goes on straight through the cloth from one inward corner to another."""
    corners = np.asarray(shapely.orient_polygons(part).exterior.coords[:-1])
    ring = spaced(corners * pixel) / pixel
    back, ahead = (np.roll(ring, turn, axis=0) for turn in (4, -4))
    before, after = ring - back, ahead - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turned = np.degrees(np.arctan2(cross, (before * after).sum(axis=1)))
    deep = [
        int(i)
        for i in np.flatnonzero(turned < -_TURN)
        if turned[i] == _around(turned, int(i)).min()
    ]
    return any(_seam(part, ring, (before, after), (i, j)) for i in deep for j in deep if i < j)


def _around(turned: Scores, place: int) -> Scores:
    return turned[np.arange(place - 4, place + 5) % len(turned)]


def _seam(part: Polygon, ring: Scores, sides: tuple[Scores, Scores], ends: tuple[int, int]) -> bool:
    start, end = ring[ends[0]], ring[ends[1]]
    way = end - start
    length = float(np.hypot(*way))
    chord = shapely.LineString((start + 0.05 * way, end - 0.05 * way))
    if length < 1.0 or not part.buffer(1.0).covers(chord):
        return False
    near = [side[place] for side in sides for place in ends]
    straight = [
        abs(float(way @ side)) / max(length * float(np.hypot(*side)), 1e-9) for side in near
    ]
    goes_on = max(straight) > np.cos(np.radians(_STRAIGHT))
    pieces = shapely.difference(part, chord.buffer(0.06 * length)).area
    narrow = length < 0.35 * np.sqrt(part.area)
    return bool((goes_on or narrow) and pieces < part.area)


def _beside(part: Polygon, score: Scores, pixel: float) -> bool:
    """Whether much of the edge runs close along other things of the same colour."""
    reach = _BESIDE / pixel
    left, low, right, high = part.buffer(1.2 * reach).bounds
    window = (
        slice(max(int(low), 0), int(high) + 1),
        slice(max(int(left), 0), int(right) + 1),
    )
    field = np.where(score[window] < 1.6, score[window], 0.0)
    corner = (window[1].start, window[0].start)
    others = [Polygon(ring + corner).buffer(0) for ring in rings(field, 0.5)]
    others = [o for o in others if o.area * pixel**2 > 20.0 and not o.buffer(2).intersects(part)]
    if not others:
        return False
    close = shapely.union_all(others).buffer(reach)
    return bool(part.exterior.intersection(close).length > 0.25 * part.exterior.length)
