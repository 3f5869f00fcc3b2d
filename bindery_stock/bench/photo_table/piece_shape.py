"""The marks on a photograph as millimetres: its scale, the outline, the flaws."""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from bindery_stock.bench.photo_table.marks import (
    KnownLength,
    Marks,
    StepName,
    crosses_itself,
)
from bindery_stock.errors import EntryError, ShapeError
from bindery_stock.shape import Flaw, FlawKind, Outline, PhotoScale, Ring

_CROSSING = "two of its sides cross or touch. Drag the points apart."


def scale_of(marks: Marks) -> PhotoScale:
    """The scale of the photograph as marked, before it is turned to the warp."""
    step = StepName.SCALE
    known = marks.scale
    if known is None:
        raise EntryError(
            step,
            "Scale: drag a rectangle over a known sheet, or drag along a ruler, and type its size.",
        )
    try:
        if isinstance(known, KnownLength):
            return PhotoScale.from_length(*known.line, _typed(known.mm, "length of the line"))
        return PhotoScale.from_rectangle(
            known.corners, _typed(known.width, "width"), _typed(known.height, "height")
        )
    except ShapeError as error:
        raise EntryError(step, f"Scale: {error}") from error


def piece_scale(marks: Marks) -> PhotoScale:
    """The scale with the warp as +y and the piece's lower-left corner at 0, 0."""
    scale = scale_of(marks)
    if not marks.outline:
        raise EntryError(
            StepName.OUTLINE,
            "Outline: draw the outline, or press Enter at this step to take the one found.",
        )
    check_ring(marks.outline, StepName.OUTLINE, "the outline")
    try:
        return scale.turned(*(marks.warp or _upward(marks.outline))).settled(marks.outline)
    except ShapeError as error:
        raise EntryError(StepName.WEAVE, f"Weave: {error}") from error


def outline_of(marks: Marks) -> Outline:
    """The outline in millimetres, holes taken out."""
    scale = piece_scale(marks)
    rest: BaseGeometry = shapely.Polygon(scale.to_mm(marks.outline))
    for flaw in marks.flaws:
        if flaw.kind is FlawKind.HOLE:
            check_ring(flaw.ring, StepName.FLAWS, "the hole")
            rest = rest.difference(shapely.Polygon(scale.to_mm(flaw.ring)))
    if not isinstance(rest, shapely.Polygon) or rest.is_empty:
        raise EntryError(
            StepName.FLAWS,
            "Flaws: the holes leave no single piece. Make them smaller, or outline one part only.",
        )
    try:
        return Outline.from_polygon(rest)
    except ShapeError as error:
        raise EntryError(StepName.OUTLINE, f"Outline: {error}") from error


def flaws_of(marks: Marks) -> tuple[Flaw, ...]:
    """The flaws in millimetres, what reaches over the edge cut off; holes are in the outline."""
    scale = piece_scale(marks)
    whole = shapely.Polygon(scale.to_mm(marks.outline))
    flaws: list[Flaw] = []
    for mark in marks.flaws:
        check_ring(mark.ring, StepName.FLAWS, f"the {mark.kind}")
        flawed = shapely.Polygon(scale.to_mm(mark.ring)).intersection(whole)
        rings = _rings(flawed)
        if not rings:
            raise EntryError(
                StepName.FLAWS,
                f"Flaws: the {mark.kind} lies outside the outline. Move it onto the piece, or "
                "delete it.",
            )
        if mark.kind is not FlawKind.HOLE:
            flaws += [Flaw(mark.kind, ring) for ring in rings]
    return tuple(flaws)


def turn_of(marks: Marks) -> float:
    """Degrees, counter-clockwise as seen, from the photograph's up to the warp; -180 to 180."""
    if marks.warp is None:
        return 0.0
    (x0, y0), (x1, y1) = marks.warp
    return float(np.degrees(np.arctan2(x0 - x1, y0 - y1)))


def _typed(mm: float | None, what: str) -> float:
    if mm is None:
        raise EntryError(StepName.SCALE, f"Scale: type the {what}.")
    return mm


def _upward(ring: Ring) -> tuple[tuple[float, float], tuple[float, float]]:
    """The photograph's up, as an arrow through the middle of a ring."""
    middle = shapely.Polygon(ring).centroid
    return (middle.x, middle.y + 1.0), (middle.x, middle.y - 1.0)


def check_ring(ring: Ring, step: StepName, what: str) -> None:
    """Raises ``EntryError`` at ``step`` where the ring is no simple shape."""
    if len(ring) < 3:
        raise EntryError(step, f"{step}: draw {what}, as a rectangle or corner by corner.")
    if crosses_itself(ring):
        raise EntryError(step, f"{step}: {what} is not a simple shape; {_CROSSING}")


def _rings(flawed: BaseGeometry) -> list[Ring]:
    parts = shapely.get_parts(flawed).tolist()
    polygons = [p for p in parts if isinstance(p, shapely.Polygon) and p.area > 0.0]
    return [tuple((x, y) for x, y in p.exterior.coords[:-1]) for p in polygons]
