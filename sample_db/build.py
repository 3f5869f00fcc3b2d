"""Builds a stockroom from a scenario through the program's own front doors.

Photographs are archived, the scale is taken from the mat's grid or the rule, the colour is read
from the patch, and the piece is shelved; then what happened to the hoard is done over again.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

from bindery_stock.bench.photo_table.shelve import shelve_ready
from bindery_stock.colour import (
    Neutral,
    Sitting,
    Target,
    begin_sitting,
    family,
    measure,
    measure_in_sitting,
)
from bindery_stock.shape import Flaw, FlawKind, Outline, PhotoScale
from bindery_stock.stock import (
    Colour,
    FaceName,
    NewPiece,
    Photo,
    PhotoMark,
    Stockroom,
)
from bindery_stock.trade import shipped_rules
from bindery_stock.trade.vocabulary import Kind
from sample_db.at_work import Bench, BenchClock
from sample_db.develop import QUALITY, SIZE, Negative, chart_photograph, developed
from sample_db.happenings import done, entered
from sample_db.hoard import Item, Scenario
from sample_db.on_the_bench import surveyed
from sample_db.render import MAT, Light, Ring

NOT_YET_JUDGED = frozenset({"red rib ell", "russet straight grain", "faded blue linen"})
"""Old cloth whose colour family no one has judged by eye yet."""
DAY = date(2026, 11, 25)
"""The day on which the sample is looked at."""


def build(
    scenario: Scenario,
    folder: Path,
    *,
    day: date = DAY,
    size: tuple[int, int] = SIZE,
    hands: int | None = None,
) -> Iterator[str]:
    """Build a new stockroom in ``folder``; gives a line for each thing done."""
    clock = BenchClock(datetime(day.year, day.month, day.day, 9, tzinfo=UTC) - timedelta(days=100))
    with Stockroom.create(folder, clock=clock) as room:
        bench = Bench(room, clock, _sitting(room, size), day, size)
        negatives = developed(scenario.items, size, hands=hands)
        for n, (item, negative) in enumerate(zip(scenario.items, negatives, strict=True)):
            clock.turn_to(day - timedelta(days=96 - n))
            yield _shelved(bench, item, negative)
        clock.turn_to(day - timedelta(days=31))
        yield from surveyed(bench, scenario.volumes, scenario.found, hands=hands)
        for n, happening in enumerate(scenario.happenings):
            clock.turn_to(day - timedelta(days=30 - 28 * n // len(scenario.happenings)))
            yield done(bench, happening)
        clock.turn_to(day - timedelta(days=1), 15)
        for tin in scenario.tins:
            yield entered(bench, tin)
        for happening in scenario.afterwards:
            yield done(bench, happening)


def _sitting(room: Stockroom, size: tuple[int, int]) -> Sitting:
    """Archive the photograph of the card of colours and find the correction it gives."""
    card = chart_photograph(size)
    width, height = size
    photo = room.photos.archive(
        card.jpeg(QUALITY), name="colour-card.jpg", width=width, height=height
    )
    return begin_sitting(room.photos.path(photo.sha256), Target(card.corners_px, card.labs))


def _shelved(bench: Bench, item: Item, negative: Negative) -> str:
    width, height = negative.size
    photo = bench.room.photos.archive(negative.data, name=negative.name, width=width, height=height)
    new = _as_found(bench, item, negative, photo)
    changes = shelve_ready(bench.room, piece=new)
    bench.codes[item.key] = changes.born[0]
    return f"{changes.born[0]} {item.key}"


def _as_found(bench: Bench, item: Item, negative: Negative, photo: Photo) -> NewPiece:
    scale = scale_of(negative, on_mat=item.ground == MAT)
    outline = Outline(item.ring, item.holes)
    marks: tuple[PhotoMark, ...] = ()
    if not item.swatch:
        outline = Outline(
            _ring(scale, negative.truth.outline_px),
            tuple(_ring(scale, hole) for hole in negative.truth.holes_px),
        )
        marks = (PhotoMark(photo, scale.matrix, scale.words()),)
    patches: dict[FaceName, Ring] = {}
    if item.coloured:
        patches[FaceName.SHOWN] = negative.truth.patch_px
        if item.turn_ins:
            patches[FaceName.SHELTERED] = _turned_in(item, scale)
    return NewPiece(
        kind=item.kind,
        outline=outline,
        form=item.form,
        pattern=item.pattern,
        backing=item.backing,
        fibre=item.fibre,
        flaws=_flaws(item),
        colours=tuple(_read(bench, item, negative, photo, face) for face in patches.items()),
        marks=marks,
        source=item.source,
        source_date=item.source_date,
        place=item.place,
        note=item.note,
        price=Decimal(item.price) if item.price else None,
        colour_family=item.colour_family or _judged(item),
    )


def scale_of(negative: Negative, *, on_mat: bool) -> PhotoScale:
    """The scale as set at the photo table: from the mat's grid, else along the rule."""
    truth = negative.truth
    if on_mat:
        scale = PhotoScale.from_rectangle(truth.square_px, truth.square_mm, truth.square_mm)
    elif truth.rule_px is not None:
        scale = PhotoScale.from_length(*truth.rule_px, truth.rule_mm)
    else:
        raise ValueError(f"{negative.name} shows neither grid nor rule, so it has no scale.")
    return scale.turned(*truth.warp_px).settled(truth.outline_px)


def _judged(item: Item) -> str:
    """The colour family as the binder ticks it by eye; a few pieces still wait to be looked at."""
    old_cloth = item.kind is Kind.CLOTH and item.source_date
    seen = family(item.stuff.lab)
    if not old_cloth or item.key in NOT_YET_JUDGED or seen not in shipped_rules().families:
        return ""
    return seen


def _ring(scale: PhotoScale, pixels: Ring) -> Ring:
    return tuple((round(float(x), 2), round(float(y), 2)) for x, y in scale.to_mm(pixels))


def _flaws(item: Item) -> tuple[Flaw, ...]:
    return tuple(Flaw(FlawKind(m.flaw), ring) for m in item.marks if m.flaw for ring in m.rings())


def _turned_in(item: Item, scale: PhotoScale) -> Ring:
    """A patch in the turn-in at the spine edge, as pixels."""
    middle = max(y for _, y in item.ring) / 2
    box = ((3.5, middle - 12), (item.turn_ins - 3.5, middle - 12))
    corners = (*box, (box[1][0], middle + 12), (box[0][0], middle + 12))
    return tuple((round(float(x), 1), round(float(y), 1)) for x, y in scale.to_px(corners))


def _read(
    bench: Bench, item: Item, negative: Negative, photo: Photo, face: tuple[FaceName, Ring]
) -> Colour:
    """Read one face by the sitting's correction, or by the grey card where the light differed."""
    name, patch = face
    path = bench.room.photos.path(photo.sha256)
    card = Neutral(negative.truth.card_px, negative.truth.card_lab)
    if item.light == Light():
        reading = measure_in_sitting(path, patch, bench.sitting, neutral=card)
    else:
        reading = measure(path, patch, neutral=card)
    lightness, a, b = (round(v, 3) for v in reading.lab)
    return Colour(
        lab=(lightness, a, b),
        face=name,
        spread=round(reading.spread, 3),
        u=None if reading.u is None else round(reading.u, 3),
        method=reading.method,
        photo=photo.sha256,
        patch=patch,
        read_by=reading.read_by,
    )
