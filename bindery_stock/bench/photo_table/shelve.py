"""From a marked photograph to a piece on the shelf.

What is asked of the marks before a piece can be shelved, and how they become millimetres, flaws
and colours. Every error names the step of the photo table at which it is mended.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path

import shapely

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.photo_table.marks import (
    Facts,
    Marks,
    StepName,
    TypedColour,
)
from bindery_stock.bench.photo_table.piece_shape import (
    check_ring,
    flaws_of,
    outline_of,
    piece_scale,
    scale_of,
)
from bindery_stock.bench.photo_table.readings import Sample, read, samples
from bindery_stock.colour import ColourReading, ReadBy
from bindery_stock.errors import EntryError
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


@deed(Bearing.KEEPS)
def shelve_ready(room: Stockroom, *, piece: NewPiece) -> Changes:
    """Shelve a piece whose outline and colours are made already, as by a script.

    Raises ``EntryError`` for what cannot be. Its photographs must be in the archive.
    """
    with room.step(Verb.SHELVED) as step:
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
        check_ring(patch.ring, step, "the patch")
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
        read_by=reading.read_by,
    )


def _typed_colour(typed: TypedColour) -> Colour:
    return Colour(
        lab=typed.lab,
        face=typed.face,
        u=typed.u,
        method=typed.method,
        read_by=ReadBy.INSTRUMENT,
    )
