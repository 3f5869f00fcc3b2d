"""What a piece is fit for, on its sheet: verdicts, tests, results, its colour family, wet work."""

from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.evidence.fit_for import FitFor
from bindery_stock.desktop.evidence.lab_dialog import LabDialog
from bindery_stock.desktop.evidence.test_dialog import TestDialog
from bindery_stock.desktop.match.model import answer_rows
from bindery_stock.desktop.session import Session
from bindery_stock.matching import Match, Part, Ranking
from bindery_stock.stock import Changes
from bindery_stock.units import LengthStyle
from tests.desktop.shelving import box, shelve_cloth

D = TypeVar("D", bound=QDialog)
GREEN = (40.0, -38.0, 28.0)


def _section(qtbot: QtBot, session: Session, code: str) -> FitFor:
    section = FitFor(session)
    qtbot.addWidget(section)
    section.resize(400, 600)
    section.show()
    section.show_piece(session.piece(code))

    def again(_changes: Changes) -> None:
        section.show_piece(session.piece(code))

    session.changed.connect(again)
    return section


def _click(qtbot: QtBot, button: object) -> None:
    QApplication.processEvents()  # what was laid out anew lies where it is drawn
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def _dialog(section: FitFor, kind: type[D]) -> D:
    return section.findChildren(kind)[-1]


def test_a_suspect_green_says_no_wet_work_and_why(qtbot: QtBot, session: Session) -> None:
    section = _section(qtbot, session, shelve_cloth(session, lab=GREEN))
    assert section.wet.isVisible()
    assert "arsenic" in section.wet.text()
    assert "Not a test result" in section.wet.text()
    _click(qtbot, section.verdicts.buttons["cloth to board"])
    assert "laboratory's result" in section.verdicts.lengthy["cloth to board"].text()


def test_the_colour_family_is_ticked_and_undone(qtbot: QtBot, session: Session) -> None:
    code = shelve_cloth(session, lab=(30.0, 4.0, -30.0))
    section = _section(qtbot, session, code)
    assert "colour family" in section.wet.text()
    (blue,) = (a for a in section.family.menu().actions() if a.text() == "blue")
    with qtbot.waitSignal(session.changed):
        blue.trigger()
    assert session.piece(code).colour_family == "blue"
    assert section.family.text().strip() == "blue"
    assert not section.wet.isVisible()
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert section.wet.isVisible()


def test_a_wet_test_on_a_flagged_piece_is_refused_in_the_form(
    qtbot: QtBot, session: Session
) -> None:
    code = shelve_cloth(session, lab=GREEN)
    section = _section(qtbot, session, code)
    _click(qtbot, section.test_button)
    dialog = _dialog(section, TestDialog)
    dialog.choose("bleeds")
    dialog.choice.setCurrentText("no")
    _click(qtbot, dialog.go)
    qtbot.waitUntil(lambda: bool(dialog.wrong.text()))
    assert dialog.isVisible()
    assert "This test wets the piece" in dialog.wrong.text()
    assert "arsenic" in dialog.wrong.text()
    dialog.reject()
    assert session.piece(code).properties == ()


def test_what_was_seen_of_a_piece_changes_its_verdicts(qtbot: QtBot, session: Session) -> None:
    code = shelve_cloth(session, lab=(30.0, 4.0, -30.0))
    section = _section(qtbot, session, code)
    assert section.found.words == "Nothing was tested yet."
    _click(qtbot, section.test_button)
    dialog = _dialog(section, TestDialog)
    dialog.choose("mould")
    dialog.choice.setCurrentText("active")
    with qtbot.waitSignal(session.changed):
        _click(qtbot, dialog.go)
    assert section.found.words.startswith("mould: active")
    assert "Living mould" in section.verdicts.lengthy["cloth to board"].text()


def test_a_laboratory_result_with_date_laboratory_and_method_is_kept(
    qtbot: QtBot, session: Session
) -> None:
    code = shelve_cloth(session, lab=GREEN)
    section = _section(qtbot, session, code)
    _click(qtbot, section.lab_button)
    dialog = _dialog(section, LabDialog)
    _click(qtbot, dialog.go)
    assert "name the substance" in dialog.wrong.text()
    dialog.substance.setCurrentText("arsenic")
    dialog.outcome.setCurrentText("none found")
    qtbot.keyClicks(dialog.laboratory, "an invented laboratory")
    dialog.method.setCurrentText("XRF")
    dialog.on.setText("2026-03-02")
    with qtbot.waitSignal(session.changed):
        _click(qtbot, dialog.go)
    (result,) = session.piece(code).lab_results
    assert result.complete
    assert "arsenic: none found, XRF, an invented laboratory, 2 Mar 2026" in section.found.words


def test_a_match_row_carries_the_caution_of_its_piece(session: Session) -> None:
    piece = session.piece(shelve_cloth(session, lab=GREEN, outline=box(100, 100)))
    safe = session.piece(shelve_cloth(session, lab=(30.0, 4.0, -30.0)))
    from bindery_stock.bench.match.candidates import hoard_of
    from bindery_stock.matching import rank

    ranking = rank(Part(50.0, 50.0, lab=GREEN), hoard_of([piece, safe]))
    assert isinstance(ranking, Ranking)
    rows = answer_rows(ranking, {p.code: p for p in (piece, safe)}, LengthStyle(), session.rules)
    cautions = {row.piece.code: row.caution for row in rows if row.piece}
    assert cautions[piece.code].startswith("△ Stop: arsenical green")
    assert "Not a test result" in rows[0].told
    assert all(isinstance(row.match, Match) for row in rows if row.piece is piece)
