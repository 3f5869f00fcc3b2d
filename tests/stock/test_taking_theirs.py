"""Theirs taken in the place of ours: what describes a thing, and never against what was done."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from bindery_stock.errors import StockError
from bindery_stock.shape import Flaw, FlawKind, Outline
from bindery_stock.stock import (
    Changes,
    Colour,
    Cutting,
    Measure,
    NewAdhesiveLot,
    NewPiece,
    PieceState,
    Stockroom,
)
from bindery_stock.stock.exchange.comparison import Fate, MergeChoice, MergeItem
from bindery_stock.trade import Use
from bindery_stock.trade.vocabulary import Kind
from tests.records.busy import BenchClock, busy_stockroom, rectangle

LEATHER = ("piece", "L-0001")
CLOTH = ("piece", "C-0003")
TIN = ("adhesive_lot", "A-0002")
VOLUME = ("repair", "V-0001")


class Rooms:
    """One stockroom, and a copy of it that went its own way."""

    def __init__(self, ours: Stockroom, theirs: Stockroom) -> None:
        self.ours, self.theirs = ours, theirs

    def differing(self) -> dict[tuple[str, str], MergeItem]:
        plan = self.ours.exchange.plan_merge(self.theirs.exchange)
        return {(item.table, item.code): item for item in plan.of(Fate.DIFFERS)}

    def take(self, *keys: tuple[str, str]) -> Changes:
        chosen = dict.fromkeys(keys, MergeChoice.TAKE)
        changes = self.ours.exchange.merge(self.theirs.exchange, chosen)
        assert self.ours.keeping.check().faults == ()
        return changes


@pytest.fixture
def rooms(tmp_path: Path) -> Iterator[Rooms]:
    with busy_stockroom(tmp_path / "theirs", tmp_path / "scratch") as made:
        made.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=Outline(rectangle(0, 0, 100, 300))))
        made.lots.enter(
            NewAdhesiveLot(kind="pva", name="Tin", unit=Measure.GRAM, held=500.0, left=500.0)
        )
    shutil.copytree(tmp_path / "theirs", tmp_path / "ours")
    clock = BenchClock()
    clock.now = clock.now.replace(year=2027)
    with (
        Stockroom.open(tmp_path / "ours", clock=clock) as ours,
        Stockroom.open(tmp_path / "theirs", clock=clock) as theirs,
    ):
        assert ours.exchange.plan_merge(theirs.exchange).of(Fate.SAME)
        yield Rooms(ours, theirs)
        assert ours.keeping.check().faults == ()


def halved(code: str) -> Cutting:
    return Cutting(
        code=code, purpose="spine", width=50, height=300, corners=rectangle(0, 0, 50, 300),
        offcuts=(Outline(rectangle(50, 0, 100, 300)),),
    )  # fmt: skip


def test_what_describes_a_piece_is_taken_over_in_one_step_that_undo_takes_back(
    rooms: Rooms,
) -> None:
    rooms.theirs.pieces.correct(
        "L-0001",
        place="drawer 9",
        note="rubbed",
        flaws=(Flaw(FlawKind.HOLE, rectangle(40, 50, 50, 60)),),
        colours=(Colour(lab=(30.0, 12.0, 9.0)), Colour(lab=(31.0, 12.0, 9.0))),
    )
    before = rooms.ours.exchange.whole().tables
    item = rooms.differing()[LEATHER]
    assert item.ours_stays == ""
    assert "place: nothing here, drawer 9 there" in item.differences
    rooms.take(LEATHER)
    assert rooms.ours.ledger.steps(limit=1)[0].name == "Took in 1 thing from theirs"
    here, there = rooms.ours.pieces.get("L-0001"), rooms.theirs.pieces.get("L-0001")
    assert (here.place, here.note, here.flaws, here.colours) == (
        there.place, there.note, there.flaws, there.colours
    )  # fmt: skip
    assert rooms.differing() == {}
    rooms.ours.ledger.undo()
    after = rooms.ours.exchange.whole().tables
    assert {name: after[name] for name in ("piece", "colour_reading")} == {
        name: before[name] for name in ("piece", "colour_reading")
    }
    rooms.ours.ledger.redo()
    assert rooms.ours.pieces.get("L-0001").place == "drawer 9"


def test_what_hangs_on_both_alike_stays_in_its_row(rooms: Rooms) -> None:
    rows = rooms.ours.exchange.whole().tables["photo_mark"]
    rooms.theirs.pieces.move(["C-0002"], "tin B")
    rooms.take(("piece", "C-0002"))
    assert rooms.ours.exchange.whole().tables["photo_mark"] == rows
    assert rooms.ours.pieces.get("C-0002").reserved_for == "joint strip, vol. 2"


def test_a_piece_cut_up_there_is_taken_over_so_that_no_cloth_is_counted_twice(
    rooms: Rooms,
) -> None:
    (offcut,) = rooms.theirs.pieces.cut(halved("C-0003")).born
    item = rooms.differing()[CLOTH]
    assert "counted twice" in item.warning
    rooms.take(CLOTH)
    assert rooms.ours.pieces.get("C-0003").state is PieceState.CUT_UP
    assert rooms.ours.pieces.get("C-0003").fate == "spine"
    assert rooms.ours.pieces.get(offcut).parent == "C-0003"
    area = sum(piece.outline.area for piece in rooms.ours.pieces.listed())
    assert area == sum(piece.outline.area for piece in rooms.theirs.pieces.listed())
    rooms.ours.ledger.undo()
    assert rooms.ours.pieces.get("C-0003").state is PieceState.ON_SHELF


@pytest.mark.parametrize(
    ("deed", "why"),
    [
        ("reserved", "it is reserved here"),
        ("cut", "it was cut here"),
        ("discarded", "it is discarded here"),
        ("shortened", "something was cut from it here"),
    ],
)
def test_what_was_done_here_is_never_written_over(rooms: Rooms, deed: str, why: str) -> None:
    rooms.theirs.pieces.correct("C-0003", outline=Outline(rectangle(0, 0, 90, 300)))
    match deed:
        case "reserved":
            rooms.ours.pieces.reserve("C-0003", "spine, vol. 3", width=50, height=200)
        case "cut":
            rooms.ours.pieces.cut(halved("C-0003"))
        case "discarded":
            rooms.ours.pieces.discard("C-0003", "moth")
        case "shortened":
            rooms.ours.pieces.cut_length("C-0003", 100, "endpaper", shelve=True)
    before = rooms.ours.exchange.whole()
    item = rooms.differing()[CLOTH]
    assert item.ours_stays.startswith(why)
    with pytest.raises(StockError, match=f"C-0003: theirs cannot be taken instead, since {why}"):
        rooms.take(CLOTH)
    assert rooms.ours.exchange.whole() == before


def test_a_lot_used_further_there_is_taken_over_with_its_uses(rooms: Rooms) -> None:
    rooms.theirs.lots.use("A-0002", use=Use.SPINE_LINING, purpose="vol. 3", amount=100.0,
                         override_reason="tried")  # fmt: skip
    assert rooms.differing()[TIN].ours_stays == ""
    rooms.take(TIN)
    (lot,) = (lot for lot in rooms.ours.lots.listed() if lot.code == "A-0002")
    assert lot.left == 400.0
    assert [use.purpose for use in rooms.ours.lots.uses() if use.code == "A-0002"] == ["vol. 3"]


def test_a_lot_used_here_too_or_another_lot_of_that_code_stays(rooms: Rooms) -> None:
    rooms.ours.lots.use("A-0002", use=Use.SPINE_LINING, purpose="vol. 5", amount=50.0,
                       override_reason="tried")  # fmt: skip
    rooms.theirs.lots.use("A-0002", use=Use.SPINE_LINING, purpose="vol. 3", amount=100.0,
                         override_reason="tried")  # fmt: skip
    assert rooms.differing()[TIN].ours_stays.startswith("something was taken from it here")
    rooms.ours.lots.enter(NewAdhesiveLot(kind="pva", name="Ours"))
    rooms.theirs.lots.enter(NewAdhesiveLot(kind="wheat-starch-paste", name="Theirs"))
    assert rooms.differing()["adhesive_lot", "A-0003"].ours_stays == (
        "another thing has this code here"
    )


def test_facts_of_a_volume_are_taken_over_and_its_parts_stay(rooms: Rooms) -> None:
    parts = rooms.ours.books.parts()
    treatments = rooms.ours.books.treatments("V-0001")
    rooms.theirs.books.correct_repair("V-0001", note="the owner calls on Friday")
    rooms.take(("repair", "V-0001"))
    assert rooms.ours.books.repairs()[0].note == "the owner calls on Friday"
    assert rooms.ours.books.repairs()[0].name == rooms.theirs.books.repairs()[0].name
    assert rooms.ours.books.parts() == parts
    assert rooms.ours.books.treatments("V-0001") == treatments


def test_a_consent_noted_here_is_never_written_over(rooms: Rooms) -> None:
    care = rooms.ours.books.repair("V-0001").care
    rooms.ours.books.correct_repair("V-0001", care=replace(care, consent="E. Marsh, by letter"))
    rooms.theirs.books.correct_repair("V-0001", owner="the reading room")
    item = rooms.differing()[VOLUME]
    assert item.ours_stays.startswith("the owner's consent was noted here")
    with pytest.raises(StockError, match="consent was noted here"):
        rooms.take(VOLUME)


def test_examination_and_description_of_a_volume_are_taken_over(rooms: Rooms) -> None:
    theirs = rooms.theirs.books.repair("V-0001")
    rooms.theirs.books.correct_repair(
        "V-0001",
        care=replace(theirs.care, consent="E. Marsh, spoken"),
        description=replace(theirs.description, shelfmark="B 13"),
    )
    rooms.take(VOLUME)
    ours = rooms.ours.books.repair("V-0001")
    assert (ours.care.consent, ours.description.shelfmark) == ("E. Marsh, spoken", "B 13")
    assert ours.care.examiner == "I. Fell"
    rooms.ours.ledger.undo()
    assert rooms.ours.books.repair("V-0001").description.shelfmark == "B 12"


def test_a_choice_of_theirs_for_what_is_the_same_changes_nothing(rooms: Rooms) -> None:
    unchanged = rooms.take(LEATHER)
    assert unchanged.nothing
    assert "here already" in unchanged.step.name
