"""What happens to the hoard, done by deeds."""

from functools import singledispatch

from shapely import Polygon, get_parts
from shapely.geometry.base import BaseGeometry

from bindery_stock.bench.adhesives.correct_lot import finish
from bindery_stock.bench.adhesives.enter_lot import enter_lot, mix
from bindery_stock.bench.adhesives.record_test import add_lab_result, record_test
from bindery_stock.bench.adhesives.use import use_some
from bindery_stock.bench.adhesives.wants import set_reorder_point, want
from bindery_stock.bench.books.part_list import as_matched
from bindery_stock.bench.ledger.undo import undo
from bindery_stock.bench.match.cut import cut, cut_part
from bindery_stock.bench.match.reserve import reserve
from bindery_stock.bench.match.reserve_part import reserve_part
from bindery_stock.bench.shelf.correct import correct
from bindery_stock.bench.shelf.discard import discard
from bindery_stock.bench.shelf.move import move
from bindery_stock.shape import Outline, Placement, best_place, slivers
from bindery_stock.shape import cut as left_of
from bindery_stock.stock import (
    BookPart,
    Cutting,
    NewAdhesiveLot,
    NewWanted,
    PlannedPlacement,
    StockPiece,
)
from bindery_stock.trade import LabResult, Property
from sample_db.at_work import Bench
from sample_db.hoard import (
    Close,
    Correct,
    Cut,
    Discard,
    Finish,
    Happening,
    Keep,
    Laboratory,
    Move,
    Reserve,
    Shoot,
    Take,
    Test,
    Tin,
    Want,
    Work,
)
from sample_db.on_the_bench import part_for
from sample_db.treating import closed, photographed, worked

MARGIN = 1.0
"""Least distance of a cut from edge and flaw, mm."""
RIM = 6.0
"""Rims narrower than this beside a cut are trimmed off, mm."""
LEAST_RIM = 2.0
"""Trimmings below this area are dust, mm²."""
SLIVER = 12.0
"""Offcuts nowhere this wide are thrown away, mm."""


def entered(bench: Bench, tin: Tin) -> str:
    """Enter a tin; gives the name of the step."""
    lot = NewAdhesiveLot(
        kind=tin.kind,
        name=tin.name,
        supplier=tin.supplier,
        bought=bench.ago(tin.bought),
        opened=bench.ago(tin.opened),
        made=bench.ago(tin.made),
        expires=bench.ago(tin.expires),
        made_from=tuple(bench.codes[key] for key in tin.made_from),
        quantity=tin.quantity,
        unit=tin.unit,
        held=tin.held,
        left=tin.left,
        place=tin.place,
        storage=tin.storage,
        frozen_once=tin.frozen_once,
        ph=tin.ph,
        note=tin.note,
    )
    done_so = mix(bench.room, lot=lot) if lot.made_from else enter_lot(bench.room, lot=lot)
    bench.codes[tin.key] = done_so.born[0]
    return done_so.step.name


def done(bench: Bench, happening: Happening) -> str:
    """Do one thing; gives the name of the step it made."""
    return _done(happening, bench)


@singledispatch
def _done(happening: object, _bench: Bench) -> str:
    raise TypeError(f"{happening!r} is nothing that can happen to a hoard.")


@_done.register
def _(happening: Cut, bench: Bench) -> str:
    piece = bench.room.pieces.get(bench.codes[happening.key])
    part = part_for(bench, happening.purpose)
    found = _placed(piece, happening, part)
    kept, thin = slivers(left_of(piece.outline, found), SLIVER)
    kept, rims = _trimmed(kept)
    cutting = Cutting(
        code=piece.code,
        purpose=happening.purpose,
        width=found.width,
        height=found.height,
        corners=found.corners,
        offcuts=tuple(kept),
        discarded=(*thin, *rims),
    )
    if part is None:
        changes = cut(bench.room, cutting=cutting)
    else:
        changes = cut_part(bench.room, part=part.id, cutting=cutting)
    if happening.taken_back:
        return undo(bench.room).step.name
    for n, code in enumerate(changes.born, start=1):
        bench.codes[f"{happening.key}/{n}"] = code
    return changes.step.name


