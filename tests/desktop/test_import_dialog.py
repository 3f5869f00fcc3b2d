"""The page on which a table's columns are named, and its pieces are taken in."""

from pathlib import Path

import openpyxl
import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.bench.exchange.import_cells import Field
from bindery_stock.bench.exchange.import_dates import DayOrder
from bindery_stock.bench.exchange.import_table import Subject, Trial
from bindery_stock.desktop.exchange.import_dialog import ImportDialog
from bindery_stock.desktop.exchange.records_desk import RecordsDesk
from bindery_stock.desktop.exchange.transfer import Transfer
from bindery_stock.desktop.session import Session
from bindery_stock.records.table_in import Encoding


def shown(qtbot: QtBot, session: Session, path: Path) -> ImportDialog:
    dialog = ImportDialog(session, path, None)
    qtbot.addWidget(dialog)
    dialog.show()
    return dialog


def settled(qtbot: QtBot, dialog: ImportDialog, words: str) -> None:
    qtbot.waitUntil(lambda: words in dialog.said.text())


def test_a_table_of_ours_is_understood_at_once(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "old.csv"
    path.write_text("Kind,Width (mm),Height (mm),Place\ncloth,58,228,drawer 2\n", "utf-8")
    dialog = shown(qtbot, session, path)
    settled(qtbot, dialog, "1 piece would be shelved")
    with qtbot.waitSignal(dialog.taken_in) as heard:
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    (trial,) = heard.args
    assert isinstance(trial, Trial)
    assert trial.pieces[0][0].place == "drawer 2"


def test_foreign_headings_are_named_by_hand(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    path = tmp_path / "old.csv"
    path.write_text("Art;B;H\ncloth;58,5;228\n", "utf-8")
    dialog = shown(qtbot, session, path)
    settled(qtbot, dialog, "say which column holds it")
    for field, column in ((Field.KIND, 0), (Field.WIDTH, 1), (Field.HEIGHT, 2)):
        box = dialog.choices.columns[field]
        box.setFocus()
        for _ in range(column + 1):
            qtbot.keyClick(box, Qt.Key.Key_Down)
    settled(qtbot, dialog, "1 row cannot be read")
    assert "Line 2" in dialog.faults.item(0).text()
    assert not dialog.take.isEnabled()
    dialog.choices.point.setFocus()
    qtbot.keyClick(dialog.choices.point, Qt.Key.Key_Down)
    settled(qtbot, dialog, "1 piece would be shelved")
    assert dialog.take.isEnabled()
    dialog.reject()


def test_an_encoding_that_is_not_certain_is_chosen(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "old.csv"
    path.write_bytes("Kind,Width,Height,Pattern\ncloth,58,228,moiré\n".encode("cp1252"))
    dialog = shown(qtbot, session, path)
    assert "Choose its encoding" in dialog.said.text()
    dialog.choices.encoding.choose(Encoding.WESTERN)
    settled(qtbot, dialog, "1 piece would be shelved")
    assert dialog.preview.item(0, 3).text() == "moiré"
    dialog.reject()


def test_a_file_that_is_gone_or_no_table_is_told(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    desk = RecordsDesk(session, lambda _folder: None, list, lambda _paths: None)
    with qtbot.waitSignal(session.trouble) as heard:
        desk.take_in_from(tmp_path / "gone.csv")
    assert "cannot be read" in heard.args[0]
    (tmp_path / "odd.xlsx").write_bytes(b"odd")
    dialog = shown(qtbot, session, tmp_path / "odd.xlsx")
    settled(qtbot, dialog, "no XLSX workbook")
    dialog.reject()


def test_dates_that_can_be_read_two_ways_are_asked_about(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "old.csv"
    path.write_text("Kind,Width,Height,Source date\ncloth,58,228,03/04/1868\n", "utf-8")
    dialog = shown(qtbot, session, path)
    settled(qtbot, dialog, "“03/04/1868” on line 2 can be read two ways")
    assert not dialog.take.isEnabled()
    dialog.choices.order.choose(DayOrder.DAY)
    settled(qtbot, dialog, "Dates are read day first, as chosen")
    with qtbot.waitSignal(dialog.taken_in) as heard:
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    assert heard.args[0].pieces[0][0].source_date == "1868-04-03"


def test_columns_that_go_nowhere_are_named_and_can_go_into_the_note(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "old.csv"
    path.write_text("Kind,Width,Height,Bought at\ncloth,58,228,the fair\n", "utf-8")
    dialog = shown(qtbot, session, path)
    settled(qtbot, dialog, "Not taken in: Bought at.")
    dialog.choices.rest.setChecked(True)
    qtbot.waitUntil(lambda: "Not taken in" not in dialog.said.text() and dialog.take.isEnabled())
    with qtbot.waitSignal(dialog.taken_in) as heard:
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    assert heard.args[0].pieces[0][0].note == "Bought at: the fair"


def test_adhesives_come_in_by_the_same_page(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    path = tmp_path / "tins.csv"
    path.write_text("Class,Name,Left,Opened\npva,Tin,250 g,2026-01-03\npva,Jar,,\n", "utf-8")
    desk = RecordsDesk(session, lambda _folder: None, list, lambda _paths: None)
    desk.take_in_from(path)
    dialog = desk.dialog
    assert isinstance(dialog, ImportDialog)
    settled(qtbot, dialog, "2 lots would be shelved")
    assert dialog.choices.subject.value() is Subject.LOTS
    assert dialog.choices.columns[Field.OPENED].isVisible()
    assert not dialog.choices.columns[Field.WIDTH].isVisible()
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    assert [lot.name for lot in session.stockroom.lots.listed()] == ["Tin", "Jar"]
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert session.stockroom.lots.listed() == []


def test_what_the_rows_are_can_be_chosen(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    path = tmp_path / "odd.csv"
    path.write_text("Type,What\npva,Tin\n", "utf-8")
    dialog = shown(qtbot, session, path)
    settled(qtbot, dialog, "Name: say which column holds it")
    dialog.choices.subject.choose(Subject.PIECES)
    settled(qtbot, dialog, "Kind: say which column holds it")
    dialog.choices.subject.choose(Subject.LOTS)
    settled(qtbot, dialog, "Name: say which column holds it")
    assert dialog.choices.columns[Field.CLASS].currentText() == "Type"
    dialog.choices.columns[Field.NAME].setCurrentText("What")
    settled(qtbot, dialog, "1 lot would be shelved")
    dialog.reject()


def test_pieces_are_shelved_in_one_step_that_undo_takes_back(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "old.csv"
    path.write_text("Kind,Width,Height\n" + "cloth,58,228\n" * 300, "utf-8")
    desk = RecordsDesk(session, lambda _folder: None, list, lambda _paths: None)
    desk.take_in_from(path)
    dialog = desk.dialog
    assert isinstance(dialog, ImportDialog)
    settled(qtbot, dialog, "300 pieces")
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    assert len(session.pieces) == 300
    assert session.stockroom.ledger.undoable().name == "Took in 300 pieces from old.csv"
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert session.pieces == []


@pytest.mark.parametrize("rows", [20_000])
def test_a_long_table_can_be_stopped(
    qtbot: QtBot, session: Session, tmp_path: Path, rows: int
) -> None:
    path = tmp_path / "long.csv"
    path.write_text("Kind,Width,Height\n" + "cloth,58,228\n" * rows, "utf-8")
    dialog = shown(qtbot, session, path)
    assert dialog.stop.isVisible()
    qtbot.mouseClick(dialog.stop, Qt.MouseButton.LeftButton)
    assert not dialog.stop.isVisible()
    assert "Stopped before every row was tried" in dialog.said.text()
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert not dialog.take.isEnabled()
    dialog.reject()


def test_any_sheet_of_a_workbook_can_be_chosen(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    book = openpyxl.Workbook()
    book.active.append(["Nothing"])
    tins = book.create_sheet("Tins")
    for row in (["Class", "Name"], ["pva", "Tin"]):
        tins.append(row)
    book.save(tmp_path / "old.xlsx")
    dialog = shown(qtbot, session, tmp_path / "old.xlsx")
    settled(qtbot, dialog, "no row under a heading")
    dialog.choices.sheet.choose("Tins")
    settled(qtbot, dialog, "1 lot would be shelved")
    dialog.reject()


def test_many_pieces_taken_back_are_followed_and_can_be_stopped(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "old.csv"
    path.write_text("Kind,Width,Height\n" + "cloth,58,228\n" * 3000, "utf-8")
    desk = RecordsDesk(session, lambda _folder: None, list, lambda _paths: None)
    desk.take_in_from(path)
    assert isinstance(desk.dialog, ImportDialog)
    settled(qtbot, desk.dialog, "3000 pieces")
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(desk.dialog.take, Qt.MouseButton.LeftButton)
    session.undo()
    transfer = desk.dialog
    assert isinstance(transfer, Transfer)
    assert transfer.isVisible()
    qtbot.waitUntil(lambda: transfer.bar.value() > 0)
    qtbot.mouseClick(transfer.stop, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not session.jobs.busy)
    assert len(session.pieces) == len(session.stockroom.pieces.listed()) == 3000, "wholly as before"
    assert session.stockroom.keeping.check().faults == ()
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert session.pieces == []
    with qtbot.waitSignal(session.changed):
        session.redo()
    assert len(session.pieces) == 3000
