"""Whether what seems one scrap is two that touch, or a stripe of a patterned one."""

from collections.abc import Iterator

import numpy as np
import shapely
from scipy import ndimage
from shapely import Polygon

from bindery_stock.shape.scrap_pixels import Scores, SeenScrap, Truths
from bindery_stock.shape.seam import chords
from bindery_stock.shape.sound_edge import SoundCloth
from bindery_stock.shape.stripes import WIDEST, like_things

_LEAST_SHARE = 0.08  # of the scrap, for a second colour to count
_APART = 4.0  # spreads by which two colours of cloth lie apart
_PLAIN = 0.35  # logarithm of coded pixels by which each colour of a pattern differs, for good
_BY_SCORE = 0.5  # of the scrap's own, for the same

TOUCHING = "Two scraps may be touching here: lay them apart, or look along the whole edge."
PARTED = (
    "It touches another scrap and is drawn to the seam that is seen between them: look along the "
    "seam, or lay them apart."
)
PATTERNED = "The cloth is patterned, in part much like the ground: check every side."
EXTENT = (
    "Only stripes of it are seen, the others are like the ground: the whole extent is offered. An "
    "outermost stripe of that colour is not in it. If these are strips lying side by side, point "
    "at each."
)
STRIPED = (
    "Other pieces of its colour lie close along it: a striped cloth seen only in part? Draw it by "
    "hand, or lay it on a ground unlike any of its stripes."
)
NOT_SURELY_WHOLE = frozenset({TOUCHING, EXTENT, STRIPED})
"""What puts in doubt that an outline is of one scrap, and the whole of it."""


def what_else(
    part: Polygon, cloth: SoundCloth, shown: SeenScrap, per_pixel: float
) -> Iterator[str]:
    """Sentences about what a part may be besides one plain scrap; ``per_pixel`` is in mm²."""
    if cloth.stripes is not None:
        yield EXTENT
        return
    pixel = float(np.sqrt(per_pixel))
    said = _colours(part, shown, pixel)
    if cloth.seam_seen:
        yield PARTED
    elif len(cloth.parts) > 1 or said == TOUCHING or chords(part, pixel):
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
    if patches == 2:
        return TOUCHING
    return (
        "" if all(_stands_out(shown, inner, second == way) for way in (True, False)) else PATTERNED
    )


def _stands_out(shown: SeenScrap, inner: Truths, of_colour: Truths) -> bool:
    """Whether one colour of a pattern differs from the ground as a plain cloth should."""
    here = inner & of_colour
    apart = float(np.linalg.norm(shown.over[here].mean(axis=0)))
    return apart >= _PLAIN and float(shown.score[here].mean()) >= _BY_SCORE


def _patches(mask: Truths) -> int:
    labels = ndimage.label(mask)[0]
    sizes = np.bincount(labels.ravel())[1:]
    return int((sizes > 0.1 * max(int(mask.sum()), 1)).sum())


def _beside(part: Polygon, score: Scores, pixel: float) -> bool:
    """Whether much of the edge runs close along other things of the same colour."""
    reach = WIDEST / pixel
    left, low, right, high = part.buffer(1.2 * reach).bounds
    window = (
        slice(max(int(low), 0), int(high) + 1),
        slice(max(int(left), 0), int(right) + 1),
    )
    things = like_things(score[window], pixel, (window[1].start, window[0].start))
    others = [thing for thing in things if not thing.buffer(2).intersects(part)]
    if not others:
        return False
    close = shapely.union_all(others).buffer(reach)
    return bool(part.exterior.intersection(close).length > 0.25 * part.exterior.length)
