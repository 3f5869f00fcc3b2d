"""Holding a scrap beside a book in one photograph, by hand, and readings of an instrument."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.colour import delta_e00
from bindery_stock.desktop.colours.instrument_dialog import InstrumentDialog
from bindery_stock.desktop.colours.side_by_side import SideBySide
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.stock import NewConfirmation
from tests.desktop.charts import (
    CLOTH,
    CLOTH_AT,
    CORNERS,
    GREY_AT,
    OTHER,
    OTHER_AT,
    photograph_target,
)
from tests.desktop.shelving import shelve_cloth

LEFT = Qt.MouseButton.LeftButton
SPINE = "spine strip, vol. 4"
TRUE = float(delta_e00(CLOTH, OTHER))
Corner = tuple[float, float]


@pytest.fixture
def over(qtbot: QtBot) -> QWidget:
    window = QWidget()
    qtbot.addWidget(window)
    window.show()
    return window


@pytest.fixture
def code(session: Session) -> str:
    return shelve_cloth(session, lab=OTHER)


@pytest.fixture
def dialog(qtbot: QtBot, session: Session, code: str, over: QWidget) -> SideBySide:
    made = SideBySide(session, code, SPINE, over)
    qtbot.addWidget(made)
    made.open()
    qtbot.waitExposed(made)
    return made


def load(qtbot: QtBot, dialog: SideBySide, photo: Path) -> None:
    with qtbot.waitSignal(dialog.desk.loaded):
        dialog.desk.load(photo)


def spot(dialog: SideBySide, point: Corner) -> QPoint:
    return dialog.desk.canvas.to_widget(point).toPoint()


def drag(qtbot: QtBot, dialog: SideBySide, start: Corner, end: Corner) -> None:
    canvas = dialog.desk.canvas
    qtbot.mousePress(canvas, LEFT, pos=spot(dialog, start))
    qtbot.mouseMove(canvas, spot(dialog, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)))
    qtbot.mouseMove(canvas, spot(dialog, end))
    qtbot.mouseRelease(canvas, LEFT, pos=spot(dialog, end))


def mark_both(qtbot: QtBot, dialog: SideBySide) -> None:
    drag(qtbot, dialog, CLOTH_AT[0], CLOTH_AT[2])
    drag(qtbot, dialog, OTHER_AT[0], OTHER_AT[2])
    qtbot.waitUntil(lambda: dialog._comparison is not None)


def test_two_drags_and_enter_confirm_a_match(
    qtbot: QtBot, session: Session, dialog: SideBySide, code: str, tmp_path: Path
) -> None:
    load(qtbot, dialog, photograph_target(tmp_path / "both.png"))
    assert not dialog.record_button.isEnabled()
    mark_both(qtbot, dialog)
    assert dialog.view.figure.text().startswith("ΔE00 ")
    assert "ΔL*" in dialog.view.parts.text()
    assert "Paravina" in dialog.view.words.toolTip()
    comparison = dialog._comparison
    assert comparison is not None
    assert abs(comparison.delta_e - TRUE) <= comparison.u
    assert dialog.record_button.toolTip() == "Say under which light it was taken."
    qtbot.keyClicks(dialog.light.lineEdit(), "overcast window")
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(dialog.desk.canvas, Qt.Key.Key_Return)
    (kept,) = session.stockroom.pieces.confirmations(code)
    assert kept.purpose == SPINE
    assert kept.light == "overcast window"
    assert not dialog.isVisible()
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert session.stockroom.pieces.confirmations(code) == []


def test_a_target_in_the_same_photograph_narrows_the_band(
    qtbot: QtBot, dialog: SideBySide, tmp_path: Path
) -> None:
    load(qtbot, dialog, photograph_target(tmp_path / "both.png"))
    mark_both(qtbot, dialog)
    box = dialog.desk.references.kind
    box.setCurrentIndex(box.findData("target"))
    box.activated.emit(box.currentIndex())
    assert "corner" in dialog.hint.text()
    drag(qtbot, dialog, CORNERS[0], CORNERS[2])
    qtbot.waitUntil(
        lambda: dialog._comparison is not None and "target" in dialog._comparison.first.method,
    )
    assert dialog._comparison is not None
    assert abs(dialog._comparison.delta_e - TRUE) < 0.5


def test_the_light_and_the_purpose_must_be_said(
    qtbot: QtBot, dialog: SideBySide, tmp_path: Path
) -> None:
    load(qtbot, dialog, photograph_target(tmp_path / "both.png"))
    mark_both(qtbot, dialog)
    assert not dialog.record_button.isEnabled()
    assert "light" in dialog.record_button.toolTip()
    qtbot.keyClicks(dialog.light.lineEdit(), "the reading room's lamp")
    assert dialog.record_button.isEnabled()
    dialog.purpose.selectAll()
    qtbot.keyClick(dialog.purpose, Qt.Key.Key_Delete)
    assert "what the scrap is for" in dialog.record_button.toolTip()


def test_a_card_that_is_burnt_out_is_refused_in_words(
    qtbot: QtBot, dialog: SideBySide, tmp_path: Path
) -> None:
    load(qtbot, dialog, photograph_target(tmp_path / "both.png", cast=(6.0, 6.0, 6.0)))
    box = dialog.desk.references.kind
    box.setCurrentIndex(box.findData("card"))
    box.activated.emit(box.currentIndex())
    drag(qtbot, dialog, GREY_AT[0], GREY_AT[2])
    drag(qtbot, dialog, CLOTH_AT[0], CLOTH_AT[2])
    drag(qtbot, dialog, OTHER_AT[0], OTHER_AT[2])
    qtbot.waitUntil(lambda: "clipped" in dialog.view.said.text())
    assert not dialog.record_button.isEnabled()


def test_a_file_that_is_no_photograph_is_told_in_the_dialog(
    qtbot: QtBot, dialog: SideBySide, tmp_path: Path
) -> None:
    bad = tmp_path / "notes.png"
    bad.write_text("no picture", encoding="utf-8")
    with qtbot.waitSignal(dialog.desk.refused):
        dialog.desk.load(bad)
    assert "notes.png" in dialog.view.said.text()


def test_the_sheet_shows_what_was_found_and_cautions_where_lights_disagree(
    qtbot: QtBot, session: Session, previews: Previews, code: str
) -> None:
    shelf = ShelfScreen(session, previews)
    shelf.stock_opened()
    qtbot.addWidget(shelf)
    shelf.resize(1200, 760)
    shelf.show()
    shelf.show_code(code)
    section = shelf.sheet.colour
    assert "Not yet held beside a book" in section.held.lines.text()
    for light, delta_e in (("overcast window", 1.2), ("reading lamp", 6.0)):
        seen = NewConfirmation(purpose=SPINE, light=light, delta_e=delta_e, u=0.8)
        session.do(lambda room, seen=seen: room.pieces.confirm(code, seen))
    qtbot.waitUntil(lambda: "metamerism" in section.held.caution.text())
    assert section.held.caution.text().startswith("△")
    assert f"Against {SPINE}" in section.held.lines.text()
    assert "Overcast window: ΔE00 1.2 ± 0.8" in section.held.lines.text()
    section.beside_button.click()
    opened = shelf.tasks.dialog
    assert isinstance(opened, SideBySide)
    opened.reject()


def test_an_instrument_reading_is_added_from_the_sheet_and_goes_first(
    qtbot: QtBot, session: Session, code: str, over: QWidget
) -> None:
    dialog = InstrumentDialog(session, session.piece(code), over)
    qtbot.addWidget(dialog)
    dialog.open()
    qtbot.keyClicks(dialog.entry.line, "L* 40 a* 30 b* 20 D65/10")
    assert "adapted to D50/2°" in dialog.entry.told.text()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.keep_button, LEFT)
    colours = session.piece(code).colours
    assert len(colours) == 2
    assert "D65/10°" in colours[0].method
    assert colours[1].lab == OTHER


@pytest.fixture
def match(qtbot: QtBot, session: Session, previews: Previews) -> MatchScreen:
    place = MatchScreen(session, previews)
    qtbot.addWidget(place)
    place.resize(1100, 760)
    place.show()
    return place


def seek(qtbot: QtBot, match: MatchScreen, lab: str) -> None:
    entries = (match.form.along, match.form.across)
    entries += (match.target.lightness, match.target.a, match.target.b)
    for entry, text in zip(entries, ("228", "58", *lab.split()), strict=True):
        entry.selectAll()
        qtbot.keyClicks(entry, text)
    qtbot.waitUntil(lambda: not match.session.jobs.busy and match.model.rowCount() > 0)


def test_a_reserved_match_is_confirmed_from_the_match_place_and_its_row_says_so(
    qtbot: QtBot, session: Session, match: MatchScreen, code: str, tmp_path: Path
) -> None:
    qtbot.keyClicks(match.form.purpose, SPINE)
    match.form.reserved.setChecked(True)
    seek(qtbot, match, "45 38 22")
    match.list.setFocus()
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(match.list, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: not session.jobs.busy and match.model.rowCount() > 0)
    qtbot.waitUntil(match.trust.button.isEnabled)
    qtbot.mouseClick(match.trust.button, LEFT)
    dialog = match.trust.dialog
    assert dialog is not None
    assert dialog.purpose.text() == SPINE
    load(qtbot, dialog, photograph_target(tmp_path / "both.png"))
    mark_both(qtbot, dialog)
    qtbot.keyClicks(dialog.light.lineEdit(), "overcast window")
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.record_button, LEFT)
    qtbot.waitUntil(lambda: match.model.rowCount() > 0 and bool(match.model.rows[0].held))
    assert match.model.rows[0].held.startswith("Beside the book ΔE00")
    assert match.model.rows[0].held.endswith(f"overcast window, for {SPINE}")
    assert "Paravina" in match.model.rows[0].tip
    other = NewConfirmation(purpose=SPINE, light="reading lamp", delta_e=9.0, u=0.8)
    session.do(lambda room: room.pieces.confirm(code, other))
    qtbot.waitUntil(lambda: match.model.rowCount() > 0 and bool(match.model.rows[0].metamerism))
    assert "△ Metamerism: another light parts them" in match.model.rows[0].notes
    assert "reading lamp" in match.model.rows[0].tip


def test_an_order_within_the_bands_is_said_to_be_an_order_only(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    for lab in (CLOTH, OTHER):
        shelve_cloth(session, lab=lab)
    seek(qtbot, match, "45 38 22")
    assert match.trust.note.isVisible()
    told = match.trust.note.text()
    assert told.startswith("Order only: taken as stated, good to ± 3 ΔE00, these 2 cannot")
    shelve_cloth(session, lab=(45.0, 38.0, 60.0))
    seek(qtbot, match, "45 38 60")
    qtbot.waitUntil(match.trust.note.isHidden)


def test_the_colour_sought_is_typed_from_an_instrument_with_its_band(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    qtbot.keyClicks(match.target.instrument.line, "43.1 22.0 11.4 D65/10")
    assert match.target.u == pytest.approx(4.5)
    assert "adapted to D50/2°" in match.target.origin.text()
    assert match.target.name.text() == "Grayish red"
    assert match.target.lab() is not None
