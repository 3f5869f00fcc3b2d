"""Labels on paper: seen, saved, and read back by PDFium, pypdf and zxing."""

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.exchange.labels_dialog import LabelsDialog
from bindery_stock.desktop.printing.pdf import pages_pdf
from bindery_stock.desktop.session import Session
from bindery_stock.records.label_sheets import SHEETS, LabelSheet
from bindery_stock.records.labels import label_pages, trial_page
from bindery_stock.shape import Outline
from bindery_stock.stock import Colour, NewAdhesiveLot, NewPiece
from bindery_stock.trade.vocabulary import Kind
from tests.records.rendered import MM_PER_DOT, dark_runs, paint
from tests.records.test_label_layout import GREEN


@pytest.fixture
def shelf(session: Session) -> Session:
    scrap = NewPiece(
        kind=Kind.CLOTH,
        outline=Outline(((0, 0), (127, 0), (127, 189), (0, 189))),
        pattern="fine rib",
        colours=(Colour(lab=(49.8, -35.9, 24.1)),),
        source_date="1850",
        place="Drawer 2 <b>left</b>",
    )
    for _ in range(3):
        session.stockroom.pieces.shelve(scrap)
    session.stockroom.lots.enter(NewAdhesiveLot(kind="wheat-starch-paste", name="Paste, thick"))
    session.use(session.stockroom.open(session.stockroom.folder, read_only=True))
    return session


def test_every_code_on_a_full_sheet_is_read_by_another_program(qapp: QApplication) -> None:
    # ISO/IEC 18004 symbols decoded by zxing-cpp, an independent reader.
    codes = [f"C-{number:04d}" for number in range(40)]
    for sheet in (SHEETS[0], SHEETS[3], SHEETS[5], SHEETS[8]):
        labels = [replace(GREEN, code=code) for code in codes[: sheet.on_sheet]]
        picture = paint(pages_pdf(label_pages(labels, sheet), "Labels"))
        found = zxingcpp.read_barcodes(np.asarray(picture))
        assert sorted(one.text for one in found) == codes[: sheet.on_sheet]
        assert {one.format for one in found} == {zxingcpp.BarcodeFormat.QRCode}


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_labels_lie_to_a_fifth_of_a_millimetre_on_the_rendered_page(
    qapp: QApplication, sheet: LabelSheet
) -> None:
    picture = np.asarray(paint(pages_pdf([trial_page(replace(sheet, corner=0))], "Test")))
    assert picture.shape[1] * MM_PER_DOT == pytest.approx(sheet.paper_width, abs=0.2)
    assert picture.shape[0] * MM_PER_DOT == pytest.approx(sheet.paper_height, abs=0.2)
    for column in (0, sheet.columns - 1):
        for row in (0, sheet.rows - 1):
            x, y = sheet.corner_of(row * sheet.columns + column)
            # A little in from the corner there is nothing but the two edges.
            across = picture[round((y + 0.7) / MM_PER_DOT)]
            down = picture[:, round((x + 0.7) / MM_PER_DOT)]
            for runs, edge in ((across, x), (down, y)):
                starts = [(a + b) / 2 for a, b in dark_runs(runs)]
                nearest = min(abs(start - edge) for start in starts)
                assert nearest <= 0.2, f"label edge at {edge} mm is {nearest:.2f} mm off"


def test_the_check_line_measures_fifty_millimetres(qapp: QApplication) -> None:
    picture = np.asarray(paint(pages_pdf(label_pages([GREEN], SHEETS[0]), "Labels")))
    margin = picture[: round(SHEETS[0].top / MM_PER_DOT)]
    lengths = [b - a for line in margin for a, b in dark_runs(line)]
    assert max(lengths) == pytest.approx(50.0, abs=0.15)


def test_the_words_of_a_label_can_be_searched_in_the_pdf_and_its_fonts_are_in_it(
    qapp: QApplication,
) -> None:
    reader = PdfReader(BytesIO(pages_pdf(label_pages([GREEN], SHEETS[4]), "Labels")))
    (page,) = reader.pages
    text = page.extract_text()
    assert GREEN.code in text
    assert "arsenical green" in text.replace("\n", " ")
    assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(210.0, abs=0.2)
    fonts = page["/Resources"]["/Font"]
    for font in fonts.values():
        descendant = font.get_object()["/DescendantFonts"][0].get_object()
        assert "/FontFile2" in descendant["/FontDescriptor"].get_object()


