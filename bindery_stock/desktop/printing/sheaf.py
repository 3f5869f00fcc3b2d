"""Pages ready for paper, however they came to be: laid out by the millimetre, or flowing text."""

from collections.abc import Sequence
from typing import Protocol

from PySide6.QtGui import QImage, QPainter
from PySide6.QtPrintSupport import QPrinter

from bindery_stock.desktop.printing.page_painter import MM_PER_INCH, paint_page
from bindery_stock.desktop.printing.pdf import page_image, page_layout, pages_pdf
from bindery_stock.errors import DiskTrouble
from bindery_stock.records.page import Page


class Sheaf(Protocol):
    """Pages that can be seen, saved and printed."""

    @property
    def count(self) -> int:
        """How many pages there are."""

    def image(self, number: int, dots_per_mm: float) -> QImage:
        """Page ``number`` (from 0) as it will lie on the paper."""

    def pdf(self) -> bytes:
        """All pages as one PDF at full size."""

    def print_on(self, printer: QPrinter) -> None:
        """Print the pages asked for at full size; ``DiskTrouble`` where the printer refuses."""


class LaidOut:
    """Pages laid out by the millimetre: labels, cut plans."""

    def __init__(self, pages: Sequence[Page], title: str) -> None:
        """Hold these pages; the title goes into the PDF."""
        self.pages = tuple(pages)
        self.title = title

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self.pages)

    def image(self, number: int, dots_per_mm: float) -> QImage:
        """Page ``number`` (from 0) as it will lie on the paper."""
        return page_image(self.pages[number], dots_per_mm)

    def pdf(self) -> bytes:
        """All pages as one PDF at full size."""
        return pages_pdf(self.pages, self.title)

    def print_on(self, printer: QPrinter) -> None:
        """Print the pages asked for at full size; ``DiskTrouble`` where the printer refuses."""
        printer.setFullPage(True)
        first = self.pages[0]
        printer.setPageLayout(page_layout(first.width, first.height))
        painter = begin(printer)
        try:
            for turn, number in enumerate(asked_for(printer, self.count)):
                if turn:
                    printer.newPage()
                paint_page(painter, self.pages[number], printer.resolution() / MM_PER_INCH)
        finally:
            painter.end()


def begin(printer: QPrinter) -> QPainter:
    """A painter on the printer. Raises ``DiskTrouble`` where it does not take the work."""
    painter = QPainter()
    if not painter.begin(printer):
        raise DiskTrouble(
            f"The printer {printer.printerName() or 'chosen'} does not answer. See that it is on, "
            "or save a PDF and print that."
        )
    return painter


def asked_for(printer: QPrinter, count: int) -> range:
    """The pages, from 0, that were asked for when the printer was chosen."""
    if printer.printRange() is not QPrinter.PrintRange.PageRange:
        return range(count)
    return range(max(printer.fromPage(), 1) - 1, min(printer.toPage() or count, count))
