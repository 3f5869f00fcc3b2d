"""From a marked photograph to a piece on the shelf.

What is asked of the marks before a piece can be shelved, and how they become millimetres, flaws
and colours. Every error names the step of the photo table at which it is mended.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.photo_table.marks import (
    Facts,
    KnownLength,
    Marks,
    StepName,
    TypedColour,
    crosses_itself,
)
from bindery_stock.bench.photo_table.readings import Sample, read, samples
from bindery_stock.colour import ColourReading
from bindery_stock.errors import EntryError, ShapeError
from bindery_stock.shape import Flaw, FlawKind, Outline, PhotoScale, Ring
from bindery_stock.stock import (
    Changes,
    Colour,
    NewPiece,
    Photo,
    PhotoMark,
    StockPiece,
    Stockroom,
    Verb,
)
from bindery_stock.trade.vocabulary import Kind

COLOURED = frozenset((Kind.CLOTH, Kind.LEATHER))
"""Kinds that are matched by colour, so that they are asked for a reading. Common practice, no
source: mull, kraft and board are hidden in the finished repair."""

JUDGED_BY_EYE = frozenset((Kind.CLOTH, Kind.PAPER))
"""Kinds whose colour can raise a caution, so that its family is asked for."""

Readings = Mapping[Sample, ColourReading]
"""What was read from each sample of cloth."""

_CROSSING = "two of its sides cross or touch. Drag the points apart."


@dataclass(frozen=True, slots=True)
class Wanting:
    """What keeps a piece from being shelved: the step to go to, and why in words."""

    step: StepName
    words: str


def wanting(marks: Marks, facts: Facts) -> Wanting | None:
    """The first thing that is missing or wrong, in the order of the steps; None where all is well.

    Colours are not measured here.
    """
    try:
        scale_of(marks)
        outline_of(marks)
        flaws_of(marks)
        _check_colour(marks, facts)
    except EntryError as error:
        return Wanting(StepName(error.field), str(error))
    return None


def prepare(photo: Photo, marks: Marks, facts: Facts, readings: Readings) -> NewPiece:
    """The piece that a marked photograph shows.

    ``readings`` holds the colour read from each sample of ``marks``. Raises ``EntryError`` whose
    field is the name of the step where something is missing or wrong.
    """
    scale = piece_scale(marks)
    outline = outline_of(marks)
    flaws = flaws_of(marks)
    _check_colour(marks, facts)
    return NewPiece(
        kind=facts.kind,
        form=facts.form,
        outline=outline,
        pattern=facts.pattern,
        backing=facts.backing,
        fibre=facts.fibre,
        flaws=flaws,
        colours=(
            *(_typed_colour(typed) for typed in marks.typed),
            *(_colour(sample, readings[sample], photo) for sample in samples(marks)),
        ),
        marks=(PhotoMark(photo, scale.matrix, scale.words()),),
        source=facts.source,
        source_date=facts.source_date,
        place=facts.place,
        note=facts.note,
        price=facts.price,
        colour_family=facts.colour_family if facts.kind in JUDGED_BY_EYE else "",
    )


@deed(Bearing.KEEPS)
def shelve(
    room: Stockroom,
    *,
    source: Path,
    name: str,
    size: tuple[int, int],
    marks: Marks,
    facts: Facts,
    readings: Readings,
    anew: str = "",
) -> Changes:
    """Archive a photograph, read the colours not read yet, and shelve the piece it shows.

    With ``anew``, the code of a piece on the shelf, that piece is what the photograph shows.

    ``size`` is the width and height of the upright photograph in pixels. Nothing is archived
    unless the marks are complete. Takes as long as decoding the photograph may.
    """
    missing = wanting(marks, facts)
    if missing is not None:
        raise EntryError(missing.step, missing.words)
    every = {s: readings[s] if s in readings else read(source, s) for s in samples(marks)}
    photo = room.photos.archive(source, name=name, width=size[0], height=size[1])
    piece = prepare(photo, marks, facts, every)
    with room.step(Verb.CORRECTED if anew else Verb.SHELVED) as step:
        if anew:
            room.pieces.photograph_anew(anew, piece)
        else:
            room.pieces.shelve(piece)
    return step.changes


def facts_of(piece: StockPiece) -> Facts:
    """What is known of a piece, to begin with when it is photographed anew."""
    return Facts(
        kind=piece.kind,
        form=piece.form,
        pattern=piece.pattern,
        backing=piece.backing,
        fibre=piece.fibre,
        source=piece.source,
        source_date=piece.source_date,
        place=piece.place,
        price=piece.price,
        note=piece.note,
        colour_family=piece.colour_family,
    )


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
    _check_ring(marks.outline, StepName.OUTLINE, "the outline")
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
            _check_ring(flaw.ring, StepName.FLAWS, "the hole")
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
        _check_ring(mark.ring, StepName.FLAWS, f"the {mark.kind}")
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


def parse_price(text: str) -> Decimal | None:
    """A price as typed, with a point or a comma; None where nothing was typed."""
    if not text.strip():
        return None
    try:
        price = Decimal(text.strip().replace(",", "."))
    except InvalidOperation as error:
        raise EntryError(
            StepName.FACTS, f"Price: “{text.strip()}” is not an amount. Write 4.50, without a sign."
        ) from error
    if not price.is_finite() or price < 0 or price >= _DEAREST:
        raise EntryError(StepName.FACTS, "Price: must be between 0 and 1,000,000.")
    return price


_DEAREST = 1_000_000


def _typed(mm: float | None, what: str) -> float:
    if mm is None:
        raise EntryError(StepName.SCALE, f"Scale: type the {what}.")
    return mm


def _upward(ring: Ring) -> tuple[tuple[float, float], tuple[float, float]]:
    """The photograph's up, as an arrow through the middle of a ring."""
    middle = shapely.Polygon(ring).centroid
    return (middle.x, middle.y + 1.0), (middle.x, middle.y - 1.0)


