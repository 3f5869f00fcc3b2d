"""Adhesives as a part of the whole window: codes typed, the foot, a clock that errs."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.app import build
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from bindery_stock.stock import Measure, NewAdhesiveLot, Stockroom

PASTE = NewAdhesiveLot(kind="wheat-starch-paste", name="Paste", unit=Measure.GRAM, held=100.0)


@pytest.fixture
def window(qtbot: QtBot, session: Session) -> Iterator[Window]:
    made, desk = build(session)
    qtbot.addWidget(made)
    made.show()
    session.opened.emit()
    yield made
    QApplication.processEvents()
    made.hide()
    assert desk.window is made


def _adhesives(window: Window) -> AdhesivesScreen:
    (found,) = (place for place in window.places if isinstance(place, AdhesivesScreen))
    return found


def _type_code(qtbot: QtBot, window: Window, code: str) -> None:
    qtbot.keyClicks(window.code_entry, code)
    qtbot.keyClick(window.code_entry, Qt.Key.Key_Return)


def test_a_typed_code_goes_to_its_tin(qtbot: QtBot, session: Session, window: Window) -> None:
    for _ in range(2):
        session.heard(session.stockroom.lots.enter(PASTE))
    _type_code(qtbot, window, "a-0002")
    place = _adhesives(window)
    assert window.place is place
    assert place.sheet.row is not None
    assert place.sheet.row.lot.code == "A-0002"


def test_a_code_that_is_on_no_tin_is_said_so(
    qtbot: QtBot, session: Session, window: Window
) -> None:
    _type_code(qtbot, window, "A-0042")
    assert "no adhesive A-0042" in window.foot.words
    assert window.foot.is_trouble


def test_a_step_made_while_another_place_is_in_front_is_seen_later(
    qtbot: QtBot, session: Session, window: Window
) -> None:
    place = _adhesives(window)
    window.go_to(place)
    window.go_to(window.places[0])
    session.heard(session.stockroom.lots.enter(PASTE))
    assert place.model.rowCount() == 0
    window.go_to(place)
    assert place.model.rowCount() == 1


def test_a_clock_that_went_back_is_noted_once_in_the_foot(
    qtbot: QtBot, session: Session, window: Window, tmp_path: Path
) -> None:
    now = [datetime(2026, 3, 2, 9, tzinfo=UTC)]
    session.use(Stockroom.create(tmp_path / "clocked", clock=lambda: now[0]))
    notes: list[str] = []
    session.noticed.connect(notes.append)
    for day in (datetime(2026, 3, 2, 10, tzinfo=UTC), datetime(2011, 1, 1, tzinfo=UTC)):
        now[0] = day
        with qtbot.waitSignal(session.changed):
            session.do(lambda stock: stock.lots.enter(PASTE))
    assert len(notes) == 1
    assert "1 Jan 2011" in window.foot.words
    assert not window.foot.is_trouble
    with qtbot.waitSignal(session.changed):
        session.do(lambda stock: stock.lots.enter(PASTE))
    assert len(notes) == 1


def test_undo_in_the_foot_gives_back_what_was_taken(
    qtbot: QtBot, session: Session, window: Window
) -> None:
    session.heard(session.stockroom.lots.enter(PASTE))
    place = _adhesives(window)
    window.go_to(place)
    use = place.model.rows[0].fitness[0].use
    with qtbot.waitSignal(session.changed):
        session.do(lambda stock: stock.lots.use("A-0001", use=use, purpose="a trial", amount=40.0))
    assert window.foot.words == "Used 40 g of A-0001 for a trial"
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(window.foot.undo_button, Qt.MouseButton.LeftButton)
    assert session.stockroom.lots.get("A-0001").left == 100.0
    assert "100 g" in str(place.model.index(0).data())
