"""One deed is one step, however many verbs it takes: all of it is kept, or nothing."""

import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bindery_stock.errors import EntryError, NotFound, Unchanged
from bindery_stock.shape import Outline
from bindery_stock.stock import Cutting, NewPiece, NewWanted, Stockroom, Verb
from bindery_stock.trade.vocabulary import Kind
from tests.patience import PATIENCE
from tests.stock.conftest import rectangle

MULL = NewPiece(kind=Kind.MULL, outline=Outline(rectangle(0, 0, 300, 400)))
LEDGER = frozenset({"step", "movement", "code_series"})
"""What a step taken back leaves behind: the ledger itself, and codes, never used twice."""


def held(stock: Stockroom) -> dict[str, list[dict[str, Any]]]:
    """All that the stockroom holds but for its ledger."""
    tables = stock.exchange.whole().tables
    return {name: rows for name, rows in tables.items() if name not in LEDGER}


def asked_elsewhere(question: Callable[[], Any]) -> Any:
    """What another thread is told."""
    answers: list[Any] = []
    asking = threading.Thread(target=lambda: answers.append(question()))
    asking.start()
    asking.join(PATIENCE)
    (answer,) = answers
    return answer


def test_what_is_done_in_a_step_is_one_step(stock: Stockroom, red_rib: NewPiece) -> None:
    with stock.step(Verb.SHELVED, "Shelved two and noted a want") as step:
        stock.pieces.shelve(red_rib)
        stock.pieces.shelve(MULL)
        stock.wants.add(NewWanted(what="red rib"))
    (written,) = stock.ledger.steps()
    assert (written.number, written.verb) == (1, Verb.SHELVED)
    assert written.name == "Shelved two and noted a want"
    assert set(written.codes) == {"C-0001", "M-0001", "W-0001"}
    assert step.changes.step.number == 1
    assert step.changes.born == ("C-0001", "M-0001", "W-0001")
    assert {"piece", "wanted"} <= step.changes.touched.keys()


def test_one_undo_takes_all_of_it_back_and_one_redo_does_it_again(
    stock: Stockroom, red_rib: NewPiece, spine_strip: Callable[[str], Cutting]
) -> None:
    before = held(stock)
    with stock.step(Verb.CUT):
        stock.pieces.shelve(red_rib)
        stock.pieces.cut(spine_strip("C-0001"))
        stock.pieces.move(["C-0002"], "tin A")
    after = held(stock)
    stock.ledger.undo()
    assert held(stock) == before
    stock.ledger.redo()
    assert held(stock) == after


