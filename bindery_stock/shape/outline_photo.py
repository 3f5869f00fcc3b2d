"""The outline of a scrap found in its photograph, for the binder to confirm.

What is kept lies inside the sound cloth: a fringe is left out as wide as it is seen to be, side by
side. Each stretch of edge says what is seen beyond it; where it is not the plain ground the outline
is not called good.
"""

from dataclasses import replace

import numpy as np
import numpy.typing as npt
import shapely
from scipy import ndimage
from shapely import Polygon

from bindery_stock.errors import ShapeError
from bindery_stock.shape.edge_sight import (
    REACH,
    EdgeGround,
    Looks,
    long_shadow,
    looked_at,
    sights,
    spaced,
    stretches,
)
from bindery_stock.shape.edge_stretch import EdgeSight, EdgeStretch
from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.outline import Outline, Point
from bindery_stock.shape.outline_reading import GOOD_CONTRAST, OutlineReading
from bindery_stock.shape.photo_pixels import Photo, Pixels, upright_pixels
from bindery_stock.shape.photo_scale import PhotoScale
from bindery_stock.shape.scrap_pixels import LEAST_CONTRAST, Scores, SeenScrap, seen
from bindery_stock.shape.seam import parted
from bindery_stock.shape.several_cloths import NOT_SURELY_WHOLE, what_else
from bindery_stock.shape.sound_edge import LEAST_HOLE, SoundCloth, rings, sound_cloth, wanted_part
from bindery_stock.shape.stripes import striped_extent
from bindery_stock.shape.unseen_tilt import unseen_tilt_words

FRAY_POOR = 2.0
"""mm by which the line is drawn further inward where ground and scrap hardly differ."""
_LONGEST = 1600  # pixels of the longer side that are looked through
_MOST_STEP = 0.35  # of the cloth's own variation, for good
_MOST_NOISE = 0.04  # of the ground's, for good: the line wavers by three millimetres to each one
_MOST_SHADOW = 0.12  # logarithm of coded pixels: a lamp high above darkens less beyond an edge
_MOST_SMEAR = 0.30  # mm from the line halfway to the one kept, where the edge is clear
_INSIDE = (0.09, 0.15)  # mm by which the line stays within what was seen
_INSIDE_SHARE = 0.006  # of the area, as the least of a small scrap is large already
_LEAST_ACROSS = 60.0  # pixels, area by perimeter: in less, a pixel is more than one in a hundred
_FRAY_MORE = (0.1, 0.05)  # mm, and share of its width, left out along a fray for what bends inward
_SIMPLIFIED = 0.1  # mm
_SUPPOSED = 2.0  # pixels from the stripes that are seen, beyond which an edge is only supposed
_LEAST_SCRAP = 150.0  # mm²: smaller things are crumbs


def outline_from_photo(
    photo: Photo, scale: PhotoScale, *, inward: float | None = None, at: Point | None = None
) -> Outline:
    """The outline in mm of the scrap in ``photo``, inside the fray.

    With ``inward`` it is the line halfway between ground and scrap, drawn inward by so many mm
    instead. ``at`` is a pixel of the upright photograph on the scrap; without it the largest thing
    that does not touch the photograph's edge is taken. Pixels count from the upper left corner of
    the photograph, so that the middle of the first is at 0.5, 0.5. Raises ``PhotoError`` where the
    file is no photograph, ``ShapeError`` where no outline is to be seen.
    """
    return read_outline(photo, scale, inward=inward, at=at).outline


def read_outline(
    photo: Photo, scale: PhotoScale, *, inward: float | None = None, at: Point | None = None
) -> OutlineReading:
    """As :func:`outline_from_photo`, with how far to trust it."""
    if inward is not None and not 0.0 <= inward < 100.0:
        raise ShapeError(f"An outline cannot be drawn inward by {inward} mm. Give nothing or more.")
    pixels, times = upright_pixels(photo, _LONGEST)
    return _read(pixels, times, scale, inward, at)


def read_outlines(photo: Photo, scale: PhotoScale) -> tuple[OutlineReading, ...]:
    """Every scrap that lies free in a photograph, from left to right, each with its own trust.

    A ruler or a card lying there is a thing like the others. Scraps that touch come one by one
    where a seam is seen between them, and say that they lie against something. Raises as
    :func:`read_outline` where there is none.
    """
    pixels, times = upright_pixels(photo, _LONGEST)
    first = seen(pixels, None)
    labels, count = ndimage.label(first.score > 0.5)
    rim = np.unique(np.concatenate((labels[0], labels[-1], labels[:, 0], labels[:, -1])))
    sizes = np.bincount(labels.ravel()) * _pixel(scale, pixels, times) ** 2
    found: list[OutlineReading] = []
    striped = _striped(first, _sound(first, pixels, times, scale), pixels, times, scale)
    if striped is not None:
        found.append(_whole(striped, first, times, scale))
    for thing in range(1, count + 1):
        if thing in rim or sizes[thing] < _LEAST_SCRAP:
            continue
        mask = np.asarray(labels == thing)
        inside = np.pad(mask, 1)
        depth = ndimage.distance_transform_edt(inside)[1:-1, 1:-1]
        row, column = np.unravel_index(int(np.argmax(depth)), depth.shape)
        middle = (float(column) + 0.5, float(row) + 0.5)
        if striped is not None and striped.polygon.contains(shapely.Point(middle)):
            continue
        spot = (middle[0] * times, middle[1] * times)
        found.extend(_parts(pixels, times, scale, spot))
    ends = [min(x for x, _ in scale.to_px(r.outline.exterior)) for r in found]
    return tuple(found[place] for place in np.argsort(ends, kind="stable"))


