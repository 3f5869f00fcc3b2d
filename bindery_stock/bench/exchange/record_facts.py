"""Gathers the record of the treatment of one volume from the stockroom."""

import base64
import math
from dataclasses import replace
from datetime import date
from io import BytesIO

from bindery_stock.bench.adhesives.snapshot import AdhesivesView
from bindery_stock.bench.adhesives.snapshot import snapshot as read_adhesives
from bindery_stock.bench.books.snapshot import BooksView
from bindery_stock.bench.books.snapshot import snapshot as read_books
from bindery_stock.bench.colour_room.archive_photos import archived_draft
from bindery_stock.bench.exchange.record_materials import (
    lot_line,
    lots_used,
    piece_line,
    pieces_used,
)
from bindery_stock.bench.gate import covering_of
from bindery_stock.bench.match.shade_words import shade_words
from bindery_stock.bench.shelf.cautions import cautions, headline
from bindery_stock.bench.shelf.piece_words import sort_of
from bindery_stock.clock import local_date
from bindery_stock.colour import ReadBy, delta_e00, difference_band
from bindery_stock.errors import BinderyError
from bindery_stock.records.treatment_record import (
    PartLine,
    Picture,
    RulingLine,
    StepLine,
    TreatmentRecord,
)
from bindery_stock.stock import (
    AdhesiveLot,
    BookPart,
    BookPhoto,
    KeptRuling,
    LotUse,
    Repair,
    Stage,
    StockPiece,
    Stockroom,
    Treatment,
)
from bindery_stock.trade import NOT_A_TEST, Damage, Level, Survey, hazards
from bindery_stock.trade.day_counts import written
from bindery_stock.units import LengthStyle

_LONGEST_PX = 900
_QUALITY = 85
_MEASURES = (
    ("spine_width", "spine across"),
    ("arc", "round the back"),
    ("rise", "rise of the back"),
    ("joint", "joint"),
    ("board_height", "boards high"),
    ("board_width", "boards wide"),
    ("board_thickness", "boards thick"),
    ("leaf_height", "leaves high"),
    ("leaf_width", "leaves wide"),
)
_TURNS = {0.0: "upright", 90.0: "a quarter turned", 180.0: "upside down"}


def treatment_record(
    stockroom: Stockroom,
    code: str,
    lengths: LengthStyle,
    *,
    books: BooksView | None = None,
    adhesives: AdhesivesView | None = None,
) -> TreatmentRecord:
    """The record of the volume with this code as it stands. Raises ``NotFound``.

    ``books`` and ``adhesives`` are read where they have not been already.
    """
    books = books or read_books(stockroom)
    repair, parts = books.repair(code), list(books.parts(code))
    # As the work went on: what was noted late stands where it was done, of one day as entered.
    steps = sorted(stockroom.books.treatments(code), key=_day_of)
    uses = [use for use in stockroom.lots.uses() if _is_for(use, repair, parts)]
    lines = pieces_used(stockroom, parts, steps)
    pieces = {code: line[0] for code, line in lines.items()}
    every_lot = (adhesives or read_adhesives(stockroom)).every_lot
    lots = lots_used(every_lot, steps, uses)
    with_lots = {(use.code, use.override_reason) for use in uses if use.override_reason}
    told = _cautions(stockroom, repair, [*pieces.values(), *lots.values()])
    return TreatmentRecord(
        title=f"Treatment record: {repair.name}",
        made_on=written(stockroom.today),
        identity=_identity(books, repair),
        measures=_measures(repair.survey, lengths),
        condition=repair.condition,
        damage=tuple(damage_words(one, lengths) for one in repair.survey.damage),
        before=_pictures(stockroom, repair, Stage.BEFORE),
        plan=tuple(_part_line(part, pieces, lengths) for part in parts),
        steps=tuple(_step_line(step, pieces, lots, lengths) for step in steps),
        materials=(
            *(piece_line(stockroom, line, parts, lengths) for line in lines.values()),
            *(lot_line(stockroom, repair, lot, uses, steps) for lot in lots.values()),
        ),
        cautions=told,
        deferring=NOT_A_TEST if told else "",
        hours=_hours(repair, lengths),
        during=_pictures(stockroom, repair, Stage.DURING),
        after=_pictures(stockroom, repair, Stage.AFTER),
        note=repair.note,
        # What was taken from a lot against a rule is told with the lot, among the materials.
        rulings=tuple(
            _ruling_line(one)
            for one in stockroom.rulings.listed(volume=code)
            if (one.lot, one.reason) not in with_lots
        ),
    )


