"""Another stockroom taken into this one: new, the same, under another code, or different."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from bindery_stock.errors import DiskTrouble
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
        assert made.keeping.check().faults == ()


def test_everything_comes_into_an_empty_stockroom_with_its_photographs(
    ours: Stockroom, theirs: Stockroom
) -> None:
    plan = ours.exchange.plan_merge(theirs.exchange)
    assert {item.fate for item in plan.items} == {Fate.NEW}
    changes = ours.exchange.merge(theirs.exchange, {})
    assert changes.step.name == f"Took in {len(plan.items)} things from theirs"
    for piece in theirs.pieces.listed(gone=True):
        there = ours.pieces.get(piece.code)
        assert (there.outline, there.colours, there.note, there.parent) == (
            piece.outline, piece.colours, piece.note, piece.parent
        )  # fmt: skip
    assert [r.name for r in ours.books.repairs()] == [r.name for r in theirs.books.repairs()]
    assert ours.books.treatments("V-0001")[0].lot == "A-0001"
    assert ours.lots.uses()[0].override_reason == theirs.lots.uses()[0].override_reason
    for photo in theirs.photos.listed():
        assert ours.photos.path(photo.sha256).is_file()


def test_a_second_time_everything_is_here_already(ours: Stockroom, theirs: Stockroom) -> None:
    ours.exchange.merge(theirs.exchange, {})
    before = ours.exchange.whole()
    assert {item.fate for item in ours.exchange.plan_merge(theirs.exchange).items} == {Fate.SAME}
    again = ours.exchange.merge(theirs.exchange, {})
    assert again.nothing
    assert "here already" in again.step.name
    assert ours.exchange.whole() == before


def test_another_piece_under_the_same_code_gets_a_new_code(
    ours: Stockroom, theirs: Stockroom
) -> None:
    mine = NewPiece(kind=Kind.CLOTH, outline=Outline(rectangle(0, 0, 33, 44)), note="mine")
    ours.pieces.shelve(mine)
    plan = ours.exchange.plan_merge(theirs.exchange)
    assert [item.code for item in plan.of(Fate.RENAMED)] == ["C-0001"]
    assert "1 of them under another code" in plan.words
    ours.exchange.merge(theirs.exchange, {})
    assert ours.pieces.get("C-0001").note == "mine"
    # Theirs was cut: what was left of it, C-0002, hangs on it under its new code.
    parent = ours.pieces.get("C-0002").parent
    assert parent is not None
    assert ours.pieces.get(parent).fate == "spine strip"
    assert parent not in ("C-0001", "C-0002")


def test_what_differs_is_shown_and_kept_unless_chosen_otherwise(
    ours: Stockroom, theirs: Stockroom
) -> None:
    ours.exchange.merge(theirs.exchange, {})
    ours.pieces.move(["L-0001"], "drawer 9")
    (item,) = ours.exchange.plan_merge(theirs.exchange).of(Fate.DIFFERS)
    assert item.code == "L-0001"
    assert item.differences == ("place: drawer 9 here, nothing there",)
    theirs.wants.add(NewWanted(what="mull"))
    ours.exchange.merge(theirs.exchange, {})
    assert ours.pieces.get("L-0001").place == "drawer 9"
    changes = ours.exchange.merge(theirs.exchange, {("piece", "L-0001"): MergeChoice.BOTH})
    assert changes.born == ("L-0002",)
    assert ours.pieces.get("L-0002").place == ""
    assert ours.pieces.get("L-0001").place == "drawer 9"


def test_taking_in_is_one_step_that_undo_takes_back(ours: Stockroom, theirs: Stockroom) -> None:
    before = {
        name: rows
        for name, rows in ours.exchange.whole().tables.items()
        if name in ("piece", "part")
    }
    ours.exchange.merge(theirs.exchange, {})
    ours.ledger.undo()
    after = ours.exchange.whole().tables
    assert {name: after[name] for name in before} == before
    ours.ledger.redo()
    assert len(ours.pieces.listed()) == len(theirs.pieces.listed())


def test_codes_given_out_afterwards_are_free(ours: Stockroom, theirs: Stockroom) -> None:
    ours.exchange.merge(theirs.exchange, {})
    new = NewPiece(kind=Kind.CLOTH, outline=Outline(rectangle(0, 0, 33, 44)))
    assert ours.pieces.shelve(new).born == ("C-0003",)


def test_a_photograph_that_is_gone_there_stops_it_before_anything_is_taken_in(
    ours: Stockroom, theirs: Stockroom
) -> None:
    theirs.photos.path(theirs.photos.listed()[0].sha256).unlink()
    with pytest.raises(DiskTrouble, match="missing"):
        ours.exchange.merge(theirs.exchange, {})
    assert ours.pieces.listed() == []
    assert ours.ledger.steps() == []
