"""Everything on the photo table can be reached by keyboard and is named for a screen reader."""

from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QAccessible, QWheelEvent
from PySide6.QtWidgets import QApplication, QComboBox, QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window


@pytest.fixture
def table(session: Session, photo_of_cloth: Path, qtbot: QtBot) -> PhotoTableScreen:
    place = PhotoTableScreen(session)
    window = Window(session, [place], [])
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    session.photos_offered.emit([photo_of_cloth])
    qtbot.waitUntil(lambda: place.draft is not None)
    place.setProperty("kept", window)  # the window lives as long as the place is tested
    return place


def reachable(table: PhotoTableScreen) -> list[QWidget]:
    tabbed = Qt.FocusPolicy.TabFocus
    return [
        widget
        for widget in table.findChildren(QWidget)
        if widget.isVisible()
        and widget.isEnabled()
        and widget.focusPolicy() & tabbed
        # The line of an editable choice takes its focus through the choice.
        and not isinstance(widget.parent(), QComboBox)
    ]


def test_every_entry_and_button_of_every_step_has_a_name(table: PhotoTableScreen) -> None:
    unnamed = []
    for step in range(len(table.marking.steps)):
        table.marking.go_to_step(step)
        for widget in reachable(table):
            heard = QAccessible.queryAccessibleInterface(widget)
            if not heard.text(QAccessible.Text.Name).strip():
                unnamed.append(f"step {step}: {type(widget).__name__}")
    assert unnamed == []


@pytest.mark.parametrize("step", [0, 3, 5])
def test_tab_comes_to_every_entry_and_button(
    table: PhotoTableScreen, step: int, qtbot: QtBot
) -> None:
    table.marking.go_to_step(step)
    wanted = set(reachable(table))
    table.marking.canvas.setFocus()
    visited: set[QWidget] = set()
    for _ in range(3 * len(wanted) + 20):
        focus = QApplication.focusWidget()
        assert focus is not None
        visited.add(focus)
        # Canvas and entries alike hand Tab on.
        qtbot.keyClick(focus, Qt.Key.Key_Tab)
    groups = {w for w in wanted if type(w).__name__ == "QRadioButton"}
    # One radio button of a group is come to by Tab, the other by the arrows.
    assert wanted - visited - groups == set()
    assert not groups or groups & visited


def test_the_wheel_zooms_about_the_pointer_and_the_middle_button_moves_the_photograph(
    table: PhotoTableScreen, qtbot: QtBot
) -> None:
    canvas = table.marking.canvas
    before = canvas.zoom
    spot = canvas.to_widget((300.0, 400.0))
    wheel = QWheelEvent(
        spot,
        QPointF(canvas.mapToGlobal(spot.toPoint())),
        QPointF(0, 0).toPoint(),
        QPointF(0, 240).toPoint(),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(canvas, wheel)
    assert canvas.zoom > 1.5 * before
    assert (canvas.to_widget((300.0, 400.0)) - spot).manhattanLength() < 1e-6
    middle = Qt.MouseButton.MiddleButton
    qtbot.mousePress(canvas, middle, pos=spot.toPoint())
    moved = spot.toPoint()
    moved.setX(moved.x() + 40)
    qtbot.mouseMove(canvas, moved)
    qtbot.mouseRelease(canvas, middle, pos=moved)
    assert canvas.to_widget((300.0, 400.0)).x() == pytest.approx(moved.x(), abs=1.0)


def test_a_mark_is_begun_and_moved_by_keyboard_alone(table: PhotoTableScreen, qtbot: QtBot) -> None:
    canvas = table.marking.canvas
    canvas.setFocus()
    qtbot.keyClick(canvas, Qt.Key.Key_Insert)
    assert table.draft is not None
    assert table.draft.marks.scale is not None
    line = table.draft.marks.scale.line  # type: ignore[union-attr]
    canvas.setFocus()
    qtbot.keyClick(canvas, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    moved = table.draft.marks.scale.line  # type: ignore[union-attr]
    assert moved[0] == line[0]
    assert moved[1][0] > line[1][0]


def test_nothing_is_painted_or_drawn_without_a_photograph(session: Session, qtbot: QtBot) -> None:
    place = PhotoTableScreen(session)
    qtbot.addWidget(place)
    place.resize(900, 600)
    place.show()
    canvas = place.marking.canvas
    qtbot.mouseClick(canvas, Qt.MouseButton.LeftButton)
    QApplication.sendEvent(canvas, QEvent(QEvent.Type.UpdateRequest))
    told: list[str] = []
    session.trouble.connect(told.append)
    place.shelve()
    assert told == ["No photograph lies on the table. Drop, paste or choose one first."]
