"""Another stockroom taken in from the window."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.clock import system_clock
from bindery_stock.desktop.exchange.merging import Merging
from bindery_stock.desktop.session import Session
from bindery_stock.records.stock_archive import pack
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


def test_what_differs_is_shown_and_taken_in_beside_when_ticked(
    qtbot: QtBot, session: Session, theirs: Path
) -> None:
    merging = Merging(session, session)
    with session.stockroom.open(theirs, read_only=True) as other:
        session.heard(session.stockroom.merge(other, {}))
    session.heard(session.stockroom.move(["L-0001"], "drawer 9"))
    merging.look_at(theirs / "stock.sqlite")
    qtbot.waitUntil(lambda: merging.dialog is not None)
    dialog = merging.dialog
    assert dialog is not None
    assert not dialog.take.isEnabled()
    item = dialog.differing.item(0)
    assert "place: drawer 9 here, nothing there" in item.text()
    dialog.differing.setFocus()
    dialog.differing.setCurrentItem(item)
    qtbot.keyClick(dialog.differing, Qt.Key.Key_Space)
    assert dialog.take.text() == "Take in 1 thing"
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    assert session.piece("L-0002").place == ""


def test_another_file_is_refused_and_told(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    (tmp_path / "odd.zip").write_bytes(b"odd")
    with qtbot.waitSignal(session.trouble) as heard:
        Merging(session, session).look_at(tmp_path / "odd.zip")
    assert "no archive" in heard.args[0]
