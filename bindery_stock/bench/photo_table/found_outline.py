"""An outline found in the photograph by itself, for the binder to confirm."""

from dataclasses import dataclass
from pathlib import Path

import shapely

from bindery_stock.bench.photo_table.marks import Marks
from bindery_stock.bench.photo_table.piece_shape import scale_of
from bindery_stock.shape import Outline, Point, Ring

_SMOOTHED = 0.1
"""mm within which corners are left out, so that a hand can drag those that stay. The outline
lies inside the cloth by more than that."""


@dataclass(frozen=True, slots=True)
class FoundOutline:
    """What was found, in pixels of the upright photograph."""

    ring: Ring
    holes: tuple[Ring, ...]
    words: str
    """How far to trust it."""


def find_outline(photo: Path, marks: Marks, at: Point | None = None) -> FoundOutline:
    """The outline of the scrap in a photograph whose scale is marked.

    ``at`` is a pixel on the scrap; without it the largest thing that lies free is taken. Raises
    ``EntryError`` where the scale is not set, ``ShapeError`` where nothing is to be seen.
    """
    from bindery_stock.shape.outline_photo import read_outline  # noqa: PLC0415 - at first use

    scale = scale_of(marks)
    found = read_outline(photo, scale, at=at)
    smooth = shapely.simplify(found.outline.polygon, _SMOOTHED)
    kept = Outline.from_polygon(smooth) if isinstance(smooth, shapely.Polygon) else found.outline

    def pixels(ring: Ring) -> Ring:
        return tuple((float(x), float(y)) for x, y in scale.to_px(ring))

    return FoundOutline(
        pixels(kept.exterior), tuple(pixels(hole) for hole in kept.holes), found.words()
    )
