"""The ledger, read and taken back."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.ledger.model import STEP_ROLE, Column
from bindery_stock.desktop.ledger.place import Ledger
from bindery_stock.desktop.session import Session
from tests.desktop.shelving import shelve_cloth


def _ledger(qtbot: QtBot, session: Session) -> Ledger:
    place = Ledger(session)
    qtbot.addWidget(place)
    place.resize(900, 600)
    place.show()
    place.stock_opened()
    return place


def _sentence(place: Ledger, row: int) -> str:
    return str(place.model.index(row, Column.WHAT).data())


def test_an_empty_ledger_says_what_it_is_for(qtbot: QtBot, session: Session) -> None:
    place = _ledger(qtbot, session)
    assert place.empty.isVisible()
    assert "first scrap" in place.empty.words.text()


def test_the_newest_step_stands_first(qtbot: QtBot, session: Session) -> None:
    first, second = shelve_cloth(session), shelve_cloth(session)
    place = _ledger(qtbot, session)
    assert second in _sentence(place, 0)
    assert first in _sentence(place, 1)


def test_a_step_is_taken_back_from_its_line(qtbot: QtBot, session: Session) -> None:
    first, second = shelve_cloth(session), shelve_cloth(session)
    place = _ledger(qtbot, session)
    where = place.table.visualRect(place.model.index(1, Column.WAY_BACK)).center()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(place.table.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert [piece.code for piece in session.pieces] == [second]
    assert place.model.index(2, 0).data(STEP_ROLE).standing is False
    assert first in _sentence(place, 0)


def test_a_search_keeps_the_steps_that_hold_every_word(qtbot: QtBot, session: Session) -> None:
    first, _second = shelve_cloth(session), shelve_cloth(session)
    place = _ledger(qtbot, session)
    qtbot.keyClicks(place.search, first.lower())
    assert place.model.rowCount() == 1
    qtbot.keyClicks(place.search, " nothing")
    assert place.empty.isVisible()
    assert "Clear the search" in place.empty.words.text()


def test_the_model_is_sound_through_its_life(qtbot: QtBot, session: Session) -> None:
    place = _ledger(qtbot, session)
    tester = QAbstractItemModelTester(
        place.model, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    shelve_cloth(session)
    place.model.reload()
    place.model.search("nothing says this")
    place.model.search("")
    assert tester.model() is place.model
