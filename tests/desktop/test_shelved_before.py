"""A photograph that was shelved before is asked about, at the photo table itself."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.app import build
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from tests.desktop.conftest import paint_cloth
from tests.desktop.shelving import shelve_cloth
from tests.desktop.test_photo_table import drag, press, set_scale

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


def table_with(qtbot: QtBot, window: Window, photo: Path) -> PhotoTableScreen:
    table = next(place for place in window.places if isinstance(place, PhotoTableScreen))
    window.session.photos_offered.emit([photo])
    idle(qtbot, table)
    return table


def idle(qtbot: QtBot, table: PhotoTableScreen) -> None:
    qtbot.waitUntil(lambda: table.draft is not None and not table.session.jobs.busy)


def mark(qtbot: QtBot, table: PhotoTableScreen) -> None:
    """The scale, the outline, and everything else agreed to."""
    set_scale(table, qtbot)
    drag(table, qtbot, (100, 80), (900, 1080))
    press(qtbot, Qt.Key.Key_Return, 4)


def order_shelving(qtbot: QtBot, window: Window) -> None:
    window.action("photo_table.shelve").trigger()
    qtbot.waitUntil(lambda: not window.session.jobs.busy)


def test_a_photograph_shelved_before_is_asked_about_and_left(
    qtbot: QtBot, session: Session, window: Window, photo_of_cloth: Path, tmp_path: Path
) -> None:
    code = shelve_cloth(session, photo_of_cloth)
    again = shutil.copy(photo_of_cloth, tmp_path / "under another name.png")
    table = table_with(qtbot, window, again)
    assert table.known.isVisible()
    assert f"{code} was read from this very photograph" in table.known.words.text()
    mark(qtbot, table)
    steps = session.stockroom.ledger.steps()
    order_shelving(qtbot, window)
    assert session.stockroom.ledger.steps() == steps, "shelving waits for the answer"
    assert QApplication.activeModalWidget() is None
    assert QApplication.focusWidget() is table.known.aside_button
    qtbot.keyClick(table.known.aside_button, Qt.Key.Key_Space)
    assert table.draft is None
    assert table.waiting.has_aside, "its marks are kept"
    assert session.stockroom.ledger.steps() == steps


def test_another_scrap_in_a_photograph_shelved_before_goes_onto_the_shelf(
    qtbot: QtBot, session: Session, window: Window, photo_of_cloth: Path
) -> None:
    first = shelve_cloth(session, photo_of_cloth)
    table = table_with(qtbot, window, photo_of_cloth)
    qtbot.mouseClick(table.known.go_on_button, LEFT)
    assert not table.known.isVisible()
    mark(qtbot, table)
    order_shelving(qtbot, window)
    codes = [piece.code for piece in session.pieces]
    assert len(codes) == 2
    assert codes[0] == first


def test_a_new_photograph_is_shelved_without_a_question_and_another_scrap_in_it_too(
    qtbot: QtBot, session: Session, window: Window, photo_of_cloth: Path
) -> None:
    shelve_cloth(session, photo_of_cloth)
    table = table_with(qtbot, window, paint_cloth(photo_of_cloth.with_name("b.png"), (60, 70, 90)))
    assert not table.known.isVisible()
    mark(qtbot, table)
    window.action("photo_table.shelve_another").trigger()
    idle(qtbot, table)
    assert len(session.pieces) == 2
    assert not table.known.isVisible(), "another was asked for in so many words"
    drag(table, qtbot, (100, 80), (900, 1080))
    press(qtbot, Qt.Key.Key_Return, 4)
    order_shelving(qtbot, window)
    assert len(session.pieces) == 3


def test_a_photograph_whose_shelving_was_taken_back_is_new_again(
    qtbot: QtBot, session: Session, window: Window, photo_of_cloth: Path
) -> None:
    shelve_cloth(session, photo_of_cloth)
    table = table_with(qtbot, window, photo_of_cloth)
    assert table.known.isVisible()
    with qtbot.waitSignal(session.changed):
        session.undo()
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert not table.known.isVisible()


def test_shelving_asks_even_where_the_first_was_shelved_while_this_one_was_marked(
    qtbot: QtBot, session: Session, window: Window, photo_of_cloth: Path
) -> None:
    table = table_with(qtbot, window, photo_of_cloth)
    mark(qtbot, table)
    draft = table.draft
    assert draft is not None
    shelve_cloth(session, photo_of_cloth)
    draft.shown = ()  # as if it had not been looked at again yet
    steps = session.stockroom.ledger.steps()
    order_shelving(qtbot, window)
    assert session.stockroom.ledger.steps() == steps
    assert table.known.isVisible()
