"""Where the sound cloth ends: inside the fray, and inside the shadow beside it.

Halfway between cloth and ground lies the edge only where nothing else lies there. A fringe lets
the ground through, a shadow is half as dark as a dark cloth: both look like cloth by halves. So
the cloth is followed from within as far as it looks like itself, and only what the lens smears
over an edge is given back.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from contourpy import LineType, contour_generator
from scipy import ndimage, special
from shapely import Polygon

from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.scrap_pixels import Scores, SeenScrap, Truths

THREAD = 0.8
"""mm: what is narrower than twice this is thread, not cloth."""
LEAST_HOLE = 0.5
"""mm²: smaller holes are specks; a round one of 0.8 mm has as much."""
_NOISES = 4.0  # of the cloth: what departs by less is still the cloth
_LEAST_STEP, _MOST_STEP = 0.06, 0.5
_LOCAL = 3.0  # mm over which the tone of the cloth may change
_BLURS = (0.6, 1.5)  # pixels: what a lens, a sensor and the smoothing here can smear


@dataclass(frozen=True)
class SoundCloth:
    """The sound cloth of one scrap, in pixels of what was looked through."""

    polygon: Polygon
    parts: tuple[Polygon, ...]
    """Every large part where what seemed one scrap falls apart, this one among them."""
    field: Scores
    """1 on the cloth beside, 0 on the ground."""
    step: float
    """Share by which the cloth varies by itself: below it nothing is told."""
    blur: float
    """Pixels, as a standard deviation."""
    seam_seen: bool = False
    """Whether its parts are two scraps with a seam seen between them."""
    stripes: shapely.MultiPolygon | None = None
    """What of it is seen, where the rest of a striped cloth is like the ground."""


def rings(field: Scores, level: float) -> Iterator[npt.NDArray[np.float64]]:
    """Closed lines of a level, between the pixels; the middle of the first lies at 0.5, 0.5."""
    made = contour_generator(z=field, quad_as_tri=True, line_type=LineType.Separate)
    for line in made.lines(level):
        ring = np.asarray(line, dtype=np.float64)
        if len(ring) > 3 and np.array_equal(ring[0], ring[-1]):
            yield ring + 0.5


def wanted_part(seen: SeenScrap) -> tuple[Truths, Truths]:
    """The thing that the scrap belongs to, and what within it is no ground and so is cloth.

    A hole shows the ground; what does not, such as tooling in gold, is left in the scrap.
    """
    labels = ndimage.label(seen.score > 0.5)[0]
    votes = np.bincount(labels[seen.scrap & (labels > 0)], minlength=2)
    wanted = np.asarray(labels == int(np.argmax(votes)))
    if not votes.any():
        wanted = np.zeros_like(wanted)
    gaps, count = ndimage.label(~wanted)
    bare = np.asarray(ndimage.mean(seen.bare, gaps, np.arange(1, count + 1))) >= 0.5
    rim = np.concatenate((gaps[0], gaps[-1], gaps[:, 0], gaps[:, -1]))
    open_air = np.isin(gaps, rim[rim > 0])
    return wanted, np.asarray(np.concatenate(([False], ~bare))[gaps] & ~wanted & ~open_air)


def sound_cloth(seen: SeenScrap, pixel: float) -> SoundCloth | None:
    """The sound cloth; ``pixel`` is the mm of one. ``None`` where nothing is left."""
    wanted, filled = wanted_part(seen)
    if not wanted.any():
        return None
    field, step = _beside_the_cloth(seen, wanted | filled, pixel)
    blur = _blur(field, wanted)
    others = ndimage.label(seen.score > 0.5)[0] > 0
    others &= ~wanted & ~filled
    alone = np.where(ndimage.binary_dilation(others) & ~wanted, 0.0, field)
    alone = np.where(filled, 1.0, alone)
    level = 1.0 - step
    shapes = sorted((Polygon(r).buffer(0) for r in rings(alone, level)), key=_area, reverse=True)
    if not shapes:
        return None
    whole = shapes[0]
    holes = [
        hole
        for hole in shapes[1:]
        if hole.area * pixel**2 >= LEAST_HOLE and whole.contains(hole) and _deep(hole, alone, level)
    ]
    joined = shapely.union_all(shapes[:1] + _besides(shapes))
    open_cloth = shapely.difference(joined, shapely.union_all(holes))
    given_back = blur * float(special.ndtri(level))
    thread = THREAD / pixel
    core = shapely.buffer(open_cloth, given_back - thread, quad_segs=4)
    cloth = shapely.buffer(core, thread, quad_segs=4)
    parts = sorted(polygons_of(cloth), key=_area, reverse=True)
    if not parts:
        return None
    large = tuple(p for p in parts if p.area > 0.1 * parts[0].area)
    return SoundCloth(large[0], large, field, step, blur)


def _besides(shapes: list[Polygon]) -> list[Polygon]:
    """Other large parts at the level: a seam may part what seemed one."""
    first = shapes[0]
    return [s for s in shapes[1:] if s.area > 0.1 * first.area and not first.contains(s)]


def _deep(hole: Polygon, field: Scores, level: float) -> bool:
    """Whether the ground is to be seen through a hole, not only a darker thread."""
    left, low, right, high = (int(v) for v in hole.bounds)
    return bool(field[low : high + 1, left : right + 1].min() < min(0.5, level - 0.15))


def _beside_the_cloth(seen: SeenScrap, cloth: Truths, pixel: float) -> tuple[Scores, float]:
    """The score beside that of the cloth near by, and how far the cloth itself departs from 1."""
    inner = ndimage.binary_erosion(cloth, iterations=max(round(1.5 / pixel), 2))
    if inner.sum() < 50:
        inner = cloth
    mask = inner.astype(np.float64)
    width = _LOCAL / pixel
    weight = ndimage.gaussian_filter(mask, width)
    middle = float(np.median(seen.score[inner]))
    level = ndimage.gaussian_filter(seen.score * mask, width) + 1e-4 * middle
    field = seen.score / np.clip(level / (weight + 1e-4), 0.3 * middle, None)
    spread = 1.4826 * float(np.median(np.abs(field[inner] - 1.0)))
    return np.asarray(field), float(np.clip(_NOISES * spread, _LEAST_STEP, _MOST_STEP))


def _blur(field: Scores, wanted: Truths) -> float:
    """The smear of the sharpest edges, from the slope of a blurred step."""
    near = ndimage.binary_dilation(wanted, iterations=2) & (np.abs(field - 0.5) < 0.15)
    if not near.any():
        return _BLURS[0]
    down, across = np.gradient(field)
    steep = float(np.percentile(np.hypot(down, across)[near], 95))
    return float(np.clip(1.0 / (np.sqrt(2.0 * np.pi) * max(steep, 1e-6)), *_BLURS))


def _area(polygon: Polygon) -> float:
    return float(polygon.area)