def _ruling_line(kept: KeptRuling) -> RulingLine:
    """A ruling that was gone on against; of what had happened before, the day it was written."""
    about = " with ".join(code for code in (kept.piece, kept.lot) if code)
    return RulingLine(
        day=written(local_date(kept.at)),
        what=", ".join(words for words in (kept.deed.replace("_", " "), about) if words),
        ruling=kept.words,
        reason=kept.reason,
    )


def _is_for(use: LotUse, repair: Repair, parts: list[BookPart]) -> bool:
    """Whether something was taken from a lot for this volume.

    The purpose names the volume at its end; ``vol. 1`` is not taken for ``vol. 11``.
    """
    return use.purpose.endswith(f", {repair.name}") or any(use.purpose == p.purpose for p in parts)


def _identity(books: BooksView, repair: Repair) -> tuple[tuple[str, str], ...]:
    of_set = ""
    book_set = books.book_set(repair.book_set)
    if book_set is not None:
        volume = f", volume {repair.volume}" if repair.volume is not None else ""
        of_set = f"{book_set.title}{volume}"
    return (
        ("Title", repair.title),
        ("Author", repair.author),
        ("Set", of_set),
        ("Owner", repair.owner),
        ("Record number", repair.code),
        ("Cloth", " ".join(words for words in (repair.colour_family, repair.pattern) if words)),
        ("Bound", repair.dated),
        ("Laboratory", "; ".join(result.words for result in repair.lab_results)),
        ("Came to the bench", written(local_date(repair.begun))),
        ("State", repair.state.value),
    )


def _measures(survey: Survey, lengths: LengthStyle) -> str:
    told = [
        f"{words} {lengths.show(value)}"
        for name, words in _MEASURES
        if (value := getattr(survey, name))
    ]
    return f"Measured: {', '.join(told)}." if told else ""


def damage_words(damage: Damage, lengths: LengthStyle) -> str:
    """``bare corners, at 4 places, 12 mm``."""
    told = [damage.harm.value]
    if damage.count > 1:
        told.append(f"at {damage.count} places")
    if damage.extent is not None and damage.across is not None:
        told.append(lengths.pair(damage.across, damage.extent))
    elif damage.extent is not None:
        told.append(lengths.show(damage.extent))
    return ", ".join(told)


def _pictures(stockroom: Stockroom, repair: Repair, stage: Stage) -> tuple[Picture, ...]:
    return tuple(_picture(stockroom, one) for one in repair.photos if one.stage is stage)


def _picture(stockroom: Stockroom, shown: BookPhoto) -> Picture:
    """A small copy in sRGB without what a camera writes beside the picture, such as the place.

    Where the original cannot be read, the caption says so: a record does not fail for one picture.
    """
    caption = f"{str(shown.shows).capitalize()}, {shown.stage} treatment"
    try:
        image = archived_draft(stockroom, shown.photo, _LONGEST_PX).image
    except BinderyError as error:
        return Picture(caption=f"{caption}. {error}", data="", width=3, height=2)
    out = BytesIO()
    plain = image.convert("RGB")
    plain.info.clear()  # Pillow would write a comment found there beside the picture again
    plain.save(out, "JPEG", quality=_QUALITY)
    encoded = base64.b64encode(out.getvalue()).decode("ascii")
    return Picture(
        caption=caption,
        data=f"data:image/jpeg;base64,{encoded}",
        width=image.width,
        height=image.height,
    )


