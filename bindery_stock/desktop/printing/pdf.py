"""Laid-out pages as a PDF at full size, fonts embedded."""

from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter, QPdfWriter

from bindery_stock import __version__
from bindery_stock.desktop.printing.page_painter import MM_PER_INCH, paint_page
from bindery_stock.errors import EntryError
from bindery_stock.records.page import Page
from bindery_stock.records.pdf_finish import finished

DOTS_PER_INCH = 1200
_MM_PER_DOT = MM_PER_INCH / DOTS_PER_INCH


def page_layout(width: float, height: float) -> QPageLayout:
    """A page of this size in mm, without margins: the layout has its own.

    Paper that a printer knows and that lies on its side is told so, or the printer would look for a
    paper as wide as that. A label wider than high is as it is.
    """
    upright = _page_size(height, width)
    if width > height and upright.id() is not QPageSize.PageSizeId.Custom:
        size, way = upright, QPageLayout.Orientation.Landscape
    else:
        size, way = _page_size(width, height), QPageLayout.Orientation.Portrait
    return QPageLayout(size, way, QMarginsF(), QPageLayout.Unit.Millimeter)


def _page_size(width: float, height: float) -> QPageSize:
    return QPageSize(
        QSizeF(width, height), QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.ExactMatch
    )


def writer_on(buffer: QBuffer, width: float, height: float, title: str) -> QPdfWriter:
    """A PDF writer for pages of this size in mm, writing into an open buffer."""
    writer = QPdfWriter(buffer)
    writer.setResolution(DOTS_PER_INCH)
    writer.setTitle(title)
    writer.setCreator(f"Bindery Stock {__version__}")
    writer.setPageLayout(page_layout(width, height))
    return writer


def pages_pdf(pages: Sequence[Page], title: str) -> bytes:
    """The pages as one PDF. Raises ``EntryError`` where there are none."""
    if not pages:
        raise EntryError("Pages", "There is nothing to print.")
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = writer_on(buffer, pages[0].width, pages[0].height, title)
    painter = QPainter(writer)
    try:
        for number, page in enumerate(pages):
            if number:
                writer.setPageLayout(page_layout(page.width, page.height))
                writer.newPage()
            paint_page(painter, page, 1 / _MM_PER_DOT)
    finally:
        painter.end()
    return finished(bytes(buffer.data().data()))


def page_image(page: Page, dots_per_mm: float) -> QImage:
    """A page as it will lie on the paper, for the preview."""
    image = QImage(
        round(page.width * dots_per_mm),
        round(page.height * dots_per_mm),
        QImage.Format.Format_RGB32,
    )
    image.fill(0xFFFFFFFF)
    painter = QPainter(image)
    try:
        paint_page(painter, page, dots_per_mm)
    finally:
        painter.end()
    return image