def _trimmed(offcuts: list[Outline]) -> tuple[list[Outline], list[Outline]]:
    """The offcuts with the narrow rims left beside a cut trimmed away, and the rims."""
    kept: list[Outline] = []
    rims: list[Outline] = []
    for offcut in offcuts:
        inner = offcut.polygon.buffer(-RIM / 2, join_style="mitre")
        sound = inner.buffer(RIM / 2, join_style="mitre").intersection(offcut.polygon)
        kept += _outlines(sound, LEAST_RIM)
        rims += _outlines(offcut.polygon.difference(sound), LEAST_RIM)
    return kept, rims


def _outlines(shape: BaseGeometry, least: float) -> list[Outline]:
    """The polygons of a shape above an area in mm², largest first."""
    polygons = [p for p in get_parts(shape) if isinstance(p, Polygon) and p.area > least]
    return [Outline.from_polygon(p) for p in sorted(polygons, key=lambda p: -p.area)]


@_done.register
def _(happening: Reserve, bench: Bench) -> str:
    code = bench.codes[happening.key]
    piece = bench.room.pieces.get(code)
    part = part_for(bench, happening.purpose)
    found = _placed(piece, happening, part)
    if part is not None:
        placement = PlannedPlacement(part=part.id, code=code, corners=found.corners)
        return reserve_part(bench.room, placement=placement).step.name
    changes = reserve(
        bench.room,
        piece=code,
        purpose=happening.purpose,
        width=happening.width,
        height=happening.height,
        corners=found.corners,
    )
    return changes.step.name


def _placed(piece: StockPiece, wanted: Cut | Reserve, part: BookPart | None) -> Placement:
    """Where it is cut; a part of a surveyed volume in the size its survey gives."""
    asked = wanted if part is None else part
    size = (asked.width, asked.height)
    zones = () if part is None else as_matched(part).zones
    found = best_place(piece.outline, *size, margin=MARGIN, flaws=piece.flaws, zones=zones)
    if found is None:
        raise ValueError(f"{wanted.purpose} does not fit in {wanted.key}. Choose another piece.")
    return found


@_done.register
def _(happening: Discard, bench: Bench) -> str:
    code = bench.codes[happening.key]
    return discard(bench.room, piece=code, why=happening.reason).step.name


@_done.register
def _(happening: Move, bench: Bench) -> str:
    codes = [bench.codes[key] for key in happening.keys]
    return move(bench.room, pieces=codes, place=happening.place).step.name


@_done.register
def _(happening: Correct, bench: Bench) -> str:
    changed = {happening.field: happening.value}
    return correct(bench.room, piece=bench.codes[happening.key], fields=changed).step.name


@_done.register
def _(happening: Test, bench: Bench) -> str:
    found = Property(
        name=happening.name,
        value=happening.value,
        evidence=happening.evidence,
        on=bench.ago(happening.ago),
        method=happening.method,
        by=happening.by,
    )
    return record_test(bench.room, code=bench.codes[happening.key], found=found).step.name


@_done.register
def _(happening: Laboratory, bench: Bench) -> str:
    found = LabResult(
        substance=happening.substance,
        found=happening.found,
        on=bench.ago(happening.ago),
        laboratory=happening.laboratory,
        method=happening.method,
    )
    return add_lab_result(bench.room, code=bench.codes[happening.key], found=found).step.name


@_done.register
def _(happening: Take, bench: Bench) -> str:
    changes = use_some(
        bench.room,
        lot=bench.codes[happening.key],
        use=happening.use,
        purpose=happening.purpose,
        amount=happening.amount,
        reason=happening.reason,
    )
    return changes.step.name


@_done.register
def _(happening: Finish, bench: Bench) -> str:
    return finish(bench.room, lot=bench.codes[happening.key], why=happening.why).step.name


@_done.register
def _(happening: Want, bench: Bench) -> str:
    new = NewWanted(
        what=happening.what,
        purpose=happening.purpose,
        width=happening.width,
        height=happening.height,
        lab=happening.lab,
        note=happening.note,
    )
    return want(bench.room, new=new).step.name


@_done.register
def _(happening: Keep, bench: Bench) -> str:
    return set_reorder_point(
        bench.room, kind=happening.kind, least=happening.least, unit=happening.unit
    ).step.name


@_done.register
def _(happening: Shoot, bench: Bench) -> str:
    return photographed(bench, happening)


@_done.register
def _(happening: Work, bench: Bench) -> str:
    return worked(bench, happening)


@_done.register
def _(happening: Close, bench: Bench) -> str:
    return closed(bench, happening)
