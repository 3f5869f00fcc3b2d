"""Reading the colour of each face marked on a photograph, by what it rests on."""

from dataclasses import dataclass
from pathlib import Path

from bindery_stock.bench.colour_room.sitting import KeptTarget, sitting_of
from bindery_stock.bench.colour_room.target_fit import target_at
from bindery_stock.bench.photo_table.marks import Grey, Marks, Patches
from bindery_stock.colour import ColourReading, Neutral, Target, measure, measure_in_sitting
from bindery_stock.shape import Ring
from bindery_stock.stock import FaceName, Lab


@dataclass(frozen=True, slots=True)
class Sample:
    """All that decides one reading: measured again only where any of it changes."""

    face: FaceName
    rings: tuple[Ring, ...]
    outline: Ring = ()
    reference: Grey | Patches | None = None
    sheet: Ring = ()
    lent: KeptTarget | None = None
    meant: Lab | None = None


def samples(marks: Marks) -> tuple[Sample, ...]:
    """One for each face that has a patch, in the order in which the faces were first marked."""
    faces = dict.fromkeys(patch.face for patch in marks.patches)
    return tuple(
        Sample(
            face,
            tuple(patch.ring for patch in marks.patches if patch.face is face),
            marks.outline,
            marks.reference,
            marks.sheet,
            marks.lent,
            next((p.meant for p in marks.patches if p.face is face and p.meant), None),
        )
        for face in faces
    )


def read(photo: Path, sample: Sample) -> ColourReading:
    """Measure a sample; takes as long as decoding the photograph.

    Raises ``ColourError`` or ``PhotoError`` with what to do instead.
    """
    neutrals, target = known_colours(sample.reference)
    outline = sample.outline or None
    if sample.lent is not None:
        return measure_in_sitting(
            photo,
            sample.rings,
            sitting_of(sample.lent),
            neutral=neutrals[0] if neutrals else None,
            target=target,
            outline=outline,
            meant=sample.meant,
        )
    return measure(
        photo,
        sample.rings,
        neutral=neutrals or None,
        target=target,
        sheet=sample.sheet or None,
        outline=outline,
        meant=sample.meant,
    )


def known_colours(reference: Grey | Patches | None) -> tuple[list[Neutral], Target | None]:
    """The neutral patches, or the target, that a mark stands for.

    Raises ``ColourError`` where the target's corners make no four-sided figure.
    """
    match reference:
        case Grey(ring=ring, lightness=lightness, second=second):
            rings = [ring, second] if second else [ring]
            if lightness is None:
                return [Neutral.paper(one) for one in rings], None
            return [Neutral(one, (lightness, 0.0, 0.0)) for one in rings], None
        case Patches(corners=corners, reference=values):
            return [], target_at(corners, values)
        case None:
            return [], None
