"""Paints a laid-out page, millimetre for millimetre, on whatever Qt can paint on."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from bindery_stock.desktop.drawn_shapes import lab_colour
from bindery_stock.records.page import Align, Box, Mark, Page, Squares, Stroke, Words

MM_PER_INCH = 25.4
_INK = QColor(0, 0, 0)
_ALIGNED = {
    Align.LEFT: Qt.AlignmentFlag.AlignLeft,
    Align.CENTRE: Qt.AlignmentFlag.AlignHCenter,
    Align.RIGHT: Qt.AlignmentFlag.AlignRight,
}
_SMALLER = 0.94
"""By which type that is too long is made smaller, step by step."""


def paint_page(painter: QPainter, page: Page, dots_per_mm: float) -> None:
    """Paint a page whose upper left corner is the painter's origin; always black on white."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    for mark in page.marks:
        _paint(painter, mark, dots_per_mm)


def _paint(painter: QPainter, mark: Mark, k: float) -> None:
    match mark:
        case Words():
            _words(painter, mark, k)
        case Box():
            _box(painter, mark, k)
        case Stroke():
            _stroke(painter, mark, k)
        case Squares():
            _squares(painter, mark, k)


def _pen(width_mm: float, k: float) -> QPen:
    pen = QPen(_INK, width_mm * k)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return pen


def _box(painter: QPainter, box: Box, k: float) -> None:
    area = QRectF(box.x * k, box.y * k, box.width * k, box.height * k)
    painter.setPen(_pen(box.line, k) if box.line else Qt.PenStyle.NoPen)
    painter.setBrush(lab_colour(box.fill) if box.fill else Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(area, box.corner * k, box.corner * k)


def _stroke(painter: QPainter, stroke: Stroke, k: float) -> None:
    pen = _pen(stroke.width, k)
    if stroke.dashed:
        pen.setDashPattern([6.0, 4.0])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    shape = QPolygonF([QPointF(x * k, y * k) for x, y in stroke.points])
    if stroke.closed:
        painter.drawPolygon(shape)
    else:
        painter.drawPolyline(shape)


def _squares(painter: QPainter, squares: Squares, k: float) -> None:
    painter.save()
    # Neighbouring modules must touch without a light seam between them.
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(_INK)
    side = squares.side * k
    painter.drawRects([QRectF(x * k, y * k, side, side) for x, y in squares.corners])
    painter.restore()


def plain_font() -> QFont:
    """The system's own face without ligatures, which would break words when they are searched."""
    font = QFont(QFont().family())
    font.setFeature(QFont.Tag("liga"), 0)
    return font


def _font(words: Words, size_mm: float, k: float) -> QFont:
    font = plain_font()
    font.setPixelSize(max(1, round(size_mm * k)))
    font.setBold(words.bold)
    return font


def _words(painter: QPainter, words: Words, k: float) -> None:
    area = QRectF(words.x * k, words.y * k, words.width * k, words.height * k)
    size = words.size
    while size * _SMALLER >= words.least and not _fits(words, _font(words, size, k), area):
        size *= _SMALLER
    font = _font(words, size, k)
    text = words.text
    if not _fits(words, font, area):
        text = _shortened(words, font, area)
    painter.setFont(font)
    painter.setPen(_INK)
    flags = _ALIGNED[words.align] | Qt.AlignmentFlag.AlignVCenter
    painter.drawText(area, int(flags) | _wrapping(words), text)


def _wrapping(words: Words) -> int:
    return int(Qt.TextFlag.TextWordWrap) if words.wrap else int(Qt.TextFlag.TextSingleLine)


def _fits(words: Words, font: QFont, area: QRectF) -> bool:
    metrics = QFontMetricsF(font)
    if not words.wrap:
        return metrics.horizontalAdvance(words.text) <= area.width()
    needed = metrics.boundingRect(area, _wrapping(words), words.text)
    return needed.height() <= area.height() and needed.width() <= area.width()


def _shortened(words: Words, font: QFont, area: QRectF) -> str:
    """The words with an ellipsis where they end, which is told rather than cut off unseen."""
    metrics = QFontMetricsF(font)
    if not words.wrap:
        return metrics.elidedText(words.text, Qt.TextElideMode.ElideRight, area.width())
    lines = max(1, int(area.height() // metrics.lineSpacing()))
    room = area.width() * lines * 0.9  # words do not break at the very edge
    return metrics.elidedText(words.text, Qt.TextElideMode.ElideRight, room)
