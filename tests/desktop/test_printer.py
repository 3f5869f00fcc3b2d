"""What is sent to a printer: a printer that writes a file stands in, and pypdf reads it back."""

from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtGui import QPageLayout
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication

from bindery_stock.desktop.printing.flow import Flowing
from bindery_stock.desktop.printing.pdf import page_layout
from bindery_stock.desktop.printing.sheaf import LaidOut, Sheaf
from bindery_stock.errors import DiskTrouble
from bindery_stock.records.html import grid
from bindery_stock.records.label_sheets import SHEETS, LabelSheet
from bindery_stock.records.labels import label_pages
from bindery_stock.records.page import A4, LETTER, Paper
from tests.records.test_label_layout import GREEN

MM = 25.4 / 72


def printer_to(path: Path) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    return printer


def a_list(paper: Paper, *, landscape: bool = False) -> Flowing:
    rows = [[f"C-{n:04d}", "rib cloth"] for n in range(150)]
    return Flowing(grid(["Code", "Kind"], rows), paper, "Stock", landscape=landscape)


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("landscape", [False, True])
def test_a_list_is_printed_on_the_paper_chosen_page_by_page(
    qapp: QApplication, tmp_path: Path, paper: Paper, landscape: bool
) -> None:
    flowing = a_list(paper, landscape=landscape)
    printer = printer_to(tmp_path / "list.pdf")
    flowing.print_on(printer)
    pages = PdfReader(tmp_path / "list.pdf").pages
    assert len(pages) == flowing.count
    sides = (paper.height, paper.width) if landscape else (paper.width, paper.height)
    for page in pages:
        size = (float(page.mediabox.width) * MM, float(page.mediabox.height) * MM)
        assert size == pytest.approx(sides, abs=0.5)
    assert "C-0149" in pages[-1].extract_text()


def test_paper_on_its_side_is_told_to_the_printer_as_such(qapp: QApplication) -> None:
    layout = page_layout(A4.height, A4.width)
    assert layout.orientation() is QPageLayout.Orientation.Landscape
    assert layout.pageSize().name().startswith("A4")
    roll = page_layout(62.0, 29.0)
    assert roll.orientation() is QPageLayout.Orientation.Portrait


@pytest.mark.parametrize("sheet", [SHEETS[0], SHEETS[5], SHEETS[8]], ids=lambda sheet: sheet.name)
def test_labels_are_printed_on_a_sheet_and_on_a_label_printer(
    qapp: QApplication, tmp_path: Path, sheet: LabelSheet
) -> None:
    pages = label_pages([GREEN, GREEN], sheet)
    LaidOut(pages, "Labels").print_on(printer_to(tmp_path / "labels.pdf"))
    printed = PdfReader(tmp_path / "labels.pdf").pages
    assert len(printed) == len(pages)
    size = (float(printed[0].mediabox.width) * MM, float(printed[0].mediabox.height) * MM)
    assert size == pytest.approx((sheet.paper_width, sheet.paper_height), abs=0.5)
    assert GREEN.code in printed[0].extract_text()


def sheaves() -> list[Sheaf]:
    labels = label_pages([GREEN] * 5, SHEETS[8])
    return [a_list(A4), LaidOut(labels, "Labels")]


@pytest.mark.parametrize("which", [0, 1], ids=["list", "labels"])
def test_only_the_pages_asked_for_are_printed(
    qapp: QApplication, tmp_path: Path, which: int
) -> None:
    sheaf = sheaves()[which]
    assert sheaf.count > 3
    printer = printer_to(tmp_path / "part.pdf")
    printer.setPrintRange(QPrinter.PrintRange.PageRange)
    printer.setFromTo(2, 3)
    sheaf.print_on(printer)
    pages = PdfReader(tmp_path / "part.pdf").pages
    assert len(pages) == 2
    if which == 0:
        assert f"Page 2 of {sheaf.count}" in " ".join(pages[0].extract_text().split())


@pytest.mark.qt_log_ignore("QPainter::begin.*")
def test_a_printer_that_does_not_take_the_work_is_told(qapp: QApplication, tmp_path: Path) -> None:
    with pytest.raises(DiskTrouble, match="does not answer"):
        a_list(A4).print_on(printer_to(tmp_path / "no folder" / "list.pdf"))
