"""The whole window: places, menus, foot, codes, drops, names for those who cannot see it."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QAccessible, QDropEvent, QKeySequence
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.app import build
from bindery_stock.desktop.exchange.backups_dialog import BackupsDialog
from bindery_stock.desktop.front_desk import FrontDesk
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.desktop.window import Window
from bindery_stock.stock import Stockroom
from bindery_stock.units import Unit
from tests.desktop.hands import shown_tip
from tests.desktop.shelving import shelve_cloth


@pytest.fixture
def desk_and_window(qtbot: QtBot, session: Session) -> Iterator[tuple[FrontDesk, Window]]:
    window, desk = build(session)
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    session.opened.emit()
    yield desk, window
    qtbot.waitUntil(lambda: not session.jobs.busy)


@pytest.fixture
def window(desk_and_window: tuple[FrontDesk, Window]) -> Window:
    return desk_and_window[1]


def _every(window: Window, kind: type[QWidget]) -> list[QWidget]:
    found: list[QWidget] = []
    for place in window.places:
        window.go_to(place)
        found += [w for w in window.findChildren(kind) if w.isVisible()]
    return found


def test_the_number_keys_go_to_the_places(qtbot: QtBot, window: Window) -> None:
    for number, place in enumerate(window.places, start=1):
        qtbot.keyClick(
            window, getattr(Qt.Key, f"Key_{number}"), Qt.KeyboardModifier.ControlModifier
        )
        assert window.place is place


def test_undo_says_what_it_takes_back(qtbot: QtBot, session: Session, window: Window) -> None:
    code = shelve_cloth(session)
    assert code in window.action("edit.undo").text()
    assert window.foot.words.startswith("Shelved")
    assert window.foot.undo_button.isVisible()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(window.foot.undo_button, Qt.MouseButton.LeftButton)
    assert session.pieces == []
    assert code in window.action("edit.redo").text()


def test_a_typed_code_goes_to_its_piece(qtbot: QtBot, session: Session, window: Window) -> None:
    code = shelve_cloth(session)
    window.go_to(window.places[-1])
    qtbot.keyClicks(window.code_entry, code.lower())
    with qtbot.waitSignal(session.piece_wanted) as wanted:
        qtbot.keyClick(window.code_entry, Qt.Key.Key_Return)
    assert wanted.args == [code]
    assert window.place is window.places[0]


def test_a_long_name_in_the_foot_leaves_room_for_the_cloth_and_for_the_mend(
    qtbot: QtBot, window: Window
) -> None:
    before = window.stack.height()
    sentence = f"“{'x' * 300}.jpg” is cut short. " + "It lies in a far folder. " * 40 + "Copy it."
    window.foot.warn(sentence)
    qtbot.waitUntil(lambda: window.foot.height() > 0)
    assert window.foot.words == sentence
    (told,) = [w for w in window.foot.findChildren(QLabel) if w.text().startswith("“xx")]
    assert told.text().endswith("Copy it.")
    assert shown_tip(told.toolTip()) == sentence
    assert told.heightForWidth(told.width()) <= told.height()
    assert window.stack.height() > before - 60


def test_a_code_no_piece_has_is_told_in_the_foot(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClicks(window.code_entry, "C-9999")
    qtbot.keyClick(window.code_entry, Qt.Key.Key_Return)
    assert window.foot.is_trouble
    assert "C-9999" in window.foot.words


def test_a_photograph_dropped_anywhere_goes_to_the_photo_table(
    qtbot: QtBot, window: Window, photo_of_cloth: Path
) -> None:
    window.go_to(window.places[-1])
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(photo_of_cloth))])
    copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier(0)
    window.dropEvent(QDropEvent(QPointF(600, 400), copy, data, left, none))
    assert window.place.title == "Photo table"


def test_no_two_live_commands_share_their_keys(window: Window) -> None:
    for place in window.places:
        window.go_to(place)
        keys = [
            keys.toString(QKeySequence.SequenceFormat.PortableText)
            for _command, action, _place in window._actions
            if action.isEnabled()
            for keys in action.shortcuts()
        ]
        assert len(keys) == len(set(keys))


def test_every_key_of_the_platform_for_a_command_gives_it(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    bound = QKeySequence.keyBindings(QKeySequence.StandardKey.Redo)
    assert window.action("edit.redo").shortcuts() == bound
    both = [keys for keys in bound if "+" in keys.toString()]  # the rest are keys of their own
    assert len(both) > 1
    shelve_cloth(session)
    window.refresh_commands()
    for keys in both:
        with qtbot.waitSignal(session.changed):
            session.undo()
        with qtbot.waitSignal(session.changed):
            qtbot.keySequence(window, keys)
        assert len(session.pieces) == 1


def test_every_command_says_what_it_does(window: Window) -> None:
    names = [command.name for command, _action, _place in window._actions]
    assert len(names) == len(set(names))
    for command, _action, _place in window._actions:
        assert command.text
        assert command.tip.endswith(".")


@pytest.mark.parametrize("kind", [QLineEdit, QComboBox, QAbstractButton])
def test_every_control_has_a_name_for_those_who_cannot_see_it(
    session: Session, window: Window, kind: type[QWidget]
) -> None:
    shelve_cloth(session)
    QAccessible.setActive(True)
    nameless = []
    for widget in _every(window, kind):
        if widget.objectName().startswith("qt_") or isinstance(widget.parent(), QComboBox):
            continue  # parts of Qt's own composite widgets
        interface = QAccessible.queryAccessibleInterface(widget)
        if interface is None or not interface.text(QAccessible.Text.Name):
            nameless.append(f"{type(widget).__name__} in {type(widget.parent()).__name__}")
    assert nameless == []


def test_choosing_inches_shows_inches(
    desk_and_window: tuple[FrontDesk, Window], session: Session
) -> None:
    desk, window = desk_and_window
    desk.set_unit(Unit.INCH)
    match = next(place for place in window.places if place.title == "Match")
    assert match.form.along.text() == "9 in"
    assert match.form.across.text() == "2 5/16 in"
    assert match.form.margin.text() == "1/8 in"
    desk.set_unit(Unit.MM)
    assert match.form.along.text() == "228 mm"


def test_a_second_window_on_the_same_stockroom_reads_only(
    qtbot: QtBot, desk_and_window: tuple[FrontDesk, Window], session: Session
) -> None:
    desk, window = desk_and_window
    code = shelve_cloth(session)
    folder = Path(session.stockroom.folder)
    session.close_stockroom()
    with Stockroom.open(folder):
        with qtbot.waitSignal(session.opened):
            desk.open_folder(folder)
        assert session.stockroom.read_only
        assert window.foot.is_trouble
        assert "reading only" in window.windowTitle()
        assert [piece.code for piece in session.pieces] == [code]
        assert not window.action("edit.undo").isEnabled()
        session.close_stockroom()


def test_a_folder_without_a_stockroom_is_explained(
    desk_and_window: tuple[FrontDesk, Window], tmp_path: Path, session: Session
) -> None:
    desk, window = desk_and_window
    (tmp_path / "holiday").mkdir()
    desk._open_or_explain(tmp_path / "holiday")
    assert "holiday holds no stockroom" in window.foot.words
    assert session.is_open


def spoil_outline(folder: Path) -> None:
    """Flip a bit of the text of an outline: “[” becomes “Z”."""
    with closing(sqlite3.connect(folder / "stock.sqlite")) as raw:
        raw.execute("UPDATE piece SET outline = 'Z' || substr(outline, 2) WHERE code = 'C-0001'")
        raw.commit()


def test_a_stockroom_with_a_row_that_cannot_be_read_is_not_in_use(
    qtbot: QtBot, desk_and_window: tuple[FrontDesk, Window], session: Session
) -> None:
    desk, window = desk_and_window
    shelve_cloth(session)
    folder = Path(session.stockroom.folder)
    session.close_stockroom()
    spoil_outline(folder)
    with qtbot.waitSignal(session.trouble) as heard:
        desk.open_folder(folder)
    assert "The piece C-0001 is damaged: its outline cannot be read" in heard.args[0]
    assert not session.is_open
    assert window.refused.isVisible()
    assert "its outline cannot be read" in window.refused.words.text()
    assert not window.stack.isVisible(), "no shelf is shown, least of all an empty one"
    assert not window.side.isEnabled()
    live = [c.name for c, a, place in window._actions if place is not None and a.isEnabled()]
    assert live == [], "nothing can be done in a place"
    Stockroom.open(folder).close()  # the folder was let go of
    qtbot.mouseClick(
        next(b for b in window.refused.findChildren(QAbstractButton) if "Backups" in b.text()),
        Qt.MouseButton.LeftButton,
    )
    dialog = window.findChild(BackupsDialog)
    assert isinstance(dialog, BackupsDialog)
    assert dialog.folder == folder
    qtbot.mouseClick(dialog.save, Qt.MouseButton.LeftButton)
    assert "Everything was saved from the ledger: 1 pieces" in dialog.told.text()
    with qtbot.waitSignal(session.opened):
        qtbot.mouseClick(dialog.go_back, Qt.MouseButton.LeftButton)
    assert [piece.code for piece in session.pieces] == ["C-0001"]
    assert window.stack.isVisible()
    assert window.side.isEnabled()


def test_the_stockroom_in_use_stays_where_another_cannot_be_read(
    qtbot: QtBot, desk_and_window: tuple[FrontDesk, Window], session: Session, tmp_path: Path
) -> None:
    desk, window = desk_and_window
    code = shelve_cloth(session)
    other = tmp_path / "other"
    shutil.copytree(session.stockroom.folder, other)
    with Stockroom.open(other):
        pass
    spoil_outline(other)
    with qtbot.waitSignal(session.trouble):
        desk.open_folder(other)
    assert session.is_open
    assert not session.is_opening
    assert session.stockroom.folder != other
    assert [piece.code for piece in session.pieces] == [code]
    assert "its outline cannot be read" in window.foot.words
    assert window.stack.isVisible()
    shelf = window.places[0]
    assert isinstance(shelf, ShelfScreen)
    assert shelf.hoard.isVisible(), "and what lies on it is shown again"


def test_the_window_is_remembered(qtbot: QtBot, session: Session, window: Window) -> None:
    window.resize(960, 701)  # the offscreen display is only 800 pixels tall
    window.close()
    again, _desk = build(session)
    qtbot.addWidget(again)
    assert again.size().height() == 701
    assert not session.is_open


def test_nothing_is_left_behind_by_the_window(qtbot: QtBot, window: Window) -> None:
    others = [w for w in QApplication.topLevelWidgets() if w.isVisible() and w is not window]
    assert others == []
