"""Another stockroom taken into this one: new, the same, under another code, or different."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from bindery_stock.errors import DiskTrouble, StockError
from bindery_stock.shape import Outline
from bindery_stock.stock import NewPiece, NewWanted, Stockroom
from bindery_stock.stock.exchange.comparison import Fate, MergeChoice
from bindery_stock.trade.vocabulary import Kind
from tests.records.busy import BenchClock, busy_stockroom, rectangle


class LaterClock(BenchClock):
    def __init__(self) -> None:
        super().__init__()
        self.now = self.now.replace(year=2027)


@pytest.fixture
def theirs(tmp_path: Path) -> Iterator[Stockroom]:
    with busy_stockroom(tmp_path / "theirs", tmp_path / "scratch") as made:
        yield made


@pytest.fixture
def ours(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(tmp_path / "ours", clock=LaterClock()) as made:
        yield made
        assert made.check().faults == ()


def test_everything_comes_into_an_empty_stockroom_with_its_photographs(
    ours: Stockroom, theirs: Stockroom
) -> None:
    plan = ours.plan_merge(theirs)
    assert {item.fate for item in plan.items} == {Fate.NEW}
    changes = ours.merge(theirs, {})
    assert changes.step.name == f"Took in {len(plan.items)} things from theirs"
    for piece in theirs.pieces(gone=True):
        there = ours.piece(piece.code)
        assert (there.outline, there.colours, there.note, there.parent) == (
            piece.outline, piece.colours, piece.note, piece.parent
        )  # fmt: skip
    assert [r.name for r in ours.repairs()] == [r.name for r in theirs.repairs()]
    assert ours.treatments("V-0001")[0].lot == "A-0001"
    assert ours.lot_uses()[0].override_reason == theirs.lot_uses()[0].override_reason
    for photo in theirs.photos():
        assert ours.photo_path(photo.sha256).is_file()


def test_a_second_time_everything_is_here_already(ours: Stockroom, theirs: Stockroom) -> None:
    ours.merge(theirs, {})
    before = ours.whole()
    assert {item.fate for item in ours.plan_merge(theirs).items} == {Fate.SAME}
    with pytest.raises(StockError, match="here already"):
        ours.merge(theirs, {})
    assert ours.whole() == before


def test_another_piece_under_the_same_code_gets_a_new_code(
    ours: Stockroom, theirs: Stockroom
) -> None:
    mine = NewPiece(kind=Kind.CLOTH, outline=Outline(rectangle(0, 0, 33, 44)), note="mine")
    ours.shelve(mine)
    plan = ours.plan_merge(theirs)
    assert [item.code for item in plan.of(Fate.RENAMED)] == ["C-0001"]
    assert "1 of them under another code" in plan.words
    ours.merge(theirs, {})
    assert ours.piece("C-0001").note == "mine"
    # Theirs was cut: what was left of it, C-0002, hangs on it under its new code.
    parent = ours.piece("C-0002").parent
    assert parent is not None
    assert ours.piece(parent).fate == "spine strip"
    assert parent not in ("C-0001", "C-0002")


def test_what_differs_is_shown_and_kept_unless_chosen_otherwise(
    ours: Stockroom, theirs: Stockroom
) -> None:
    ours.merge(theirs, {})
    ours.move(["L-0001"], "drawer 9")
    (item,) = ours.plan_merge(theirs).of(Fate.DIFFERS)
    assert item.code == "L-0001"
    assert item.differences == ("place: drawer 9 here, nothing there",)
    theirs.want(NewWanted(what="mull"))
    ours.merge(theirs, {})
    assert ours.piece("L-0001").place == "drawer 9"
    changes = ours.merge(theirs, {("piece", "L-0001"): MergeChoice.BOTH})
    assert changes.born == ("L-0002",)
    assert ours.piece("L-0002").place == ""
    assert ours.piece("L-0001").place == "drawer 9"


def test_taking_in_is_one_step_that_undo_takes_back(ours: Stockroom, theirs: Stockroom) -> None:
    before = {name: rows for name, rows in ours.whole().tables.items() if name in ("piece", "part")}
    ours.merge(theirs, {})
    ours.undo()
    after = ours.whole().tables
    assert {name: after[name] for name in before} == before
    ours.redo()
    assert len(ours.pieces()) == len(theirs.pieces())


def test_codes_given_out_afterwards_are_free(ours: Stockroom, theirs: Stockroom) -> None:
    ours.merge(theirs, {})
    new = NewPiece(kind=Kind.CLOTH, outline=Outline(rectangle(0, 0, 33, 44)))
    assert ours.shelve(new).born == ("C-0003",)


def test_a_photograph_that_is_gone_there_stops_it_before_anything_is_taken_in(
    ours: Stockroom, theirs: Stockroom
) -> None:
    theirs.photo_path(theirs.photos()[0].sha256).unlink()
    with pytest.raises(DiskTrouble, match="missing"):
        ours.merge(theirs, {})
    assert ours.pieces() == []
    assert ours.steps() == []