def _read(
    pixels: Pixels, times: float, scale: PhotoScale, inward: float | None, at: Point | None
) -> OutlineReading:
    """The one scrap asked for."""
    shown = seen(pixels, None if at is None else (at[0] / times, at[1] / times))
    half = _halfway(shown, times, scale)
    if inward is not None:
        return OutlineReading(_drawn(half, inward), inward, shown.contrast)
    cloth = _sound(shown, pixels, times, scale)
    if cloth is None:
        raise ShapeError(_NOTHING_LEFT)
    part = cloth.polygon
    if at is None:
        striped = _striped(shown, cloth, pixels, times, scale)
        if striped is not None:
            return _whole(striped, shown, times, scale)
    else:
        spot = shapely.Point(at[0] / times, at[1] / times)
        part = min(cloth.parts, key=lambda p: p.distance(spot))
    return _judged(part, cloth, shown, times, scale, half)


def _parts(pixels: Pixels, times: float, scale: PhotoScale, at: Point) -> list[OutlineReading]:
    """Every large part of the thing at a pixel."""
    try:
        shown = seen(pixels, (at[0] / times, at[1] / times))
        half = _halfway(shown, times, scale)
    except ShapeError:
        return []  # seen from its own middle it is no thing after all
    cloth = _sound(shown, pixels, times, scale)
    parts = () if cloth is None else cloth.parts
    return [_judged(part, cloth, shown, times, scale, half) for part in parts if cloth is not None]


def _sound(shown: SeenScrap, pixels: Pixels, times: float, scale: PhotoScale) -> SoundCloth | None:
    """The sound cloth, parted where a seam is seen."""
    pixel = _pixel(scale, pixels, times)
    cloth = sound_cloth(shown, pixel)
    if cloth is None:
        return None
    parts = [piece for part in cloth.parts for piece in parted(part, shown.over, pixel)]
    if len(parts) == len(cloth.parts):
        return cloth
    parts.sort(key=_area, reverse=True)
    return replace(cloth, polygon=parts[0], parts=tuple(parts), seam_seen=True)


def _striped(
    shown: SeenScrap, cloth: SoundCloth | None, pixels: Pixels, times: float, scale: PhotoScale
) -> SoundCloth | None:
    """The whole of a striped cloth where only stripes of it are seen."""
    if cloth is None:
        return None
    extent = striped_extent(shown.score, cloth.polygon, _pixel(scale, pixels, times))
    if extent is None:
        return None
    return replace(cloth, polygon=extent.whole, parts=(extent.whole,), stripes=extent.seen)


def _whole(cloth: SoundCloth, shown: SeenScrap, times: float, scale: PhotoScale) -> OutlineReading:
    """The outline of a striped cloth."""
    half = _in_mm(cloth.polygon, times, scale)
    return _judged(cloth.polygon, cloth, shown, times, scale, half)


def _unseen(places: npt.NDArray[np.float64], cloth: SoundCloth, looks: Looks) -> Looks:
    """What is seen along an edge, ``places`` in pixels; between stripes it is only supposed."""
    if cloth.stripes is None:
        return looks
    away = np.asarray(shapely.distance(cloth.stripes, shapely.points(places))) > _SUPPOSED
    return [
        (EdgeSight.UNCLEAR, REACH) if off else look for off, look in zip(away, looks, strict=True)
    ]