def test_a_step_without_a_name_takes_that_of_its_first_verb(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    with stock.step(Verb.SHELVED) as step:
        stock.pieces.shelve(red_rib)
        stock.pieces.move(["C-0001"], "tin A")
    assert step.changes.step.name == "Shelved C-0001"


def test_a_question_in_the_step_sees_what_has_been_written_so_far(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    with stock.step(Verb.SHELVED):
        born = stock.pieces.shelve(red_rib).born
        assert born == ("C-0001",)
        assert [piece.code for piece in stock.pieces.listed()] == ["C-0001"]
        stock.pieces.move(born, "tin A")
        assert stock.pieces.get("C-0001").place == "tin A"
        assert stock.ledger.steps() == []


def test_another_thread_sees_the_step_only_once_it_has_ended(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    with stock.step(Verb.SHELVED):
        stock.pieces.shelve(red_rib)
        assert asked_elsewhere(stock.pieces.listed) == []
    assert [piece.code for piece in asked_elsewhere(stock.pieces.listed)] == ["C-0001"]


def test_a_verb_of_another_thread_waits_and_is_a_step_of_its_own(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    other = threading.Thread(target=stock.pieces.shelve, args=(MULL,))
    with stock.step(Verb.SHELVED, "Shelved one"):
        other.start()
        stock.pieces.shelve(red_rib)
        assert [piece.kind for piece in stock.pieces.listed()] == [Kind.CLOTH]
    other.join(PATIENCE)
    names = [step.name for step in stock.ledger.steps()]
    assert sorted(names) == ["Shelved M-0001", "Shelved one"]


@pytest.mark.parametrize(
    ("fault", "does"),
    [
        (ZeroDivisionError, lambda _stock: 1 / 0),
        (NotFound, lambda stock: stock.pieces.move(["C-0099"], "tin A")),
        (EntryError, lambda stock: stock.wants.add(NewWanted(what=" "))),
    ],
    ids=["a fault", "no such piece", "a want without a word"],
)
def test_a_step_that_raises_keeps_nothing(
    stock: Stockroom,
    red_rib: NewPiece,
    fault: type[Exception],
    does: Callable[[Stockroom], object],
) -> None:
    stock.pieces.shelve(red_rib)
    before, steps = held(stock), stock.ledger.steps()
    with pytest.raises(fault), stock.step(Verb.CORRECTED):  # noqa: PT012
        stock.pieces.shelve(MULL)
        stock.pieces.correct("C-0001", note="kept by no one")
        does(stock)
    assert held(stock) == before
    assert stock.ledger.steps() == steps
    assert stock.pieces.shelve(MULL).step.number == 2


def test_a_verb_that_was_refused_may_be_caught_and_the_step_goes_on(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    with stock.step(Verb.SHELVED) as step:
        stock.pieces.shelve(red_rib)
        with pytest.raises(NotFound):
            stock.pieces.move(["C-0001", "C-0099"], "tin A")
        stock.pieces.move(["C-0001"], "tin A")
    assert step.changes.step.number == 1
    assert stock.pieces.get("C-0001").place == "tin A"


def test_a_step_in_which_nothing_was_done_tells_so_by_a_value(stock: Stockroom) -> None:
    with stock.step(Verb.MOVED, "Moved nothing") as step:
        pass
    assert step.changes.nothing
    assert "Moved nothing" in step.changes.step.name
    assert step.changes.touched == {}
    assert stock.ledger.steps() == []


def test_a_verb_that_changes_nothing_ends_the_step_with_its_sentence(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stock.pieces.shelve(red_rib)
    before = held(stock)
    with stock.step(Verb.MOVED, "Moved C-0001") as step:
        raise Unchanged("C-0001 lies in drawer 2 already.")
    assert step.changes.nothing
    assert step.changes.step.name == "C-0001 lies in drawer 2 already."
    assert len(stock.ledger.steps()) == 1
    assert held(stock) == before


def test_what_was_changed_and_put_back_in_one_step_is_no_step(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    stock.pieces.shelve(red_rib)
    with stock.step(Verb.MOVED, "There and back") as step:
        stock.pieces.move(["C-0001"], "tin A")
        stock.pieces.move(["C-0001"], "drawer 2")
    assert step.changes.nothing
    assert len(stock.ledger.steps()) == 1


def test_steps_are_not_nested(stock: Stockroom, red_rib: NewPiece) -> None:
    with pytest.raises(RuntimeError, match="open already"), stock.step(Verb.SHELVED):  # noqa: PT012
        stock.pieces.shelve(red_rib)
        with stock.step(Verb.MOVED):
            stock.pieces.move(["C-0001"], "tin A")
    assert stock.pieces.listed() == []
    with stock.step(Verb.SHELVED) as step:
        stock.pieces.shelve(red_rib)
    assert step.changes.step.number == 1


def test_a_step_tells_what_it_changed_only_after_its_block(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    with stock.step(Verb.SHELVED) as step:
        stock.pieces.shelve(red_rib)
        with pytest.raises(RuntimeError, match="after its block"):
            _ = step.changes
    assert step.changes.born == ("C-0001",)


def test_a_photograph_archived_in_a_step_is_kept_with_it(stock: Stockroom) -> None:
    with stock.step(Verb.SHELVED, "Shelved with its photograph") as step:
        photo = stock.photos.archive(b"an original", name="Mull.jpg", width=40, height=30)
        stock.pieces.shelve(MULL)
        assert stock.photos.get(photo.sha256).name == "Mull.jpg"
    assert len(stock.ledger.steps()) == 1
    assert stock.photos.path(photo.sha256).read_bytes() == b"an original"
    stock.ledger.undo()
    assert stock.photos.get(photo.sha256) == photo
    assert step.changes.born == ("M-0001",)


def test_of_a_step_that_raises_no_photograph_is_known_and_it_can_be_archived_again(
    stock: Stockroom, folder: Path
) -> None:
    with pytest.raises(ZeroDivisionError), stock.step(Verb.SHELVED):  # noqa: PT012
        stock.photos.archive(b"an original", name="Mull.jpg", width=40, height=30)
        _ = 1 / 0
    assert stock.photos.listed() == []
    assert stock.keeping.check().faults == ()
    again = stock.photos.archive(b"an original", name="Mull.jpg", width=40, height=30)
    assert stock.photos.path(again.sha256).read_bytes() == b"an original"
    assert len(list((folder / "photos").iterdir())) == 1


def test_the_ways_back_travel_with_what_was_changed(stock: Stockroom, red_rib: NewPiece) -> None:
    shelved = stock.pieces.shelve(red_rib)
    assert (shelved.undo, shelved.redo) == (shelved.step, None)
    with stock.step(Verb.MOVED, "Moved C-0001 to tin A") as step:
        stock.pieces.move(["C-0001"], "tin A")
    assert step.changes.undo == step.changes.step
    back = stock.ledger.undo()
    assert back.undo is not None
    assert back.redo is not None
    assert (back.undo.number, back.redo.number) == (1, 2)
    again = stock.ledger.redo()
    assert again.undo is not None
    assert (again.undo.number, again.redo) == (2, None)
    stock.ledger.undo()
    moved = stock.pieces.move(["C-0001"], "drawer 9")
    assert (moved.undo, moved.redo) == (moved.step, None)


def test_the_ways_back_of_each_step_are_those_the_ledger_tells(
    stock: Stockroom, red_rib: NewPiece
) -> None:
    done = [stock.pieces.shelve(red_rib), stock.pieces.shelve(MULL)]
    done.append(stock.ledger.undo())
    assert (done[-1].undo, done[-1].redo) == stock.ledger.ways_back()
