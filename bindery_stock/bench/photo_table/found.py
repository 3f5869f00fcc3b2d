"""What each step of the photo table has found, and how sure it is, in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum, auto

from bindery_stock.bench.photo_table.marks import (
    Facts,
    FlawMark,
    KnownLength,
    Marks,
    StepName,
    crosses_itself,
)
from bindery_stock.bench.photo_table.piece_shape import flaws_of, outline_of, scale_of, turn_of
from bindery_stock.bench.photo_table.readings import Sample, samples
from bindery_stock.bench.photo_table.shelve import COLOURED, wanting
from bindery_stock.colour import ColourReading, family
from bindery_stock.errors import EntryError
from bindery_stock.stock import Lab
from bindery_stock.units import LengthStyle


class Sureness(Enum):
    """How a step stands."""

    WANTED = auto()
    """Still to be done."""
    ASSUMED = auto()
    """A likely answer that no one has confirmed."""
    FOUND = auto()
    WRONG = auto()


@dataclass(frozen=True, slots=True)
class Found:
    """What a step has found."""

    standing: Sureness
    words: str


def scale_found(marks: Marks) -> Found:
    """The scale and how far to trust it."""
    if marks.scale is None:
        return Found(Sureness.WANTED, "Not set")
    typed = (
        (marks.scale.mm,)
        if isinstance(marks.scale, KnownLength)
        else (marks.scale.width, marks.scale.height)
    )
    if None in typed:
        return Found(Sureness.WANTED, "The length is not typed yet")
    try:
        return Found(Sureness.FOUND, scale_of(marks).words())
    except EntryError as error:
        return _wrong(error)


def outline_found(marks: Marks, lengths: LengthStyle) -> Found:
    """Size across and along the warp, and area."""
    if not marks.outline:
        return Found(Sureness.WANTED, "Not drawn")
    if crosses_itself(marks.outline):
        return Found(Sureness.WRONG, "Two sides cross or touch: drag the points apart")
    if scale_found(marks).standing is not Sureness.FOUND:
        return Found(
            Sureness.ASSUMED, f"{len(marks.outline)} corners; the size follows from the scale"
        )
    try:
        outline = outline_of(marks)
    except EntryError as error:
        return _wrong(error)
    size = lengths.pair(outline.width, outline.height)
    return Found(Sureness.FOUND, f"{size}, {outline.area / 100:.0f} cm²")


def weave_found(marks: Marks) -> Found:
    """Which way the warp runs in the photograph."""
    if marks.warp is None:
        return Found(Sureness.ASSUMED, "Up the photograph, assumed")
    turn = round(turn_of(marks))
    if turn in (0, -0):
        return Found(Sureness.FOUND, "Up the photograph")
    way = "counter-clockwise" if turn > 0 else "clockwise"
    return Found(Sureness.FOUND, f"{abs(turn)}° {way} from the photograph's up")


def colour_found(
    marks: Marks, facts: Facts, readings: Mapping[Sample, ColourReading], refused: Sequence[str]
) -> Found:
    """The colours read, each with its spread and band."""
    if refused:
        return Found(Sureness.WRONG, refused[0])
    if not marks.patches and not marks.typed:
        if marks.without_colour:
            return Found(Sureness.FOUND, "Shelved without a colour")
        needed = facts.kind in COLOURED
        words = "No patch marked" if needed else f"No patch marked; {facts.kind} needs none"
        return Found(Sureness.WANTED if needed else Sureness.ASSUMED, words)
    told = [f"{typed.face}: {_colour_words(typed.lab, typed.u)}" for typed in marks.typed]
    told += [
        f"{sample.face}: {reading_words(readings[sample])}"
        if sample in readings
        else f"{sample.face}: being measured"
        for sample in samples(marks)
    ]
    return Found(Sureness.FOUND, "; ".join(told))


def reading_words(reading: ColourReading) -> str:
    """``red, L* 38.2 a* 31.0 b* 14.6, ±15``, or ``red, seen, not measured``."""
    if reading.u is None:
        return f"{family(reading.lab)}, {reading.read_by}"
    return _colour_words(reading.lab, reading.u)


def _colour_words(lab: Lab, u: float) -> str:
    lightness, a, b = (f"{value:.1f}".replace("-", "−") for value in lab)
    return f"{family(lab)}, L* {lightness} a* {a} b* {b}, ±{u:.0f}"


def trust_words(reading: ColourReading) -> str:
    """How far to trust a reading: its spread, its band, what it rests on."""
    if reading.u is None:
        return (
            f"{str(reading.read_by).capitalize()}: {reading.method}; {reading.profile}. No figure "
            "holds for it. Lay it beside the book in one photograph, or photograph it with a "
            "target."
        )
    return (
        f"Spread ΔE00 {reading.spread:.1f} over {reading.pixels:,} pixels, {reading.rejected:.0%} "
        f"left out. ±{reading.u:.0f} ΔE00 (95 %): {reading.method}; {reading.profile}."
    )


def flaws_found(marks: Marks) -> Found:
    """The flaws, counted by kind."""
    if not marks.flaws:
        return Found(Sureness.FOUND, "None marked")
    words = ", ".join(_counted(marks.flaws))
    if marks.outline and scale_found(marks).standing is Sureness.FOUND:
        try:
            flaws_of(marks)
        except EntryError as error:
            if error.field == StepName.FLAWS:
                return _wrong(error)
    return Found(Sureness.FOUND, words)


def facts_found(facts: Facts) -> Found:
    """What is known besides the photograph."""
    known = [facts.kind.value, facts.pattern, facts.colour_family, facts.source]
    known += [facts.source_date, facts.place]
    return Found(Sureness.FOUND, ", ".join(word for word in known if word))


def shelve_found(marks: Marks, facts: Facts) -> Found:
    """Whether the piece can be shelved, and if not, why."""
    missing = wanting(marks, facts)
    if missing is None:
        return Found(Sureness.FOUND, "Everything needed is there")
    return Found(Sureness.WANTED, missing.words)


def _counted(flaws: Sequence[FlawMark]) -> list[str]:
    kinds = [flaw.kind for flaw in flaws]
    counts = {kind: kinds.count(kind) for kind in dict.fromkeys(kinds)}
    return [f"{n} × {kind}" if n > 1 else kind.value for kind, n in counts.items()]


def _wrong(error: EntryError) -> Found:
    return Found(Sureness.WRONG, str(error).split(": ", 1)[-1])
