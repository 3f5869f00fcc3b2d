"""Flowing text on pages: real page breaks, table headings repeated, each page numbered."""

from collections.abc import Iterable

from PySide6.QtCore import QBuffer, QIODevice, QRectF, QSizeF, Qt
from PySide6.QtGui import (
    QAbstractTextDocumentLayout,
    QColor,
    QImage,
    QPagedPaintDevice,
    QPainter,
    QPalette,
    QTextDocument,
    QTextOption,
    QTextTable,
)
from PySide6.QtPrintSupport import QPrinter

from bindery_stock.desktop.printing.page_painter import MM_PER_INCH, plain_font
from bindery_stock.desktop.printing.paper_style import dots_per_mm, paper_style
from bindery_stock.desktop.printing.pdf import page_layout, writer_on
from bindery_stock.desktop.printing.sheaf import asked_for, begin
from bindery_stock.desktop.printing.text_measure import Measuring
from bindery_stock.records.breaks import broken
from bindery_stock.records.page import Paper
from bindery_stock.records.pdf_finish import finished

MARGIN_MM = 16.0
_FOOT_MM = 8.0
_FOOT_GAP_MM = 6.0
"""Between the title at the foot and the page number; a longer title is shortened."""
_INDENT_MM = 5.0
"""Room for the dot before an item of a list."""
BODY_POINTS = 9.0
LIST_POINTS = 8.0
_FOOT_POINTS = 8.0
_HAIR = 1.0
"""So many dots of the setting are left off above and below, thinner than any rule or letter."""


