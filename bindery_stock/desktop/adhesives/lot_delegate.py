"""How one lot is drawn: what it is, the bar of life left, and its verdicts by use."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter
from PySide6.QtWidgets import (
    QApplication,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from bindery_stock.bench.fitness import by_grade
from bindery_stock.bench.lot_rows import LotRow, amount_of, stands
from bindery_stock.desktop.adhesives.lot_model import ROW_ROLE, Index
from bindery_stock.desktop.drawing import cosmetic
from bindery_stock.desktop.look import GRID, grey, greys
from bindery_stock.desktop.wrapping import wrapped

_LINES = 5
_BAR_HEIGHT = GRID * 2
_WHAT_SHARE, _LIFE_SHARE = 0.33, 0.25
_GAP = GRID * 4


class LotDelegate(QStyledItemDelegate):
    """Draws a lot in three columns: the tin, its time, its uses."""

    def __init__(self, parent: QWidget) -> None:
        """Draw for this list."""
        super().__init__(parent)

    def sizeHint(self, option: QStyleOptionViewItem, _index: Index) -> QSize:
        """Room for five lines of type."""
        line = option.fontMetrics.height() + GRID / 2
        return QSize(GRID * 100, round(line * _LINES) + GRID * 4)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one lot."""
        row: LotRow = index.data(ROW_ROLE)
        painter.save()
        area = QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        self._paint_ground(painter, area, chosen=chosen, focused=focused)
        body = area.adjusted(GRID * 3, GRID * 2, -GRID * 3, -GRID * 2)
        what = QRectF(body.left(), body.top(), body.width() * _WHAT_SHARE, body.height())
        life = QRectF(what.right() + _GAP, body.top(), body.width() * _LIFE_SHARE, body.height())
        uses = QRectF(body)
        uses.setLeft(life.right() + _GAP)
        self._paint_what(painter, what, row)
        self._paint_life(painter, life, row)
        self._paint_uses(painter, uses, row)
        painter.restore()

    def _paint_ground(
        self, painter: QPainter, area: QRectF, *, chosen: bool, focused: bool
    ) -> None:
        steps = greys()
        if chosen:
            painter.fillRect(area, grey(steps.faint))
            painter.setPen(cosmetic(grey(steps.text), 2 if focused else 1))
            painter.drawRect(area.adjusted(1, 1, -1, -1))
        else:
            painter.setPen(cosmetic(grey(steps.line), 1))
            painter.drawLine(area.bottomLeft(), area.bottomRight())

    def _paint_what(self, painter: QPainter, area: QRectF, row: LotRow) -> None:
        lot = row.lot
        pen = _Lines(painter, area)
        pen.write(lot.name, bold=True, lines=2)
        pen.write(f"{lot.code}  {row.class_name}", quiet=True)
        pen.write(amount_of(lot))
        pen.write(stands(lot), quiet=True)

    def _paint_life(self, painter: QPainter, area: QRectF, row: LotRow) -> None:
        steps = greys()
        pen = _Lines(painter, area)
        pen.write(row.life_words, bold=row.life.over or row.ends_soon)
        bar = QRectF(area.left(), pen.y + GRID / 2, area.width(), _BAR_HEIGHT)
        edge = cosmetic(grey(steps.field), 1)
        share = row.life.share_left
        if share is None:
            edge.setStyle(Qt.PenStyle.DashLine)
        else:
            left = QRectF(bar.left(), bar.top(), bar.width() * share, bar.height())
            painter.fillRect(left, grey(steps.muted))
        painter.setPen(edge)
        painter.drawRect(bar)
        pen.y = bar.bottom() + GRID
        if row.life_date:
            pen.write(row.life_date)
        pen.write(row.life.ending.value, quiet=True)
        if row.barred_everywhere:
            pen.write("✕ barred", bold=True)

    def _paint_uses(self, painter: QPainter, area: QRectF, row: LotRow) -> None:
        groups = by_grade(row.fitness)
        pen = _Lines(painter, area)
        bold = QFontMetricsF(pen.font(bold=True))
        indent = max((bold.horizontalAdvance(word) for word, _ in groups), default=0.0) + GRID * 2
        spare = _LINES - len(groups)
        for word, uses in groups:
            y = pen.y
            pen.write(word, bold=True)
            pen.y = y
            spare -= pen.write(uses, indent=indent, lines=1 + spare) - 1


class _Lines:
    """Writes one line under another, each cut to the width of its column."""

    def __init__(self, painter: QPainter, area: QRectF) -> None:
        self._painter, self._area = painter, area
        self.y = area.top()

    def font(self, *, bold: bool) -> QFont:
        font = QFont(QApplication.font())
        font.setBold(bold)
        return font

    def write(
        self,
        text: str,
        *,
        bold: bool = False,
        quiet: bool = False,
        indent: float = 0.0,
        lines: int = 1,
    ) -> int:
        """Write on at most ``lines`` lines, the last cut short; returns how many it took."""
        painter, steps = self._painter, greys()
        painter.setFont(self.font(bold=bold))
        painter.setPen(grey(steps.muted if quiet else steps.text))
        metrics = painter.fontMetrics()
        room = max(0, int(self._area.width() - indent))
        shown = wrapped(text, metrics, room, lines)
        for line in shown:
            at = QPointF(self._area.left() + indent, self.y + metrics.ascent())
            painter.drawText(at, line)
            self.y += metrics.height() + GRID / 2
        return len(shown)
