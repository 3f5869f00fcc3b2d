"""Builds a stockroom from a scenario through the program's own front doors.

Photographs are archived, the scale is taken from the mat's grid or the rule, the colour is read
from the patch, and the piece is shelved; then what happened to the hoard is done over again.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import assert_never

from bindery_stock.colour import (
    Neutral,
    Sitting,
    Target,
    begin_sitting,
    measure,
    measure_in_sitting,
)
from bindery_stock.shape import Flaw, FlawKind, Outline, PhotoScale, Placement, cut, place
from bindery_stock.stock import (
    Colour,
    Cutting,
    FaceName,
    NewAdhesiveLot,
    NewPiece,
    Photo,
    PhotoMark,
    Piece,
    Stockroom,
)
from sample_db.develop import QUALITY, SIZE, Negative, chart_photograph, developed
from sample_db.hoard import (
    Correct,
    Cut,
    Discard,
    Happening,
    Item,
    Move,
    Reserve,
    Scenario,
    Tin,
)
from sample_db.render import MAT, Light, Ring

DAY = date(2026, 11, 25)
"""The day on which the sample is looked at."""
MARGIN = 1.0
"""Least distance of a cut from edge and flaw, mm."""
SLIVER = 12.0
"""Offcuts that hold no square of this side are thrown away, mm."""


@dataclass
class BenchClock:
    """A clock that is set by hand."""

    now: datetime

    def __call__(self) -> datetime:
        """The instant it is set to; each look moves it on by some minutes."""
        self.now += timedelta(minutes=4)
        return self.now

    def turn_to(self, day: date, hour: int = 9) -> None:
        """Set it to a morning, never back."""
        self.now = max(self.now, datetime(day.year, day.month, day.day, hour, tzinfo=UTC))


@dataclass
class _Hoard:
    room: Stockroom
    clock: BenchClock
    sitting: Sitting
    codes: dict[str, str] = field(default_factory=dict)
    """What the scenario calls a piece, and its code."""


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
        hoard = _Hoard(room, clock, _sitting(room, size))
        negatives = developed(scenario.items, size, hands=hands)
        for n, (item, negative) in enumerate(zip(scenario.items, negatives, strict=True)):
            clock.turn_to(day - timedelta(days=96 - n))
            yield _shelved(hoard, item, negative)
        for n, happening in enumerate(scenario.happenings):
            clock.turn_to(day - timedelta(days=30 - 2 * n))
            yield _done(hoard, happening)
        clock.turn_to(day - timedelta(days=1), 16)
        for tin in scenario.tins:
            yield _entered(hoard, tin, day)


def _sitting(room: Stockroom, size: tuple[int, int]) -> Sitting:
    """Archive the photograph of the card of colours and find the correction it gives."""
    card = chart_photograph(size)
    width, height = size
    photo = room.archive_photo(
        card.jpeg(QUALITY), name="colour-card.jpg", width=width, height=height
    )
    return begin_sitting(room.photo_path(photo.sha256), Target(card.corners_px, card.labs))


def _shelved(hoard: _Hoard, item: Item, negative: Negative) -> str:
    width, height = negative.size
    photo = hoard.room.archive_photo(negative.data, name=negative.name, width=width, height=height)
    new = _as_found(hoard, item, negative, photo)
    changes = hoard.room.shelve(new)
    hoard.codes[item.key] = changes.born[0]
    return f"{changes.born[0]} {item.key}"


def _as_found(hoard: _Hoard, item: Item, negative: Negative, photo: Photo) -> NewPiece:
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
        colours=tuple(_read(hoard, item, negative, photo, face) for face in patches.items()),
        marks=marks,
        source=item.source,
        source_date=item.source_date,
        place=item.place,
        note=item.note,
        price=Decimal(item.price) if item.price else None,
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
    hoard: _Hoard, item: Item, negative: Negative, photo: Photo, face: tuple[FaceName, Ring]
) -> Colour:
    """Read one face by the sitting's correction, or by the grey card where the light differed."""
    name, patch = face
    path = hoard.room.photo_path(photo.sha256)
    card = Neutral(negative.truth.card_px, negative.truth.card_lab)
    if item.light == Light():
        reading = measure_in_sitting(path, patch, hoard.sitting, neutral=card)
    else:
        reading = measure(path, patch, neutral=card)
    lightness, a, b = (round(v, 3) for v in reading.lab)
    return Colour(
        lab=(lightness, a, b),
        face=name,
        spread=round(reading.spread, 3),
        u=round(reading.u, 3),
        method=reading.method,
        photo=photo.sha256,
        patch=patch,
    )


def _done(hoard: _Hoard, happening: Happening) -> str:
    room, codes = hoard.room, hoard.codes
    match happening:
        case Cut():
            return _cut(hoard, happening)
        case Reserve(key=key, purpose=purpose, width=width, height=height):
            found = _placed(room.piece(codes[key]), happening)
            corners = found.corners
            done = room.reserve(codes[key], purpose, width=width, height=height, corners=corners)
        case Discard(key=key, reason=reason):
            done = room.discard(codes[key], reason)
        case Move(keys=keys, place=where):
            done = room.move([codes[key] for key in keys], where)
        case Correct(key=key, field=name, value=value):
            done = room.correct(codes[key], **{name: value})
        case _:
            assert_never(happening)
    return done.step.name


def _placed(piece: Piece, wanted: Cut | Reserve) -> Placement:
    found = place(piece.outline, wanted.width, wanted.height, margin=MARGIN, flaws=piece.flaws)
    if found is None:
        raise ValueError(f"{wanted.purpose} does not fit in {wanted.key}. Choose another piece.")
    return found


def _cut(hoard: _Hoard, wanted: Cut) -> str:
    piece = hoard.room.piece(hoard.codes[wanted.key])
    found = _placed(piece, wanted)
    left = cut(piece.outline, found)
    kept = [o for o in left if place(o, SLIVER, SLIVER) is not None]
    done = hoard.room.cut(
        Cutting(
            code=piece.code,
            purpose=wanted.purpose,
            width=wanted.width,
            height=wanted.height,
            corners=found.corners,
            offcuts=tuple(kept),
            discarded=tuple(o for o in left if o not in kept),
        )
    )
    if wanted.taken_back:
        return hoard.room.undo().step.name
    for n, code in enumerate(done.born, start=1):
        hoard.codes[f"{wanted.key}/{n}"] = code
    return done.step.name


def _entered(hoard: _Hoard, tin: Tin, day: date) -> str:
    def then(days: int | None) -> date | None:
        return None if days is None else day - timedelta(days=days)

    done = hoard.room.open_lot(
        NewAdhesiveLot(
            kind=tin.kind,
            name=tin.name,
            supplier=tin.supplier,
            bought=then(tin.bought),
            opened=then(tin.opened),
            made=then(tin.made),
            expires=then(tin.expires),
            quantity=tin.quantity,
            place=tin.place,
            storage=tin.storage,
            frozen_once=tin.frozen_once,
            ph=tin.ph,
            note=tin.note,
        )
    )
    if tin.finished:
        return hoard.room.finish_lot(done.born[0]).step.name
    return done.step.name
