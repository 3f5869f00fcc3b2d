"""The ledger, read and taken back."""

import pytest
from PySide6.QtCore import QModelIndex, QSize, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QStyledItemDelegate, QStyleOptionViewItem
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.ledger.model import PAGE, STEP_ROLE, LedgerColumn
from bindery_stock.desktop.ledger.screen import LedgerScreen
from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.session import Session
from bindery_stock.stock import NewWanted
from tests.desktop.hands import shown_tip
from tests.desktop.shelving import shelve_cloth


def _ledger(qtbot: QtBot, session: Session) -> LedgerScreen:
    place = LedgerScreen(session)
    qtbot.addWidget(place)
    place.resize(900, 600)
    place.show()
    place.stock_opened()
    return place


def _sentence(place: LedgerScreen, row: int) -> str:
    return str(place.model.index(row, LedgerColumn.WHAT).data())


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
    where = place.table.visualRect(place.model.index(1, LedgerColumn.WAY_BACK)).center()
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


def test_no_row_of_a_long_ledger_is_measured_when_it_comes_forward_or_the_palette_changes(
    qtbot: QtBot, qapp: QApplication, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(PAGE + 20):
        changes = session.stockroom.wants.add(NewWanted(what=f"red ribbed cloth, {number} mm"))
    session.heard(changes)
    measured: list[int] = []

    def counting(
        self: QStyledItemDelegate, option: QStyleOptionViewItem, index: QModelIndex
    ) -> QSize:
        measured.append(index.row())
        return real(self, option, index)

    kind = type(_ledger(qtbot, session).table.itemDelegate())
    real = kind.sizeHint
    monkeypatch.setattr(kind, "sizeHint", counting, raising=False)
    place = _ledger(qtbot, session)
    place.hide()
    place.show()
    dress(qapp, Scheme.DARK)
    dress(qapp, Scheme.LIGHT)
    assert place.model.rowCount() >= PAGE
    assert measured == []


def test_what_stands_in_a_row_of_the_ledger_has_room(qtbot: QtBot, session: Session) -> None:
    shelve_cloth(session)
    session.heard(session.stockroom.ledger.undo())
    place = _ledger(qtbot, session)
    metrics = place.table.fontMetrics()
    assert place.table.rowHeight(0) >= metrics.height() + 8
    for row in range(place.model.rowCount()):
        for column in (LedgerColumn.DAY, LedgerColumn.TIME, LedgerColumn.WAY_BACK):
            words = place.model.index(row, column).data()
            assert metrics.horizontalAdvance(words) < place.table.columnWidth(column) - 6
    sentence = place.model.index(0, LedgerColumn.WHAT)
    assert sentence.data() in shown_tip(sentence.data(Qt.ItemDataRole.ToolTipRole))