def _judged(
    part: Polygon,
    cloth: SoundCloth,
    shown: SeenScrap,
    times: float,
    scale: PhotoScale,
    half: Polygon,
) -> OutlineReading:
    """The outline of one part of cloth, with what is seen along its edge."""
    polygon = _in_mm(part, times, scale)
    share = (shown.contrast - LEAST_CONTRAST) / (GOOD_CONTRAST - LEAST_CONTRAST)
    small = float(np.clip(_INSIDE_SHARE * polygon.area / polygon.length, *_INSIDE))
    inside = small if share >= 1.0 else FRAY_POOR - max(share, 0.0)
    outline = _drawn(polygon, inside)
    places = spaced(np.asarray(shapely.orient_polygons(outline.polygon).exterior.coords[:-1]))
    looks = looked_at(places)
    at = scale.to_px(looks.reshape(-1, 2)).reshape(looks.shape) / times
    ground = EdgeGround(cloth.field, shown.burnt, shown.noise, shown.over.mean(axis=2))
    looked = _unseen(at[:, 0], cloth, sights(at, ground))
    seen_along = stretches(places, looked)
    outline = _inside_the_fray(outline, seen_along)
    doubts = tuple(what_else(part, cloth, shown, polygon.area / max(part.area, 1e-9)))
    warnings = list(doubts)
    if scale.tilt is None:
        warnings.append(unseen_tilt_words())
    if cloth.step > _MOST_STEP:
        warnings.append("The cloth varies nearly as much as it differs from the ground.")
    if shown.noise > _MOST_NOISE:
        warnings.append("The ground is patterned: lay the scrap on a plain sheet.")
    if long_shadow(at, looked, ground) > _MOST_SHADOW:
        warnings.append(_LOW_LAMP)
    taken = max((half.area - outline.area) / max(half.length, 1.0), inside)
    if len(cloth.parts) > 1:
        taken = inside
    if outline.area / outline.polygon.length < _LEAST_ACROSS * _pixel(scale, shown.over, times):
        warnings.append("The scrap is small in this photograph: take it from nearer.")
    clear = sum(s.length for s in seen_along if s.sight is EdgeSight.CLEAR)
    if taken > _MOST_SMEAR and clear > 0.5 * outline.polygon.exterior.length:
        warnings.append("The edge is smeared over more than the line is allowed to err.")
    whole = not set(doubts) & NOT_SURELY_WHOLE
    return OutlineReading(outline, taken, shown.contrast, seen_along, tuple(warnings), whole)


def _inside_the_fray(outline: Outline, seen_along: tuple[EdgeStretch, ...]) -> Outline:
    """The outline without a little more along each frayed stretch, wider where the fray is."""
    more = [
        shapely.LineString(s.points).buffer(_FRAY_MORE[0] + _FRAY_MORE[1] * s.doubt, quad_segs=4)
        for s in seen_along
        if s.sight is EdgeSight.FRAYED and s.long
    ]
    if not more:
        return outline
    left = polygons_of(shapely.difference(outline.polygon, shapely.union_all(more)))
    return _drawn(max(left, key=_area, default=Polygon()), 0.0)


_LOW_LAMP = (
    "The lamp stands low: an edge that stands up towards it throws no shadow to be told by. Raise "
    "the lamp, or press the scrap flat and look at every side."
)
_NOTHING_LEFT = (
    "Only loose threads are to be seen, no cloth that holds together. Trace the outline by hand."
)


def _pixel(scale: PhotoScale, pixels: Pixels | Scores, times: float) -> float:
    """mm of one pixel of what is looked through, in the middle of the photograph."""
    rows, columns = pixels.shape[:2]
    middle = np.array([(columns / 2, rows / 2), (columns / 2 + 1, rows / 2)]) * times
    middle = np.vstack((middle, middle[0] + (0.0, times)))
    a, b, c = scale.to_mm(middle)
    return float(np.sqrt(np.hypot(*(b - a)) * np.hypot(*(c - a))))


def _in_mm(polygon: Polygon, times: float, scale: PhotoScale) -> Polygon:
    outer, *holes = (
        Polygon(scale.to_mm(np.asarray(ring.coords) * times)).buffer(0)
        for ring in (polygon.exterior, *polygon.interiors)
    )
    return max(polygons_of(shapely.difference(outer, shapely.union_all(holes))), key=_area)


def _halfway(shown: SeenScrap, times: float, scale: PhotoScale) -> Polygon:
    """The line halfway between ground and scrap, with its holes, in mm."""
    wanted, filled = wanted_part(shown)
    others = np.asarray((shown.score > 0.5) & ~wanted & ~filled)
    alone = np.where(ndimage.binary_dilation(others) & ~wanted, 0.0, shown.score)
    alone = np.where(filled, 1.0, alone)
    shapes = [Polygon(scale.to_mm(ring * times)).buffer(0) for ring in rings(alone, 0.5)]
    shapes.sort(key=_area, reverse=True)
    if not wanted.any() or not shapes or shapes[0].area <= 0.0:
        raise ShapeError(_NOTHING_LEFT)
    outer = shapes[0]
    holes = [s for s in shapes[1:] if s.area >= LEAST_HOLE and outer.contains(s)]
    return max(polygons_of(shapely.difference(outer, shapely.union_all(holes))), key=_area)


def _drawn(polygon: Polygon, inward: float) -> Outline:
    drawn = polygons_of(shapely.buffer(polygon, -inward, quad_segs=4) if inward else polygon)
    drawn = polygons_of(shapely.simplify(max(drawn, key=_area, default=Polygon()), _SIMPLIFIED))
    if not drawn:
        raise ShapeError(
            f"Nothing is left when the outline is drawn inward by {inward:.1f} mm. Draw it inward "
            "by less, or trace it by hand."
        )
    return Outline.from_polygon(max(drawn, key=_area))


def _area(polygon: Polygon) -> float:
    return float(polygon.area)
