"""An outline found in the photograph by itself, for the binder to confirm."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import shapely

from bindery_stock.bench.photo_table.marks import Marks
from bindery_stock.bench.photo_table.piece_shape import scale_of
from bindery_stock.shape import Outline, PhotoScale, Point, Ring

if TYPE_CHECKING:
    from bindery_stock.shape.outline_reading import OutlineReading

_SMOOTHED = 0.1
"""mm within which corners are left out, so that a hand can drag those that stay. The outline
lies inside the cloth by more than that."""


_ONE_SCRAP = (
    "does it go round one scrap, and the whole of it? Mend it where not, or press Enter again to "
    "take it as it is."
)


@dataclass(frozen=True, slots=True)
class FoundOutline:
    """What was found, in pixels of the upright photograph."""

    ring: Ring
    holes: tuple[Ring, ...]
    words: str
    """How far to trust it."""
    doubtful: tuple[Ring, ...] = ()
    """The stretches of its edge to look at, as open lines."""
    question: str = ""
    """What to ask before it is taken; nothing where nothing is doubtful."""
    touching: bool = False
    """Whether two scraps may lie against each other here."""
    others: tuple["FoundOutline", ...] = ()
    """The other scraps of the photograph."""

    @property
    def following(self) -> "FoundOutline":
        """The next scrap of the photograph, with this one among the others."""
        if not self.others:
            return self
        first, *rest = self.others
        return replace(first, others=(*rest, replace(self, others=())))


def find_outline(photo: Path, marks: Marks, at: Point | None = None) -> FoundOutline:
    """The outline of the scrap in a photograph whose scale is marked.

    ``at`` is a pixel on the scrap; without it the largest thing that lies free is taken, and every
    other comes among its others. Raises ``EntryError`` where the scale is not set, ``ShapeError``
    where nothing is to be seen.
    """
    from bindery_stock.shape.outline_photo import (  # noqa: PLC0415 - at first use
        read_outline,
        read_outlines,
    )

    scale = scale_of(marks)
    if at is not None:
        return _in_pixels(read_outline(photo, scale, at=at), scale)
    several = sorted(read_outlines(photo, scale), key=_area, reverse=True)
    if not several:  # raises what keeps it from being found
        return _in_pixels(read_outline(photo, scale), scale)
    first, *others = (_in_pixels(reading, scale) for reading in several)
    return replace(first, others=tuple(others))


def _in_pixels(found: "OutlineReading", scale: PhotoScale) -> FoundOutline:
    from bindery_stock.shape.several_cloths import TOUCHING  # noqa: PLC0415 - at first use

    smooth = shapely.simplify(found.outline.polygon, _SMOOTHED)
    kept = Outline.from_polygon(smooth) if isinstance(smooth, shapely.Polygon) else found.outline

    def pixels(ring: Ring) -> Ring:
        return tuple((float(x), float(y)) for x, y in scale.to_px(ring))

    return FoundOutline(
        pixels(kept.exterior),
        tuple(pixels(hole) for hole in kept.holes),
        found.words(),
        tuple(pixels(stretch.points) for stretch in found.doubtful),
        _question(found),
        TOUCHING in found.warnings,
    )


def _question(found: "OutlineReading") -> str:
    """What to look at along the edge, by what is seen beyond it, or whether it is one scrap."""
    if not found.doubtful:
        return "" if found.whole else _ONE_SCRAP
    seen = ", ".join(dict.fromkeys(str(stretch.sight) for stretch in found.doubtful))
    return (
        f"does the cloth end at the dotted edge ({seen})? Mend it there, or press Enter again to "
        "take it as it is."
    )


def _area(found: "OutlineReading") -> float:
    return found.outline.area
