"""Gathers the facts for the proposal and the treatment record of one volume."""

import base64
from datetime import date
from io import BytesIO

from bindery_stock.bench.adhesives.snapshot import AdhesivesView
from bindery_stock.bench.adhesives.snapshot import snapshot as read_adhesives
from bindery_stock.bench.books.snapshot import BooksView
from bindery_stock.bench.books.snapshot import snapshot as read_books
from bindery_stock.bench.colour_room.archive_photos import archived_draft
from bindery_stock.bench.exchange.record_care import (
    choice_lines,
    consent,
    estimate,
    option_lines,
    recommendation,
)
from bindery_stock.bench.exchange.record_copy import (
    binding,
    damage_lines,
    examined,
    identity,
    measures,
)
from bindery_stock.bench.exchange.record_materials import (
    lot_line,
    lots_used,
    piece_line,
    pieces_used,
)
from bindery_stock.bench.exchange.record_parts import figure, part_line
from bindery_stock.bench.gate import covering_of
from bindery_stock.bench.shelf.cautions import cautions, headline
from bindery_stock.bench.shelf.piece_words import sort_of
from bindery_stock.clock import local_date
from bindery_stock.errors import BinderyError
from bindery_stock.records.volume_facts import (
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
from bindery_stock.trade import NOT_A_TEST, Level, hazards
from bindery_stock.trade.day_counts import written
from bindery_stock.units import LengthStyle

_LONGEST_PX = 900
_QUALITY = 85


def treatment_record(
    stockroom: Stockroom,
    code: str,
    lengths: LengthStyle,
    *,
    books: BooksView | None = None,
    adhesives: AdhesivesView | None = None,
) -> TreatmentRecord:
    """The facts of the volume with this code as it stands, for both of its papers.

    Raises ``NotFound``.

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
        name=repair.name,
        made_on=written(stockroom.today),
        identity=identity(books, repair),
        binding=binding(repair),
        examined=examined(repair),
        measures=measures(repair.survey, lengths),
        condition=repair.condition,
        damage=damage_lines(repair, lengths),
        before=_pictures(stockroom, repair, Stage.BEFORE),
        aims=repair.care.aims,
        options=option_lines(repair.care, lengths),
        recommendation=recommendation(repair.care),
        chosen=choice_lines(repair.care),
        risks=repair.care.risks,
        aftercare=repair.care.aftercare,
        consent=consent(repair.care),
        estimate=estimate(repair, parts, lines, stockroom.rules, lengths),
        plan=tuple(part_line(part, pieces, lengths) for part in parts),
        steps=tuple(_step_line(step, pieces, lots, lengths) for step in steps),
        materials=(
            *(piece_line(stockroom, line, parts, lengths) for line in lines.values()),
            *(lot_line(stockroom, repair, lot, uses, steps) for lot in lots.values()),
        ),
        cautions=told,
        covering_cautions=_cautions(stockroom, repair, []),
        deferring=NOT_A_TEST if told else "",
        hours=_hours_spent(repair, lengths),
        during=_pictures(stockroom, repair, Stage.DURING),
        after=_pictures(stockroom, repair, Stage.AFTER),
        note=repair.note,
        # What was taken from a lot against a rule is told with the lot, among the materials.
        rulings=tuple(
            _ruling_line(one)
            for one in stockroom.rulings.listed(volume=code)
            if (one.lot, one.reason) not in with_lots and _bears(one, lines, lots)
        ),
    )


def _bears(
    kept: KeptRuling, lines: dict[str, list[StockPiece]], lots: dict[str, AdhesiveLot]
) -> bool:
    """Whether a ruling is about what was used; cloth kept once and given up again was not."""
    used = {piece.code for line in lines.values() for piece in line}
    return (kept.piece is None or kept.piece in used) and (kept.lot is None or kept.lot in lots)


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
        hours=figure(step.hours, lengths) if step.hours else "",
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


def _hours_spent(repair: Repair, lengths: LengthStyle) -> str:
    spent = f"Hours spent: {figure(repair.hours_spent, lengths)}."
    if repair.hours_estimated is not None:
        return f"{spent} Estimated: {figure(repair.hours_estimated, lengths)}."
    return spent
