"""What was done can be taken back and done again, and the ledger only ever grows."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from bindery_stock.errors import NotFound, UndoRefused
from bindery_stock.stock import Cutting, NewPiece, Stockroom, Verb

if TYPE_CHECKING:
    from tests.stock.conftest import BenchClock

Strip = Callable[[str], Cutting]


def test_undoing_a_cut_brings_the_piece_back_and_takes_its_offcuts_away(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    before = stock.pieces.listed(gone=True)
    done = stock.pieces.cut(spine_strip("C-0001"))
    after = stock.pieces.listed(gone=True)
    undone = stock.ledger.undo()
    assert undone.step.name == "Undo: Cut spine strip, vol. 4 60 × 228 mm from C-0001"
    assert undone.step.undoes == done.step.number
    assert undone.step.codes == ("C-0001", "C-0002", "C-0003")
    assert undone.touched["piece"] == done.touched["piece"]
    assert stock.pieces.listed(gone=True) == before
    stock.ledger.redo()
    assert stock.pieces.listed(gone=True) == after


def test_the_ledger_says_which_steps_stand(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    stock.ledger.undo()
    assert [(step.verb, step.standing) for step in stock.ledger.steps()] == [
        (Verb.UNDONE, True),
        (Verb.SHELVED, False),
    ]
    stock.ledger.redo()
    assert [(step.verb, step.standing) for step in stock.ledger.steps()] == [
        (Verb.REDONE, True),
        (Verb.UNDONE, False),
        (Verb.SHELVED, True),
    ]


def test_doing_something_new_ends_the_chance_to_redo(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    stock.ledger.undo()
    redoable = stock.ledger.redoable()
    assert redoable is not None
    assert redoable.name == "Shelved C-0001"
    stock.pieces.shelve(red_rib)
    assert stock.ledger.redoable() is None
    with pytest.raises(UndoRefused, match="nothing to redo"):
        stock.ledger.redo()


def test_with_nothing_done_there_is_nothing_to_undo(stock: Stockroom) -> None:
    assert stock.ledger.undoable() is None
    with pytest.raises(UndoRefused, match="nothing to undo"):
        stock.ledger.undo()


def test_an_older_step_can_be_undone_where_nothing_rests_on_it(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stock.pieces.shelve_many([red_rib, red_rib])
    moved = stock.pieces.move(["C-0001"], "tin A").step
    stock.pieces.move(["C-0002"], "tin B")
    stock.ledger.undo(moved.number)
    assert [piece.place for piece in stock.pieces.listed()] == ["drawer 2", "tin B"]
    undoable = stock.ledger.undoable()
    assert undoable is not None
    assert undoable.name == "Moved C-0002 to tin B"


def test_undo_is_refused_with_the_names_of_the_steps_that_rest_on_it(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    shelved = stock.pieces.shelve(red_rib).step
    cut = stock.pieces.cut(spine_strip("C-0001")).step
    stock.pieces.move(["C-0002"], "tin A")
    before = stock.pieces.listed(gone=True)
    with pytest.raises(UndoRefused, match="Moved C-0002 to tin A") as refused:
        stock.ledger.undo(cut.number)
    assert "Undo those first" in str(refused.value)
    with pytest.raises(UndoRefused, match="Cut spine strip"):
        stock.ledger.undo(shelved.number)
    assert stock.pieces.listed(gone=True) == before
    assert len(stock.ledger.steps()) == 3


def test_a_shelving_is_held_by_a_reservation_made_since(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    shelved = stock.pieces.shelve(red_rib).step
    stock.pieces.reserve("C-0001", "vol. 9", width=60, height=200)
    with pytest.raises(UndoRefused, match=r"Reserved C-0001 for vol\. 9"):
        stock.ledger.undo(shelved.number)


def test_a_step_is_undone_once_and_an_undo_is_redone_not_undone(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    shelved = stock.pieces.shelve(red_rib).step
    undone = stock.ledger.undo().step
    stock.pieces.shelve(red_rib)
    for number in (shelved.number, undone.number):
        with pytest.raises(UndoRefused, match="undone already, or is itself an undo"):
            stock.ledger.undo(number)
    with pytest.raises(NotFound, match="step 99"):
        stock.ledger.undo(99)


def test_undo_reaches_back_past_the_last_opening(
    folder: Path, stock: Stockroom, red_rib: NewPiece, spine_strip: Strip
) -> None:
    stock.pieces.shelve(red_rib)
    before = stock.pieces.listed(gone=True)
    stock.pieces.cut(spine_strip("C-0001"))
    stock.close()
    with Stockroom.open(folder) as again:
        again.ledger.undo()
        assert again.pieces.listed(gone=True) == before


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE step SET name = 'nothing happened'",
        "DELETE FROM step",
        "UPDATE movement SET after = NULL",
        "DELETE FROM movement",
    ],
)
def test_the_ledger_itself_cannot_be_rewritten(
    folder: Path, stock: Stockroom, red_rib: NewPiece, change: str
) -> None:
    stock.pieces.shelve(red_rib)
    stock.close()
    with (
        closing(sqlite3.connect(folder / "stock.sqlite")) as raw,
        pytest.raises(sqlite3.IntegrityError, match="append-only"),
    ):
        raw.execute(change)


@pytest.mark.parametrize(
    ("tampering", "said"),
    [
        ("UPDATE piece SET place = 'elsewhere'", "does not account for piece 1"),
        ("DELETE FROM photo_mark", "has a photo_mark 1 that is not there"),
        (
            "INSERT INTO cutting (piece_id, purpose, width, height, corners, discarded) "
            "VALUES (1, 'x', 1, 1, '[]', '[]')",
            "does not account for cutting 1",
        ),
        ("UPDATE piece SET parent_id = 77", "refers to a piece that is not there"),
    ],
)
def test_a_check_finds_what_was_changed_behind_the_ledgers_back(
    folder: Path, stock: Stockroom, red_rib: NewPiece, tampering: str, said: str
) -> None:
    stock.pieces.shelve(red_rib)
    stock.close()
    with closing(sqlite3.connect(folder / "stock.sqlite")) as raw:
        raw.execute(tampering)
        raw.commit()
    with Stockroom.open(folder) as again:
        found = again.keeping.check()
        assert not found.sound
        assert any(said in fault for fault in found.faults), found.faults


def test_steps_keep_their_order_when_the_clock_goes_back(
    stock: Stockroom, red_rib: NewPiece, clock: "BenchClock"
) -> None:
    stock.pieces.shelve(red_rib)
    clock.now = datetime(1970, 1, 1, tzinfo=UTC)
    stock.pieces.move(["C-0001"], "tin A")
    clock.now += timedelta(days=400_000)
    stock.pieces.move(["C-0001"], "tin B")
    assert [step.number for step in stock.ledger.steps()] == [3, 2, 1]
    stock.ledger.undo()
    assert stock.pieces.get("C-0001").place == "tin A"


def test_the_ledger_is_read_in_leaves(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    for place in "abcd":
        stock.pieces.move(["C-0001"], place)
    first = stock.ledger.steps(limit=2)
    second = stock.ledger.steps(limit=2, before=first[-1].number)
    assert [step.number for step in (*first, *second)] == [5, 4, 3, 2]
