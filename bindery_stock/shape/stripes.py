"""The whole extent of a striped cloth where the ground is like one of its stripes.

Seen are only the stripes unlike the ground, as separate things. Where at least three of them lie
parallel, at even distances and no wider than stripes are, what lies between them is taken for
cloth. Strips laid side by side look the same, so this is never more than an offer.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.edge_sight import Points
from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.scrap_pixels import Scores
from bindery_stock.shape.sound_edge import rings

WIDEST = 14.0
"""mm: the widest stripe, and the widest gap between two."""
_LEAST = 20.0  # mm² of a thing that counts
_LEAST_STRIPES = 3
_EVEN = 0.2  # of the distance from one stripe to the next, by which it may vary
_BRIGHT = 1.6  # times the scrap: what departs further from the ground is something else
_LONG = 2.0  # times its width, for a stripe that shows which way they run


@dataclass(frozen=True)
class StripedExtent:
    """What a striped cloth may cover, in pixels."""

    whole: Polygon
    seen: shapely.MultiPolygon
    """The stripes of it that are unlike the ground."""


def like_things(score: Scores, pixel: float, corner: tuple[int, int] = (0, 0)) -> list[Polygon]:
    """All things of the scrap's colour; ``corner`` is the pixel at which ``score`` begins."""
    field = np.where(score < _BRIGHT, score, 0.0)
    things = [Polygon(ring + corner).buffer(0) for ring in rings(field, 0.5)]
    return [thing for thing in things if thing.area * pixel**2 > _LEAST]


def striped_extent(score: Scores, part: Polygon, pixel: float) -> StripedExtent | None:
    """The extent of the striped cloth that ``part`` is a stripe of; ``None`` where it is none."""
    along = _along(part)
    if along is None:
        return None
    aside = np.array((-along[1], along[0]))
    bands = [(*_band(thing, aside), thing) for thing in _alone(like_things(score, pixel))]
    bands = [band for band in bands if band[1] - band[0] < WIDEST / pixel]
    rows = list(_rows(sorted(bands, key=lambda band: band[0])))
    low, high = _band(part, aside)
    row = next((r for r in rows if any(b[0] < high and b[1] > low for b in r)), None)
    if row is None or not _even(row, WIDEST / pixel):
        return None
    seen = shapely.union_all([band[2] for band in row])
    gaps = [b[0] - a[1] for a, b in pairwise(row)]
    reach = 0.5 * max(0.0, *gaps) + 1.0 / pixel
    closed = polygons_of(seen.buffer(reach, quad_segs=8).buffer(-reach, quad_segs=8))
    if not closed:
        return None
    stripes = shapely.MultiPolygon(polygons_of(seen))
    return StripedExtent(max(closed, key=lambda p: p.area), stripes)


def _along(part: Polygon) -> Points | None:
    """The way a stripe runs; ``None`` for what is no stripe."""
    corners = shapely.get_coordinates(part.minimum_rotated_rectangle)
    sides = np.diff(corners[:3], axis=0)
    lengths = np.hypot(*sides.T)
    longer = int(np.argmax(lengths))
    if lengths[longer] < _LONG * lengths[1 - longer]:
        return None
    return np.asarray(sides[longer] / lengths[longer])


_Band = tuple[float, float, BaseGeometry]


def _band(thing: Polygon, aside: Points) -> tuple[float, float]:
    """From where to where a thing reaches across the stripes, corners left out."""
    across = shapely.get_coordinates(shapely.segmentize(thing, 2.0)) @ aside
    return float(np.percentile(across, 2)), float(np.percentile(across, 98))


def _alone(things: list[Polygon]) -> list[Polygon]:
    """Without what lies within another: the rings of holes."""
    return [t for t in things if not any(o is not t and o.contains(t) for o in things)]


def _rows(bands: list[_Band]) -> Iterator[list[_Band]]:
    """Stripes that follow each other; pieces of one stripe become one."""
    row: list[_Band] = []
    for low, high, thing in bands:
        if row and low < row[-1][1]:
            last = row.pop()
            row.append((last[0], max(last[1], high), last[2].union(thing)))
        elif row and low - row[-1][1] > 2.0 * max(high - low, row[-1][1] - row[-1][0]):
            yield row
            row = [(low, high, thing)]
        else:
            row.append((low, high, thing))
    if row:
        yield row


def _even(row: list[_Band], widest: float) -> bool:
    """Whether stripes repeat; the outermost may be narrower, cut by the edge of the cloth."""
    if len(row) < _LEAST_STRIPES or any(b[0] - a[1] > widest for a, b in pairwise(row)):
        return False
    inner = row[1:-1] if len(row) > _LEAST_STRIPES else row
    middles = np.array([0.5 * (low + high) for low, high, _ in inner])
    if len(middles) < 2:
        return False
    steps = np.diff(middles)
    return bool(np.abs(steps / np.median(steps) - 1.0).max() < _EVEN)
