"""Every dialog has one foot: Esc leaves all as it was, Enter does what the dialog is for."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.adhesives.lot_dialog import LotStart
from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.app import build
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.desktop.window import Window
from bindery_stock.stock import NewAdhesiveLot
from tests.desktop.shelving import shelve_cloth
from tests.scenes import place_of

Opening = Callable[[Window, Path], None]


def shelf(deed: str) -> Opening:
    return lambda window, _photo: getattr(place_of(window, ShelfScreen), deed)()


def lots(deed: str) -> Opening:
    return lambda window, _photo: getattr(place_of(window, AdhesivesScreen), deed)()


def of_lots(deed: str, *given: object) -> Opening:
    return lambda window, _photo: getattr(place_of(window, AdhesivesScreen).tasks, deed)(*given)


OPENINGS: dict[str, Opening] = {
    "facts of a piece": shelf("edit"),
    "where it lies": shelf("move_pieces"),
    "discarding": shelf("discard"),
    "a length off": shelf("cut_length"),
    "beside the book": shelf("hold_beside"),
    "an instrument": shelf("add_reading"),
    "a new lot": of_lots("enter", LotStart.BOUGHT),
    "facts of a lot": lots("edit"),
    "using some": lots("use"),
    "a test": lots("test"),
    "finishing": lots("finish"),
    "a want": of_lots("want"),
    "a reorder point": of_lots("set_reorder_point"),
    "a new set": lambda window, _photo: place_of(window, BooksScreen).tasks.new_set(),
    "allowances": lambda window, _photo: place_of(window, BooksScreen).tasks.set_allowances(None),
    "the colour sought": lambda window, photo: place_of(window, MatchScreen).target.pick_from(
        photo
    ),
}


@pytest.fixture
def window(session: Session, photo_of_cloth: Path, qtbot: QtBot) -> Iterator[Window]:
    code = shelve_cloth(session, photo_of_cloth)
    room = session.stockroom
    session.heard(
        room.lots.enter(
            NewAdhesiveLot(kind="wheat-starch-paste", name="Paste", made=room.today, place="Shelf")
        )
    )
    made, _desk = build(session)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    session.opened.emit()
    session.show_code(code)
    made.go_to(place_of(made, AdhesivesScreen))
    qtbot.waitUntil(lambda: not session.jobs.busy)
    yield made
    qtbot.waitUntil(lambda: not session.jobs.busy)


def test_each_dialog_names_what_it_does_and_esc_leaves_all_as_it_was(
    window: Window, session: Session, photo_of_cloth: Path, qtbot: QtBot
) -> None:
    steps = len(session.stockroom.ledger.steps())
    for name, opening in OPENINGS.items():
        opening(window, photo_of_cloth)
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, QDialog), name
        qtbot.waitExposed(dialog)
        foot = dialog.findChild(DialogFoot)
        assert foot is not None, name
        assert foot.go.isDefault(), name
        assert foot.go.property("role") == "next", name
        assert not foot.leave_button.isDefault(), name
        assert foot.leave_button.text() == "Leave it", name
        assert dialog.windowTitle(), name
        qtbot.waitUntil(lambda: not session.jobs.busy)
        qtbot.keyClick(dialog.focusWidget() or dialog, Qt.Key.Key_Escape)
        qtbot.waitUntil(lambda dialog=dialog: not dialog.isVisible())
        assert len(session.stockroom.ledger.steps()) == steps, name


def test_enter_in_an_entry_does_what_the_dialog_is_for(
    window: Window, session: Session, qtbot: QtBot
) -> None:
    place_of(window, BooksScreen).tasks.new_set()
    dialog = QApplication.activeModalWidget()
    assert dialog is not None
    focus = dialog.focusWidget()
    assert focus is not None
    qtbot.keyClicks(focus, "The Wold Hours")
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(focus, Qt.Key.Key_Return)
    assert [one.title for one in session.stockroom.books.book_sets()] == ["The Wold Hours"]