class Flowing:
    """An HTML text set on paper: what a treatment record and a list are printed as.

    The text is set once as if on an endless roll, and each page shows a stretch of it: so a row is
    never parted, however long the list.
    """

    def __init__(
        self,
        body: str,
        paper: Paper,
        title: str,
        *,
        landscape: bool = False,
        points: float = BODY_POINTS,
        last_page_mm: float = 0.0,
    ) -> None:
        """Set the body of a page of HTML on this paper in type of this size.

        ``title`` and the page number stand at the foot. Of several pages the last holds so much of
        the text at least.
        """
        self.title = title
        sides = (paper.width, paper.height)
        self.width, self.height = reversed(sides) if landscape else sides
        # All measures are those of one device, so that preview and paper break alike.
        self._buffer = QBuffer()
        self._buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        self._device = writer_on(self._buffer, self.width, self.height, title)
        self._dots = self._device.resolution() / MM_PER_INCH
        self._document = QTextDocument()
        self._document.setDocumentMargin(0)
        font = plain_font()
        font.setPointSizeF(points)
        self._document.setDefaultFont(font)
        wrapping = self._document.defaultTextOption()
        wrapping.setWrapMode(QTextOption.WrapMode.WordWrap)  # a cell is wide enough for its words
        self._document.setDefaultTextOption(wrapping)
        self._document.documentLayout().setPaintDevice(self._device)
        self._document.setDefaultStyleSheet(paper_style(points))
        self._document.setIndentWidth(_INDENT_MM * dots_per_mm())
        self._document.setHtml(body)
        _stand_clear_of_tables(self._document)
        self._document.setTextWidth(self._room.width())
        room = self._room.height()
        measuring = Measuring(self._document, room)
        self._pages = broken(measuring.found(last_page_mm * self._dots), room)
        measuring.part(self._pages)

    @property
    def _room(self) -> QSizeF:
        """Width and height of the text on each page, in dots."""
        return QSizeF(
            (self.width - 2 * MARGIN_MM) * self._dots,
            (self.height - 2 * MARGIN_MM - _FOOT_MM) * self._dots,
        )

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._pages)

    def image(self, number: int, dots_per_mm: float) -> QImage:
        """Page ``number`` (from 0) as it will lie on the paper."""
        image = QImage(
            round(self.width * dots_per_mm),
            round(self.height * dots_per_mm),
            QImage.Format.Format_RGB32,
        )
        image.fill(0xFFFFFFFF)
        painter = QPainter(image)
        try:
            self._paint(painter, number, dots_per_mm)
        finally:
            painter.end()
        return image

    def pdf(self) -> bytes:
        """All pages as one PDF, fonts embedded, text as text."""
        buffer = QBuffer()
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        writer = writer_on(buffer, self.width, self.height, self.title)
        painter = QPainter(writer)
        try:
            self._paint_pages(painter, writer, range(self.count))
        finally:
            painter.end()
        return finished(bytes(buffer.data().data()))

    def print_on(self, printer: QPrinter) -> None:
        """Print the pages asked for at full size; ``DiskTrouble`` where the printer refuses."""
        printer.setFullPage(True)
        printer.setPageLayout(page_layout(self.width, self.height))
        painter = begin(printer)
        try:
            self._paint_pages(painter, printer, asked_for(printer, self.count))
        finally:
            painter.end()

    def _paint_pages(
        self, painter: QPainter, device: QPagedPaintDevice, numbers: Iterable[int]
    ) -> None:
        for turn, number in enumerate(numbers):
            if turn:
                device.newPage()
            self._paint(painter, number, device.logicalDpiX() / MM_PER_INCH)

    def _paint(self, painter: QPainter, number: int, dots_per_mm: float) -> None:
        painter.save()
        painter.scale(dots_per_mm / self._dots, dots_per_mm / self._dots)
        room = self._room
        painter.translate(MARGIN_MM * self._dots, MARGIN_MM * self._dots)
        painter.save()
        page = self._pages[number]
        if page.head is not None:
            self._paint_stretch(painter, page.head.top, page.head.bottom)
            painter.translate(0, page.head.bottom - page.head.top)
        self._paint_stretch(painter, page.top, page.bottom)
        painter.restore()
        self._paint_foot(painter, number, room)  # last, as it is read
        painter.restore()

    def _paint_stretch(self, painter: QPainter, top: float, bottom: float) -> None:
        """Paint what of the text lies between two heights, and nothing that only touches it.

        Always black: the words of a dark window would be white, and so on paper.
        """
        painter.save()
        painter.translate(0, -top)
        inside = QRectF(0, top + _HAIR, self._room.width(), bottom - top - 2 * _HAIR)
        painter.setClipRect(inside)
        drawn = QAbstractTextDocumentLayout.PaintContext()
        drawn.clip = inside
        drawn.palette = QPalette(QColor(0, 0, 0), QColor(255, 255, 255))
        drawn.palette.setColor(QPalette.ColorRole.Text, QColor(0, 0, 0))
        self._document.documentLayout().draw(painter, drawn)
        painter.restore()

    def _paint_foot(self, painter: QPainter, number: int, room: QSizeF) -> None:
        font = plain_font()
        font.setPixelSize(round(_FOOT_POINTS / 72 * MM_PER_INCH * self._dots))
        painter.setFont(font)
        painter.setPen(QColor(0, 0, 0))
        foot = QRectF(0, room.height(), room.width(), _FOOT_MM * self._dots)
        low = Qt.AlignmentFlag.AlignBottom
        page = f"Page {number + 1} of {self.count}"
        taken = painter.fontMetrics().horizontalAdvance(page) + _FOOT_GAP_MM * self._dots
        left = QRectF(foot.left(), foot.top(), foot.width() - taken, foot.height())
        title = painter.fontMetrics().elidedText(
            self.title, Qt.TextElideMode.ElideRight, int(left.width())
        )
        painter.drawText(left, low | Qt.AlignmentFlag.AlignLeft, title)
        painter.drawText(foot, low | Qt.AlignmentFlag.AlignRight, page)


def _stand_clear_of_tables(document: QTextDocument) -> None:
    """Qt forgets the space above a paragraph that follows a table at once: the table gets it."""
    for frame in document.rootFrame().childFrames():
        after = document.findBlock(frame.lastPosition() + 1)
        if isinstance(frame, QTextTable) and after.text():
            style = frame.format().toTableFormat()
            style.setBottomMargin(style.bottomMargin() + after.blockFormat().topMargin())
            frame.setFormat(style)
