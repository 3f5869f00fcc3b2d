"""Gathers the record of the treatment of one volume from the stockroom."""

import base64
from io import BytesIO

from bindery_stock.bench.cautions import cautions, headline
from bindery_stock.bench.lot_telling import use_words
from bindery_stock.bench.telling import size_of, sort_of
from bindery_stock.clock import local_date
from bindery_stock.colour import draft_photo
from bindery_stock.errors import BinderyError, NotFound
from bindery_stock.records.treatment_record import (
    MaterialLine,
    PartLine,
    Picture,
    StepLine,
    TreatmentRecord,
)
from bindery_stock.stock import (
    AdhesiveLot,
    BookPart,
    BookPhoto,
    LotUse,
    Piece,
    Repair,
    Stage,
    Stockroom,
    Treatment,
)
from bindery_stock.trade import NOT_A_TEST, Damage, Level, Survey
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


def treatment_record(stockroom: Stockroom, code: str, lengths: LengthStyle) -> TreatmentRecord:
    """The record of the volume with this code as it stands. Raises ``NotFound``."""
    repair = stockroom.repair(code)
    parts = stockroom.parts(volume=code)
    steps = stockroom.treatments(code)
    uses = [use for use in stockroom.lot_uses() if _is_for(use, repair, parts)]
    pieces = _pieces(stockroom, parts, steps)
    lots = _lots(stockroom, steps, uses)
    return TreatmentRecord(
        title=f"Treatment record: {repair.name}",
        made_on=written(stockroom.today),
        identity=_identity(stockroom, repair),
        measures=_measures(repair.survey, lengths),
        condition=repair.condition,
        damage=tuple(damage_words(one, lengths) for one in repair.survey.damage),
        before=_pictures(stockroom, repair, Stage.BEFORE),
        plan=tuple(_part_line(part, lengths) for part in parts),
        steps=tuple(_step_line(step, pieces, lots) for step in steps),
        materials=(
            *(_piece_line(stockroom, piece, lengths) for piece in pieces.values()),
            *(_lot_line(stockroom, lot, uses, steps) for lot in lots.values()),
        ),
        cautions=_cautions(stockroom, [*pieces.values(), *lots.values()]),
        hours=_hours(repair),
        during=_pictures(stockroom, repair, Stage.DURING),
        after=_pictures(stockroom, repair, Stage.AFTER),
        note=repair.note,
    )


def _is_for(use: LotUse, repair: Repair, parts: list[BookPart]) -> bool:
    """Whether something was taken from a lot for this volume.

    The purpose names the volume at its end; ``vol. 1`` is not taken for ``vol. 11``.
    """
    return use.purpose.endswith(f", {repair.name}") or any(use.purpose == p.purpose for p in parts)


