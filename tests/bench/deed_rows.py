"""How each deed is called on the small stocked room: one row a deed, arguments by codes."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from importlib import import_module
from pkgutil import walk_packages
from typing import Any

from PIL import Image

from bindery_stock import bench
from bindery_stock.bench.colour_room.side_by_side import Pair, compare
from bindery_stock.bench.deed import DEEDS
from bindery_stock.bench.exchange.import_table import Subject, Trial
from bindery_stock.bench.match.line_up_photo import LineUpPhoto, LineUpScrap
from bindery_stock.bench.match.line_up_reading import read_scraps
from bindery_stock.bench.photo_table.marks import Facts, KnownLength, Marks, TypedColour
from bindery_stock.stock import (
    Changes,
    Cutting,
    Measure,
    NewAdhesiveLot,
    NewBookSet,
    NewPiece,
    NewRepair,
    NewTreatment,
    NewWanted,
    RepairState,
    Stockroom,
)
from bindery_stock.trade import Evidence, LabResult, Property, Use
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.care import NOTHING_AGREED, CareOption, CarePlan, TreatmentChoice
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.description import Description
from bindery_stock.trade.found_damage import found_places
from bindery_stock.trade.vocabulary import Kind
from tests.bench.small_stock import RED, SURVEY, SmallStock, cutting_of, laid, rectangle, ring
from tests.desktop.charts import CLOTH_AT, GREY_AT, OTHER_AT, photograph_target

for module in walk_packages(bench.__path__, f"{bench.__name__}."):
    import_module(module.name)  # each enters its deeds

Row = Callable[[SmallStock, Callable[..., Changes]], Changes]
ROWS: dict[str, Row] = {}


def row(function: Row) -> Row:
    """Enter the row of the deed of this name."""
    ROWS[function.__name__] = function
    return function


def do(name: str, stock: SmallStock) -> Changes:
    """Do the deed of this name as its row says."""
    return ROWS[name](stock, DEEDS[name].do)


Deed = Callable[..., Any]


# Pieces


@row
def shelve(stock: SmallStock, deed: Deed) -> Changes:
    file = stock.scratch / "scrap.png"
    Image.new("RGB", (400, 400), (120, 40, 40)).save(file)
    marks = Marks(
        scale=KnownLength(((0.0, 0.0), (100.0, 0.0)), 50.0),
        outline=ring(50.0, 50.0, 350.0, 350.0),
        typed=(TypedColour(lab=RED, u=1.0, method="typed"),),
    )
    return deed(
        stock.room,
        source=file,
        name="scrap.png",
        size=(400, 400),
        marks=marks,
        facts=Facts(place="tin 3"),
        readings={},
    )


@row
def shelve_ready(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, piece=NewPiece(kind=Kind.MULL, outline=rectangle(0, 0, 90, 60)))


@row
def correct(stock: SmallStock, deed: Deed) -> Changes:
    fields = {"note": "rubbed", "source": "a broken case"}
    return deed(stock.room, piece=stock.codes["clean"], fields=fields)


@row
def move(stock: SmallStock, deed: Deed) -> Changes:
    pieces = [stock.codes["clean"], stock.codes["green"]]
    return deed(stock.room, pieces=pieces, place="plan chest")


@row
def discard(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, piece=stock.codes["clean"], why="lost")


@row
def cut_length(stock: SmallStock, deed: Deed, *, piece: str = "clean", reason: str = "") -> Changes:
    code = stock.codes[piece]
    return deed(stock.room, piece=code, length=100.0, purpose="linings", keep=True, reason=reason)


# Match


@row
def reserve(stock: SmallStock, deed: Deed, *, piece: str = "clean", reason: str = "") -> Changes:
    return deed(
        stock.room,
        piece=stock.codes[piece],
        purpose="a strip",
        width=50.0,
        height=230.0,
        corners=ring(10, 10, 60, 240),
        use=Use.CLOTH_TO_BOARD,
        reason=reason,
    )


@row
def release(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, piece=stock.codes["kept loose"], purpose="a label")


@row
def cut(stock: SmallStock, deed: Deed, *, piece: str = "clean", reason: str = "") -> Changes:
    cutting = Cutting(
        code=stock.codes[piece],
        purpose="a strip",
        width=50.0,
        height=230.0,
        corners=ring(10, 10, 60, 240),
        offcuts=(rectangle(60, 0, 200, 300),),
    )
    return deed(stock.room, cutting=cutting, use=Use.CLOTH_TO_BOARD, reason=reason)


@row
def cut_part(
    stock: SmallStock,
    deed: Deed,
    *,
    piece: str = "clean",
    part: str = "reback-inside 1",
    reason: str = "",
) -> Changes:
    cutting = cutting_of(stock.part(part), stock.codes[piece])
    return deed(stock.room, part=stock.parts[part], cutting=cutting, reason=reason)


@row
def reserve_part(
    stock: SmallStock,
    deed: Deed,
    *,
    piece: str = "clean",
    part: str = "reback-inside 1",
    reason: str = "",
) -> Changes:
    placement = laid(stock.part(part), stock.codes[piece])
    return deed(stock.room, placement=placement, reason=reason)


@row
def confirm(stock: SmallStock, deed: Deed) -> Changes:
    photo = photograph_target(stock.scratch / "both.png")
    pair = Pair(photo, "both.png", (560, 480), (CLOTH_AT,), (OTHER_AT,))
    return deed(
        stock.room,
        piece=stock.codes["clean"],
        pair=pair,
        comparison=compare(pair),
        purpose="vol. 1",
        light="overcast window",
    )


@row
def confirm_line_up(stock: SmallStock, deed: Deed) -> Changes:
    photo = photograph_target(stock.scratch / "line-up.png")
    scraps = tuple(
        LineUpScrap(ring=ring, code=code, is_book=not code)
        for ring, code in (
            (GREY_AT, ""),
            (CLOTH_AT, stock.codes["clean"]),
            (OTHER_AT, stock.codes["green"]),
        )
    )
    seen = LineUpPhoto(photo=photo, name="line-up.png", size=(560, 480), scraps=scraps)
    return deed(
        stock.room, seen=seen, answer=read_scraps(seen), purpose="vol. 1", light="overcast window"
    )


# Books


@row
def enter_set(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, new=NewBookSet(title="The Tithe of Wrens"))


@row
def correct_set(stock: SmallStock, deed: Deed) -> Changes:
    return deed(
        stock.room,
        book_set=stock.codes["set"],
        fields={"note": "six of eight", "owner": "the reading room"},
    )


@row
def survey(stock: SmallStock, deed: Deed) -> Changes:
    new = NewRepair(name="vol. 5", survey=SURVEY, book_set=stock.codes["set"])
    return deed(stock.room, new=new)


@row
def correct_survey(stock: SmallStock, deed: Deed) -> Changes:
    fields = {
        "survey": replace(SURVEY, joint=8.0),
        "owner": "the reading room",
        "description": Description(imprint="Wexcombe: Tarn & Daughter", sewing="on tapes"),
    }
    return deed(stock.room, volume=stock.codes["vol. 1"], fields=fields)


@row
def examine(stock: SmallStock, deed: Deed) -> Changes:
    left = CareOption(what="Leave it as it is and box it", hours=0.5)
    care = CarePlan(examiner="I. Fell", examined_on=date(2026, 3, 1), options=(left,))
    return deed(stock.room, volume=stock.codes["vol. 1"], care=care)


@row
def place_damage(stock: SmallStock, deed: Deed) -> Changes:
    loose = PlacedDamage(kind="block-loose", place=BookPlace.UPPER_HINGE, along=60.0)
    return deed(stock.room, volume=stock.codes["vol. 1"], damages=[loose])


@row
def choose_treatments(stock: SmallStock, deed: Deed) -> Changes:
    left = TreatmentChoice(treatment="leave", reason="Its owner would keep it as it is.")
    code = stock.codes["vol. 1"]
    found = found_places(stock.room.books.repair(code).survey, NOTHING_AGREED)
    return deed(stock.room, volume=code, choices=[left for _one in found])


@row
def copy_survey(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, volume=stock.codes["vol. 1"], names=["vol. 6", "vol. 7"])


@row
def move_volume(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, volume=stock.codes["vol. 1"], state=RepairState.ON_BENCH)


@row
def plan(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, volume=stock.codes["vol. 2"])


@row
def split_part(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, part=stock.parts["reback-inside 1"])


@row
def set_allowances(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, values={"underlap": 9.0}, book_set=stock.codes["set"])


@row
def measure_again(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, volume=stock.codes["vol. 1"], arc=41.0)


@row
def accept_plan(
    stock: SmallStock,
    deed: Deed,
    *,
    piece: str = "clean",
    part: str = "reback-inside 1",
    reason: str = "",
) -> Changes:
    placements = [
        laid(stock.part(part), stock.codes[piece]),
        laid(stock.part("corner-patch 4"), stock.codes["kept loose"], left=100.0),
    ]
    unserved = [stock.parts["inlay 1"]]
    return deed(stock.room, placements=placements, unserved=unserved, reason=reason)


@row
def release_parts(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, parts=[stock.parts["corner-patch 1"]])


@row
def leave_out(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, parts=[stock.parts["corner-patch 4"], stock.parts["inlay 1"]])


@row
def want_again(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, parts=[stock.parts["corner-patch 3"]])


@row
def want_cards(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, wants=[NewWanted(what="green rib"), NewWanted(what="brown calf")])


@row
def note_work(
    stock: SmallStock,
    deed: Deed,
    *,
    volume: str = "vol. 1",
    lot: str = "fresh",
    piece: str = "clean",
    on: date | None = None,
    reason: str = "",
) -> Changes:
    treatment = NewTreatment(
        what="laid the strip",
        hours=0.5,
        lot=stock.codes[lot],
        piece=stock.codes[piece],
        on=on,
        override=reason,
    )
    return deed(stock.room, volume=stock.codes[volume], treatment=treatment)


@row
def fit(
    stock: SmallStock,
    deed: Deed,
    *,
    part: str = "corner-patch 2",
    lot: str = "fresh",
    reason: str = "",
) -> Changes:
    treatment = NewTreatment(what="laid the patch", lot=stock.codes[lot], override=reason)
    return deed(stock.room, parts=[stock.parts[part]], treatment=treatment)


@row
def spend_hours(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, volume=stock.codes["vol. 1"], hours=1.5, on="lifting the cloth")


# Adhesives


@row
def enter_lot(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, lot=NewAdhesiveLot(kind="pva", name="a new tin"))


@row
def mix(stock: SmallStock, deed: Deed, *, lot: str = "fresh", reason: str = "") -> Changes:
    mixed = NewAdhesiveLot(
        kind="paste-pva",
        name="half and half",
        made=date(2026, 3, 2),
        made_from=(stock.codes[lot], stock.codes["sealed"]),
    )
    return deed(stock.room, lot=mixed, reason=reason)


@row
def correct_lot(stock: SmallStock, deed: Deed, *, lot: str = "fresh", reason: str = "") -> Changes:
    changed = {"made_from": (stock.codes[lot],), "note": "thinned"}
    return deed(stock.room, lot=stock.codes["sealed"], changed=changed, reason=reason)


@row
def unseal(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, lot=stock.codes["sealed"])


@row
def finish(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, lot=stock.codes["old"], why="turned")


@row
def use_some(
    stock: SmallStock,
    deed: Deed,
    *,
    lot: str = "fresh",
    piece: str = "clean",
    volume: str = "vol. 1",
    reason: str = "",
) -> Changes:
    return deed(
        stock.room,
        lot=stock.codes[lot],
        use=Use.CLOTH_TO_BOARD,
        purpose="a strip",
        amount=20.0,
        laid_on=stock.codes[piece],
        volume=stock.codes[volume],
        reason=reason,
    )


@row
def record_test(
    stock: SmallStock,
    deed: Deed,
    *,
    piece: str = "clean",
    on: date = date(2026, 3, 2),
    reason: str = "",
) -> Changes:
    found = Property(name="ph", value=7.8, evidence=Evidence.BENCH, on=on)
    return deed(stock.room, code=stock.codes[piece], found=found, reason=reason)


@row
def add_lab_result(stock: SmallStock, deed: Deed) -> Changes:
    found = LabResult(
        substance="arsenic",
        found=False,
        on=date(2026, 2, 20),
        laboratory="county laboratory",
        method="XRF",
    )
    return deed(stock.room, code=stock.codes["green"], found=found)


@row
def want(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, new=NewWanted(what="brown calf", width=60, height=240))


@row
def close_want(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, code=stock.codes["want"], outcome="found at a fair")


@row
def set_reorder_point(stock: SmallStock, deed: Deed) -> Changes:
    return deed(stock.room, kind="wheat-starch-paste", least=50.0, unit=Measure.GRAM)


# Exchange


@row
def take_in_table(stock: SmallStock, deed: Deed) -> Changes:
    mull = NewPiece(kind=Kind.MULL, outline=rectangle(0, 0, 300, 400))
    trial = Trial(Subject.PIECES, ((mull, ""), (mull, "M-0900")), (), (), 0, (), "", ())
    return deed(stock.room, trial=trial, source="an old list.csv")


@row
def merge(stock: SmallStock, deed: Deed) -> Changes:
    folder = stock.scratch / "theirs"
    made = not folder.exists()
    with (Stockroom.create if made else Stockroom.open)(folder) as other:
        if made:
            other.pieces.shelve(NewPiece(kind=Kind.MULL, outline=rectangle(0, 0, 300, 400)))
        return deed(stock.room, other=other, choices={})