def _check_ring(ring: Ring, step: StepName, what: str) -> None:
    if len(ring) < 3:
        raise EntryError(step, f"{step}: draw {what}, as a rectangle or corner by corner.")
    if crosses_itself(ring):
        raise EntryError(step, f"{step}: {what} is not a simple shape; {_CROSSING}")


def _rings(flawed: BaseGeometry) -> list[Ring]:
    parts = shapely.get_parts(flawed).tolist()
    polygons = [p for p in parts if isinstance(p, shapely.Polygon) and p.area > 0.0]
    return [tuple((x, y) for x, y in p.exterior.coords[:-1]) for p in polygons]


def is_family_asked(marks: Marks, facts: Facts) -> bool:
    """Whether only the eye can say which cautions the colour calls for."""
    read = bool(marks.patches or marks.typed)
    return marks.without_colour and not read and facts.kind in JUDGED_BY_EYE


def _check_colour(marks: Marks, facts: Facts) -> None:
    """A patch is asked for where the kind is matched by colour; each must lie on the piece."""
    step = StepName.COLOUR
    unread = not marks.patches and not marks.typed and not marks.without_colour
    if unread and facts.kind in COLOURED:
        raise EntryError(
            step,
            "Colour: mark a clean patch, or press Enter at this step to take the one suggested.",
        )
    if is_family_asked(marks, facts) and not facts.colour_family:
        raise EntryError(
            step,
            "Colour: no colour was read, so say by eye which colour family it is, where it is "
            "least faded: old cloth of some colours may be harmful.",
        )
    whole = shapely.Polygon(marks.outline)
    for patch in marks.patches:
        _check_ring(patch.ring, step, "the patch")
        if not whole.covers(shapely.Polygon(patch.ring)):
            raise EntryError(
                step, f"Colour: the patch of the {patch.face} face leaves the outline. Move it in."
            )


def _colour(sample: Sample, reading: ColourReading, photo: Photo) -> Colour:
    return Colour(
        lab=reading.lab,
        face=sample.face,
        spread=reading.spread,
        u=reading.u,
        method=reading.method,
        photo=photo.sha256,
        patch=sample.rings[0],
    )


def _typed_colour(typed: TypedColour) -> Colour:
    return Colour(lab=typed.lab, face=typed.face, u=typed.u, method=typed.method)