def _identity(stockroom: Stockroom, repair: Repair) -> tuple[tuple[str, str], ...]:
    of_set = ""
    if repair.book_set is not None:
        book_set = stockroom.book_set(repair.book_set)
        volume = f", volume {repair.volume}" if repair.volume is not None else ""
        of_set = f"{book_set.title}{volume}"
    return (
        ("Title", repair.title),
        ("Author", repair.author),
        ("Set", of_set),
        ("Owner", repair.owner),
        ("Record number", repair.code),
        ("Cloth", repair.pattern),
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
        image = draft_photo(stockroom.photo_path(shown.photo.sha256), _LONGEST_PX).image
    except BinderyError as error:
        return Picture(caption=f"{caption}. {error}", data="", width=3, height=2)
    out = BytesIO()
    image.convert("RGB").save(out, "JPEG", quality=_QUALITY)
    encoded = base64.b64encode(out.getvalue()).decode("ascii")
    return Picture(
        caption=caption,
        data=f"data:image/jpeg;base64,{encoded}",
        width=image.width,
        height=image.height,
    )


def _part_line(part: BookPart, lengths: LengthStyle) -> PartLine:
    sorts = dict.fromkeys(zone[0] for zone in part.zones)
    return PartLine(
        name=part.words,
        size=lengths.pair(part.width, part.height),
        material=part.material or part.kind.value,
        piece=part.piece,
        where=" and ".join(sorts),
        colour="" if part.delta_e is None else f"ΔE00 {part.delta_e:.1f}",
        state=part.state.value,
    )


def _step_line(step: Treatment, pieces: dict[str, Piece], lots: dict[str, AdhesiveLot]) -> StepLine:
    used = []
    if step.piece:
        used.append(f"{step.piece}, {sort_of(pieces[step.piece])}")
    if step.lot:
        amount = f", {step.amount}" if step.amount else ""
        used.append(f"{step.lot}, {lots[step.lot].name}{amount}")
    return StepLine(
        day=written(local_date(step.at)),
        what=step.what,
        material="; ".join(used),
        undo=step.undo,
        hours=f"{step.hours:g}" if step.hours else "",
    )


def _pieces(
    stockroom: Stockroom, parts: list[BookPart], steps: list[Treatment]
) -> dict[str, Piece]:
    """Every piece that a part was cut from, is reserved in, or a step names."""
    codes = [part.piece for part in parts] + [step.piece or "" for step in steps]
    return {code: stockroom.piece(code) for code in dict.fromkeys(codes) if code}


def _lots(
    stockroom: Stockroom, steps: list[Treatment], uses: list[LotUse]
) -> dict[str, AdhesiveLot]:
    codes = [step.lot or "" for step in steps] + [use.code for use in uses]
    return {code: stockroom.adhesive(code) for code in dict.fromkeys(codes) if code}


def _piece_line(stockroom: Stockroom, piece: Piece, lengths: LengthStyle) -> MaterialLine:
    origin = ", ".join(part for part in (piece.source, piece.source_date) if part)
    root = _root(stockroom, piece)
    cut = f"; cut from {root}" if root else ""
    tests = [f"{one.name}: {one.words}" for one in piece.properties]
    tests += [result.words for result in piece.lab_results]
    return MaterialLine(
        code=piece.code,
        what=f"{sort_of(piece)}, {size_of(piece, lengths)}",
        origin=f"{origin or 'origin not noted'}{cut}",
        verdict="; ".join(tests) or "not tested",
        override="",
    )


def _root(stockroom: Stockroom, piece: Piece) -> str:
    try:
        line = stockroom.ancestors(piece.code)
    except NotFound:
        return ""
    return line[-1].code if line else ""


def _lot_line(
    stockroom: Stockroom, lot: AdhesiveLot, uses: list[LotUse], steps: list[Treatment]
) -> MaterialLine:
    kind = stockroom.rules.adhesives.get(lot.kind)
    dates = (
        ("bought", lot.bought), ("received", lot.received), ("opened", lot.opened),
        ("made", lot.made), ("supplier's date", lot.expires),
    )  # fmt: skip
    origin = [part for part in (lot.supplier, lot.reference) if part]
    origin += [f"{words} {written(day)}" for words, day in dates if day is not None]
    if lot.mixed_from:
        origin.append("mixed from " + ", ".join(f"{p.code} {p.name}" for p in lot.mixed_from))
    of_lot = [use for use in uses if use.code == lot.code]
    overrides = [use.override_reason for use in of_lot if use.override_reason]
    overrides += [step.override for step in steps if step.lot == lot.code and step.override]
    return MaterialLine(
        code=lot.code,
        what=f"{lot.name} ({kind.name if kind else lot.kind})",
        origin=", ".join(origin) or "not noted",
        verdict="; ".join(use_words(use).split("\n")[0] for use in of_lot)
        or "no verdict was written with its use",
        override="; ".join(dict.fromkeys(overrides)),
    )


def _cautions(stockroom: Stockroom, items: list[Piece | AdhesiveLot]) -> tuple[str, ...]:
    told = [
        f"{item.code}: {headline(one)}. {one.caution} Raised by {one.reason}."
        for item in items
        for one in cautions(item, stockroom.rules)
        if one.level is not Level.INFO
    ]
    return (*told, NOT_A_TEST) if told else ()


def _hours(repair: Repair) -> str:
    spent = f"Hours spent: {repair.hours_spent:g}."
    if repair.hours_estimated is not None:
        return f"{spent} Estimated: {repair.hours_estimated:g}."
    return spent
