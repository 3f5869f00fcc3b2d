"""Reading the colour of each face marked on a photograph, by what it rests on."""

from dataclasses import dataclass
from pathlib import Path

from bindery_stock.bench.marks import Grey, Marks, Patches
from bindery_stock.colour import (
    BEFORE_2014,
    SINCE_2014,
    ColourReading,
    Neutral,
    Target,
    measure,
)
from bindery_stock.shape import Ring
from bindery_stock.stock import FaceName


@dataclass(frozen=True, slots=True)
class Sample:
    """All that decides one reading: measured again only where any of it changes."""

    face: FaceName
    rings: tuple[Ring, ...]
    outline: Ring = ()
    reference: Grey | Patches | None = None


def samples(marks: Marks) -> tuple[Sample, ...]:
    """One for each face that has a patch, in the order in which the faces were first marked."""
    faces = dict.fromkeys(patch.face for patch in marks.patches)
    return tuple(
        Sample(
            face,
            tuple(patch.ring for patch in marks.patches if patch.face is face),
            marks.outline,
            marks.reference,
        )
        for face in faces
    )


def read(photo: Path, sample: Sample) -> ColourReading:
    """Measure a sample; takes as long as decoding the photograph.

    Raises ``ColourError`` or ``PhotoError`` with what to do instead.
    """
    neutral, target = None, None
    match sample.reference:
        case Grey(ring=ring, lightness=None):
            neutral = Neutral.paper(ring)
        case Grey(ring=ring, lightness=lightness):
            neutral = Neutral(ring, (lightness or 0.0, 0.0, 0.0))
        case Patches(corners=corners, since_2014=since):
            target = Target(corners, SINCE_2014 if since else BEFORE_2014)
        case None:
            pass
    return measure(
        photo, sample.rings, neutral=neutral, target=target, outline=sample.outline or None
    )
