"""How a choice is drawn: the colour sought and the cloth touching, then its words."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QPainter
from PySide6.QtWidgets import (
    QApplication,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from bindery_stock.bench.books.share_out import ShareChoice
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.cloth import fill_with_cloth, hatch
from bindery_stock.desktop.books.share_model import CHOICE_ROLE, Index
from bindery_stock.desktop.drawn_shapes import cosmetic, lab_colour, surround
from bindery_stock.desktop.look import GRID, grey, greys
from bindery_stock.desktop.previews import Previews

ROW_HEIGHT = GRID * 13
_SWATCH = GRID * 24


class ShareDelegate(QStyledItemDelegate):
    """Draws the cells of a sharing-out."""

    def __init__(self, books: BenchBooks, previews: Previews, parent: QWidget) -> None:
        """Take the photographs from ``previews``."""
        super().__init__(parent)
        self._books, self._previews = books, previews

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        """Every row of one height."""
        return QSize(_SWATCH * 2, ROW_HEIGHT)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        choice = index.data(CHOICE_ROLE)
        steps = greys()
        area = QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(area, grey(steps.faint if chosen else steps.panel))
        painter.setPen(cosmetic(grey(steps.line), 1))
        painter.drawLine(area.bottomLeft(), area.bottomRight())
        if chosen:
            painter.setPen(cosmetic(grey(steps.text), 1))
            painter.drawLine(area.topLeft(), area.topRight())
            painter.drawLine(area.bottomLeft(), area.bottomRight())
        words = area.adjusted(GRID * 2, GRID, -GRID * 2, -GRID)
        if isinstance(choice, ShareChoice):
            swatch = area.adjusted(GRID * 2, GRID * 1.5, 0, -GRID * 1.5)
            swatch.setWidth(_SWATCH)
            self._paint_swatch(painter, swatch, choice)
            words.setLeft(swatch.right() + GRID * 3)
        self._paint_words(painter, words, str(index.data() or ""), quiet=_without(choice))
        if chosen and option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(cosmetic(grey(steps.text), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(area.adjusted(1, 1, -2, -2))
        painter.restore()

    def _paint_swatch(self, painter: QPainter, area: QRectF, choice: ShareChoice) -> None:
        painter.fillRect(area, surround())
        inner = area.adjusted(4, 4, -4, -4)
        lab = choice.part.lab
        left = QRectF(inner)
        if lab is not None:
            left.setWidth(round(inner.width() * 0.42))
            painter.fillRect(left, lab_colour(lab))
            inner.setLeft(left.right())
        if choice.placed is None:
            painter.fillRect(inner, grey(greys().panel))
            hatch(painter, inner)
            return
        piece = self._books.piece(choice.placed.code)
        fill_with_cloth(painter, inner, piece, choice.placed.placement.corners, self._previews)

    def _paint_words(self, painter: QPainter, area: QRectF, words: str, *, quiet: bool) -> None:
        steps = greys()
        lines = words.split("\n")
        metrics = painter.fontMetrics()
        y = area.center().y() - metrics.height() * len(lines) / 2
        for number, line in enumerate(lines):
            font = QFont(QApplication.font())
            font.setItalic(quiet)
            painter.setFont(font)
            painter.setPen(grey(steps.muted if number or quiet else steps.text))
            shown = metrics.elidedText(line, Qt.TextElideMode.ElideRight, int(area.width()))
            painter.drawText(int(area.left()), int(y + metrics.ascent()), shown)
            y += metrics.height()


def _without(choice: object) -> bool:
    return isinstance(choice, ShareChoice) and choice.placed is None