def test_labels_of_what_is_chosen_are_seen_and_saved(
    qtbot: QtBot, shelf: Session, tmp_path: Path
) -> None:
    dialog = LabelsDialog(shelf, ["C-0002", "A-0001"], None)
    qtbot.addWidget(dialog)
    dialog.show()
    assert dialog.paper.page.text() == "Page 1 of 1"
    facts = dialog.labels()
    assert [one.code for one in facts] == ["C-0002", "A-0001"]
    assert facts[0].caution.startswith("△ Stop: arsenical green")
    dialog.paper.save(tmp_path / "labels.pdf")
    text = PdfReader(tmp_path / "labels.pdf").pages[0].extract_text()
    assert "Paste, thick" in text
    assert "<b>left</b>" in text, "words are never read as markup"


def test_every_piece_gets_a_label_from_the_label_left_on_the_sheet(
    qtbot: QtBot, shelf: Session
) -> None:
    dialog = LabelsDialog(shelf, [], None)
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.start.setFocus()
    dialog.start.selectAll()
    qtbot.keyClicks(dialog.start, "20")
    qtbot.keyClick(dialog.start, Qt.Key.Key_Return)
    assert dialog.paper.page.text() == "Page 1 of 2"
    qtbot.mouseClick(dialog.paper.forth, Qt.MouseButton.LeftButton)
    assert dialog.paper.page.text() == "Page 2 of 2"


def test_the_numbers_of_the_sheet_can_be_seen(qtbot: QtBot, shelf: Session) -> None:
    dialog = LabelsDialog(shelf, [], None)
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.mouseClick(dialog.own, Qt.MouseButton.LeftButton)
    for box in (dialog.start, *dialog.shift, dialog.form.columns, dialog.form.rows):
        words = box.fontMetrics().horizontalAdvance(box.text())
        assert box.lineEdit().width() > words + 8


def test_a_sheet_of_ones_own_is_measured_and_kept(qtbot: QtBot, shelf: Session) -> None:
    dialog = LabelsDialog(shelf, ["C-0001"], None)
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.mouseClick(dialog.own, Qt.MouseButton.LeftButton)
    for entry, typed in ((dialog.form.name, "Jar labels"), (dialog.form.entries["top"], "60")):
        entry.selectAll()
        qtbot.keyClicks(entry, typed)
    assert "paper ends at 297 mm" in dialog.paper.said.text()
    assert not dialog.paper.save_button.isEnabled()
    dialog.form.rows.setValue(5)
    assert dialog.paper.save_button.isEnabled()
    qtbot.mouseClick(dialog.form.keep, Qt.MouseButton.LeftButton)
    assert dialog.sheet_box.currentText() == "Jar labels"
    again = LabelsDialog(shelf, ["C-0001"], None)
    qtbot.addWidget(again)
    assert again.sheet().rows == 5
    assert again.sheet().top == 60.0


def test_a_pdf_that_cannot_be_written_is_told_and_leaves_nothing(
    qtbot: QtBot, shelf: Session, tmp_path: Path
) -> None:
    dialog = LabelsDialog(shelf, ["C-0001"], None)
    qtbot.addWidget(dialog)
    dialog.paper.save(tmp_path / "not there" / "labels.pdf")
    assert "cannot be written" in dialog.paper.said.text()
    assert list(tmp_path.glob("not there")) == []


def test_without_a_printer_the_way_out_is_said(
    qtbot: QtBot, shelf: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        "bindery_stock.desktop.printing.paper_panel.QPrinterInfo.availablePrinterNames",
        staticmethod(list),
    )
    dialog = LabelsDialog(shelf, ["C-0001"], None)
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.mouseClick(dialog.paper.print_button, Qt.MouseButton.LeftButton)
    assert "Save a PDF" in dialog.paper.said.text()