def _part_line(part: BookPart, pieces: dict[str, StockPiece], lengths: LengthStyle) -> PartLine:
    sorts = dict.fromkeys(zone[0] for zone in part.zones)
    return PartLine(
        name=part.words,
        size=lengths.pair(part.width, part.height),
        material=part.material or part.kind.value,
        piece=_laid(part, pieces[part.piece], lengths) if part.piece else "",
        where=" and ".join(sorts),
        colour=_shade(part, pieces.get(part.piece)).replace(".", lengths.point),
        state=part.state.value,
    )


def _shade(part: BookPart, piece: StockPiece | None) -> str:
    """``ΔE00 2.1 ± 6.4 under the part``, as it was kept, or that one of the two was seen alone."""
    faces = piece.colours if piece else ()
    measured = [face for face in faces if face.read_by.is_measured]
    if part.lab is not None and faces and not (part.read_by.is_measured and measured):
        return str(ReadBy.SEEN)
    shade = part.shade
    if shade is None:
        return ""
    if shade.u is None and part.lab is not None and measured:  # as earlier versions kept it
        away = delta_e00(part.lab, [face.lab for face in measured])
        nearest = measured[int(away.argmin())]
        shade = replace(shade, u=difference_band(part.u or 0.0, nearest.u))
    return shade_words(shade)


def _laid(part: BookPart, piece: StockPiece, lengths: LengthStyle) -> str:
    """``C-0001, upright``, and below it how far from the piece's left edge and its foot."""
    if not part.corners:
        return part.piece
    (x0, y0), (x1, y1) = part.corners[:2]
    turn = round(math.degrees(math.atan2(y1 - y0, x1 - x0)), 1) % 360
    words = _TURNS.get(turn, f"turned by {_figure(turn, lengths)}°")
    left, foot = piece.outline.polygon.bounds[:2]
    across = min(x for x, _ in part.corners) - left
    along = min(y for _, y in part.corners) - foot
    return (
        f"{part.piece}, {words}\n{lengths.show(across, 0)} from its left\n"
        f"{lengths.show(along, 0)} from its foot"
    )


def _day_of(step: Treatment) -> date:
    """The day it was done: as the binder says, else the day it was noted."""
    return step.on or local_date(step.at)


def _step_line(
    step: Treatment,
    pieces: dict[str, StockPiece],
    lots: dict[str, AdhesiveLot],
    lengths: LengthStyle,
) -> StepLine:
    used = []
    if step.piece:
        used.append(f"{step.piece}, {sort_of(pieces[step.piece])}")
    if step.lot:
        amount = f", {step.amount}" if step.amount else ""
        used.append(f"{step.lot}, {lots[step.lot].name}{amount}")
    if step.wet:
        used.append("worked wet")
    return StepLine(
        day=written(_day_of(step)),
        what=step.what,
        material="; ".join(used),
        undo=step.undo,
        hours=_figure(step.hours, lengths) if step.hours else "",
    )


def _cautions(
    stockroom: Stockroom, repair: Repair, items: list[StockPiece | AdhesiveLot]
) -> tuple[str, ...]:
    """Of the book's own covering first, then of what went into it."""
    raised = [(repair.name, one) for one in hazards(covering_of(repair), rules=stockroom.rules)]
    raised += [(item.code, one) for item in items for one in cautions(item, stockroom.rules)]
    return tuple(
        f"{name}: {headline(one)}. {one.caution} Raised by {one.reason}."
        for name, one in raised
        if one.level is not Level.INFO
    )


def _hours(repair: Repair, lengths: LengthStyle) -> str:
    spent = f"Hours spent: {_figure(repair.hours_spent, lengths)}."
    if repair.hours_estimated is not None:
        return f"{spent} Estimated: {_figure(repair.hours_estimated, lengths)}."
    return spent


def _figure(value: float, lengths: LengthStyle) -> str:
    """A number with the decimal sign of the lengths beside it."""
    return f"{value:g}".replace(".", lengths.point)
