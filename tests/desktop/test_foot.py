"""The sentence in the foot carries its step; its button is about that step or is not there."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.app import build
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from tests.desktop.shelving import shelve_cloth

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def window(session: Session, qtbot: QtBot) -> Iterator[Window]:
    made, _desk = build(session)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    session.opened.emit()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    qtbot.waitUntil(lambda: not session.jobs.busy)


def press(qtbot: QtBot, window: Window) -> None:
    QApplication.processEvents()
    with qtbot.waitSignal(window.session.changed):
        qtbot.mouseClick(window.foot.undo_button, LEFT)


def test_after_an_undo_the_button_does_that_step_again_and_names_it(
    qtbot: QtBot, session: Session, window: Window
) -> None:
    first, second = shelve_cloth(session), shelve_cloth(session)
    button = window.foot.undo_button
    assert button.text() == "Undo"
    press(qtbot, window)
    assert [piece.code for piece in session.pieces] == [first]
    assert window.foot.words.startswith("Undo: ")
    assert button.text().startswith("Redo: Shelved")
    press(qtbot, window)
    assert [piece.code for piece in session.pieces] == [first, second], "no older step was taken"
    assert window.foot.words.startswith("Redo: ")
    assert button.text() == "Undo"
    press(qtbot, window)
    assert [piece.code for piece in session.pieces] == [first]


def test_a_sentence_that_is_no_step_has_no_button(session: Session, window: Window) -> None:
    shelve_cloth(session)
    assert window.foot.undo_button.isVisible()
    session.said.emit("Saved stock.zip")
    assert window.foot.words == "Saved stock.zip"
    assert not window.foot.undo_button.isVisible()


def test_a_deed_that_changes_nothing_is_told_without_a_button(
    qtbot: QtBot, session: Session, window: Window
) -> None:
    code = shelve_cloth(session)
    steps = session.stockroom.ledger.steps()
    with qtbot.waitSignal(session.said):
        session.do(lambda room: room.pieces.correct(code, place="Tin 3"))
    assert "nothing was changed" in window.foot.words
    assert not window.foot.is_trouble
    assert not window.foot.undo_button.isVisible()
    assert session.stockroom.ledger.steps() == steps
    window.refresh_commands()
    assert code in window.action("edit.undo").text(), "the step before can still be taken back"


def test_what_can_be_taken_back_travels_with_the_change_and_is_not_asked_for(
    session: Session, window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelve_cloth(session)
    ledger = type(session.stockroom.ledger)

    def asked(_self: object) -> None:
        raise AssertionError("the stockroom was asked what can be undone")

    for name in ("ways_back", "undoable", "redoable"):
        monkeypatch.setattr(ledger, name, asked)
    for place in window.places:
        window.go_to(place)
        assert "Shelved" in window.action("edit.undo").text()
        assert window.action("edit.undo").isEnabled()
    code = shelve_cloth(session)
    assert code in window.action("edit.undo").text()


def test_the_button_takes_back_its_own_step_even_where_another_came_after(
    qtbot: QtBot, session: Session, window: Window
) -> None:
    first = shelve_cloth(session)
    second = session.stockroom.pieces.move([first], "drawer 9")  # nobody was told of it yet
    qtbot.mouseClick(window.foot.undo_button, LEFT)
    qtbot.waitUntil(lambda: window.foot.is_trouble)
    assert "later steps rest on it" in window.foot.words
    assert session.stockroom.ledger.undoable() == second.step


def test_focus_never_comes_to_the_button_by_itself(
    qtbot: QtBot, session: Session, window: Window
) -> None:
    shelve_cloth(session)
    button = window.foot.undo_button
    for _ in range(60):
        qtbot.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Tab)
        assert QApplication.focusWidget() is not button
    qtbot.mouseClick(button, LEFT, pos=QPoint(3, 3))
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert QApplication.focusWidget() is not button


def table_with(qtbot: QtBot, window: Window, photo: Path) -> PhotoTableScreen:
    table = next(place for place in window.places if isinstance(place, PhotoTableScreen))
    window.session.photos_offered.emit([photo])
    qtbot.waitUntil(lambda: table.draft is not None and not window.session.jobs.busy)
    table.marking.go_to_step(1)
    qtbot.waitUntil(lambda: not window.session.jobs.busy)
    return table


def click_at(qtbot: QtBot, table: PhotoTableScreen, point: tuple[float, float]) -> None:
    canvas = table.marking.canvas
    qtbot.mouseClick(canvas, LEFT, pos=canvas.to_widget(point).toPoint())


def test_with_a_ring_half_drawn_undo_is_about_its_corners_and_not_about_the_stock(
    qtbot: QtBot, session: Session, window: Window, photo_of_cloth: Path
) -> None:
    code = shelve_cloth(session)
    table = table_with(qtbot, window, photo_of_cloth)
    for point in ((150.0, 150.0), (400.0, 150.0)):
        click_at(qtbot, table, point)
    canvas = table.marking.canvas
    assert canvas.is_marking
    window.refresh_commands()
    assert window.action("edit.undo").text() == "&Undo: the last corner"
    assert not window.action("edit.redo").isEnabled()
    keys = window.action("edit.undo").shortcut()
    qtbot.keySequence(canvas, keys)
    assert canvas.is_marking, "one corner is left"
    table.marking.panel.headers[1].setFocus()  # the hand is elsewhere beside the photograph
    window.action("edit.undo").trigger()
    assert not canvas.is_marking
    qtbot.keySequence(canvas, keys)  # once too many
    assert not session.jobs.busy
    assert [piece.code for piece in session.pieces] == [code]


def test_marks_taken_back_leave_the_stock_alone_and_are_named_in_the_menu(
    qtbot: QtBot, session: Session, window: Window, photo_of_cloth: Path
) -> None:
    code = shelve_cloth(session)
    table = table_with(qtbot, window, photo_of_cloth)
    canvas = table.marking.canvas
    start, end = (canvas.to_widget(p).toPoint() for p in ((150.0, 150.0), (500.0, 600.0)))
    qtbot.mousePress(canvas, LEFT, pos=start)
    qtbot.mouseMove(canvas, end)
    qtbot.mouseRelease(canvas, LEFT, pos=end)
    draft = table.draft
    assert draft is not None
    assert draft.marks.outline
    undo, redo = window.action("edit.undo"), window.action("edit.redo")
    window.refresh_commands()
    assert undo.text() == f"&Undo: the last mark in “{draft.name}”"
    while draft.may_undo:
        qtbot.keySequence(canvas, undo.shortcut())
    assert not draft.marks.outline
    window.refresh_commands()
    assert not undo.isEnabled()
    assert redo.text() == f"&Redo: the last mark in “{draft.name}”"
    qtbot.keySequence(canvas, undo.shortcut())
    assert not session.jobs.busy
    assert [piece.code for piece in session.pieces] == [code]
    window.go_to(window.places[0])
    window.refresh_commands()
    assert code in undo.text(), "at the shelf it is about the stock"


def test_what_a_menu_line_is_for_is_told_only_while_the_menu_is_open(window: Window) -> None:
    menu = next(a.menu() for a in window.menuBar().actions() if "Records" in a.text())
    line = menu.actions()[0]
    line.hover()
    assert line.statusTip() in hints(window)
    menu.aboutToHide.emit()  # as it does when it is closed; the offscreen screen shows no menus
    assert line.statusTip() not in hints(window)


def hints(window: Window) -> list[str]:
    return [label.text() for label in window.foot.findChildren(QLabel)]
