"""Another stockroom taken in from the window."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.clock import system_clock
from bindery_stock.desktop.exchange.merge_desk import Merging
from bindery_stock.desktop.exchange.merge_dialog import MergeDialog
from bindery_stock.desktop.session import Session
from bindery_stock.records.stock_archive import pack
from bindery_stock.stock.exchange.comparison import Fate, MergeChoice, MergeItem, MergePlan
from tests.records.busy import busy_stockroom


@pytest.fixture
def theirs(tmp_path: Path) -> Path:
    with busy_stockroom(tmp_path / "theirs", tmp_path / "scratch") as stock:
        pack(stock, tmp_path / "theirs.zip", system_clock())
    return tmp_path / "theirs"


@pytest.mark.parametrize("source", ["stock.sqlite", "archive"])
def test_what_is_new_is_told_and_taken_in(
    qtbot: QtBot, session: Session, theirs: Path, source: str
) -> None:
    merging = Merging(session, session)
    path = theirs.with_suffix(".zip") if source == "archive" else theirs / source
    merging.look_at(path)
    qtbot.waitUntil(lambda: merging.dialog is not None)
    dialog = merging.dialog
    assert dialog is not None
    assert "new here" in dialog.words.text()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    assert [piece.code for piece in session.pieces] == ["L-0001", "C-0002"]
    assert merging.other is None, "the other stockroom is let go"


def differing(qtbot: QtBot, session: Session, theirs: Path) -> MergeDialog:
    """What is shown where L-0001 lies in drawer 9 here, and in no place there."""
    merging = Merging(session, session)
    with session.stockroom.open(theirs, read_only=True) as other:
        session.heard(session.stockroom.exchange.merge(other.exchange, {}))
    session.heard(session.stockroom.pieces.move(["L-0001"], "drawer 9"))
    merging.look_at(theirs / "stock.sqlite")
    qtbot.waitUntil(lambda: merging.dialog is not None)
    dialog = merging.dialog
    assert dialog is not None
    assert not dialog.take.isEnabled()
    assert dialog.differing.item(0).text().startswith("L-0001: keep what is here")
    assert "place: drawer 9 here, nothing there" in dialog.differing.item(0).text()
    assert dialog.buttons[MergeChoice.KEEP].isChecked()
    return dialog


def test_what_differs_is_shown_and_taken_in_beside_when_chosen(
    qtbot: QtBot, session: Session, theirs: Path
) -> None:
    dialog = differing(qtbot, session, theirs)
    dialog.buttons[MergeChoice.BOTH].setFocus()
    qtbot.keyClick(dialog.buttons[MergeChoice.BOTH], Qt.Key.Key_Space)
    assert dialog.take.text() == "Take in 1 thing"
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    assert session.piece("L-0002").place == ""
    assert session.piece("L-0001").place == "drawer 9"


def test_theirs_is_taken_instead_when_chosen_and_one_undo_takes_it_back(
    qtbot: QtBot, session: Session, theirs: Path
) -> None:
    dialog = differing(qtbot, session, theirs)
    qtbot.mouseClick(dialog.buttons[MergeChoice.TAKE], Qt.MouseButton.LeftButton)
    assert "L-0001: take theirs instead" in dialog.differing.item(0).text()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    assert session.piece("L-0001").place == ""
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert session.piece("L-0001").place == "drawer 9"


def item(code: str, *, stays: str = "", warning: str = "") -> MergeItem:
    return MergeItem("piece", 1, code, Fate.DIFFERS, ("place: a here, b there",), stays, warning)


def test_what_must_stay_says_why_and_keeps_its_choice_among_several(qtbot: QtBot) -> None:
    plan = MergePlan((item("C-0001", stays="it is reserved here"), item("C-0002")))
    dialog = MergeDialog(plan, "theirs", None)
    qtbot.addWidget(dialog)
    dialog.show()
    assert not dialog.buttons[MergeChoice.TAKE].isEnabled()
    assert dialog.why.text() == "C-0001 stays as it is: it is reserved here."
    dialog.differing.selectAll()
    assert dialog.buttons[MergeChoice.TAKE].isEnabled()
    qtbot.mouseClick(dialog.buttons[MergeChoice.TAKE], Qt.MouseButton.LeftButton)
    assert dialog.choices() == {
        ("piece", "C-0001"): MergeChoice.KEEP,
        ("piece", "C-0002"): MergeChoice.TAKE,
    }
    assert not any(button.isChecked() for button in dialog.buttons.values()), "they differ now"
    dialog.reject()


def test_cloth_that_would_be_counted_twice_is_said_while_ours_is_kept(qtbot: QtBot) -> None:
    dialog = MergeDialog(MergePlan((item("C-0001", warning="counted twice"),)), "theirs", None)
    qtbot.addWidget(dialog)
    dialog.show()
    assert "counted twice" in dialog.differing.item(0).text()
    qtbot.mouseClick(dialog.buttons[MergeChoice.TAKE], Qt.MouseButton.LeftButton)
    assert "counted twice" not in dialog.differing.item(0).text()
    dialog.reject()


def test_another_file_is_refused_and_told(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    (tmp_path / "odd.zip").write_bytes(b"odd")
    with qtbot.waitSignal(session.trouble) as heard:
        Merging(session, session).look_at(tmp_path / "odd.zip")
    assert "no archive" in heard.args[0]
