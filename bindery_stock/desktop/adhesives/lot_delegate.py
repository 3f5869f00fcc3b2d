"""How one lot is drawn: what it is, the bar of life left, and its verdicts by use."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QFontMetricsF, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from bindery_stock.bench.adhesives.fitness import by_grade
from bindery_stock.bench.adhesives.shelf_rows import LotRow, amount_of, stands
from bindery_stock.desktop.drawn_shapes import cosmetic
from bindery_stock.desktop.look import GRID, grey, greys
from bindery_stock.desktop.row_list import ROW_ROLE, Index, RowList
from bindery_stock.desktop.wrapped_words import wrapped

_BAR_HEIGHT = GRID * 2
_WHAT_SHARE, _LIFE_SHARE = 0.33, 0.25
_GAP = GRID * 4
_BETWEEN = GRID / 2
_MOST_NAME, _MOST_PLACE, _MOST_USES = 3, 2, 20
"""Lines a name, a place and the uses of one verdict may take; uses are never cut short."""


class LotDelegate(QStyledItemDelegate):
    """Draws a lot in three columns: the tin, its time, its uses. A row is as tall as they need."""

    def __init__(self, parent: QAbstractItemView) -> None:
        """Draw for this list."""
        super().__init__(parent)
        self._view = parent

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        """Room for the longest of the three columns."""
        row: LotRow = index.data(ROW_ROLE)
        wide = self._view.viewport().width()
        columns = zip(_columns(QRectF(0, 0, wide, 0)), told_in_columns(row), strict=True)
        tallest = max(_height(texts, area.width()) for area, texts in columns)
        return QSize(GRID * 100, round(tallest) + GRID * 4)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one lot."""
        row: LotRow = index.data(ROW_ROLE)
        painter.save()
        area = QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        self._paint_ground(painter, area, chosen=chosen, focused=focused)
        for column, texts in zip(_columns(area), told_in_columns(row), strict=True):
            y = column.top()
            for text in texts:
                if text is _BAR:
                    self._paint_bar(painter, QRectF(column.left(), y, column.width(), 0), row)
                    y += _bar_room()
                else:
                    y = _write(painter, QRectF(column.left(), y, column.width(), 0), text)
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

    def _paint_bar(self, painter: QPainter, at: QRectF, row: LotRow) -> None:
        """The share of its life that is left; dashed where that cannot be told."""
        steps = greys()
        bar = QRectF(at.left(), at.top() + _BETWEEN, at.width(), _BAR_HEIGHT)
        edge = cosmetic(grey(steps.field), 1)
        share = row.life.share_left
        if share is None:
            edge.setStyle(Qt.PenStyle.DashLine)
        else:
            left = QRectF(bar.left(), bar.top(), bar.width() * share, bar.height())
            painter.fillRect(left, grey(steps.muted))
        painter.setPen(edge)
        painter.drawRect(bar)


@dataclass(frozen=True, slots=True)
class _Text:
    """Words on a few lines, with a bold word before them where they have one."""

    words: str
    bold: bool = False
    quiet: bool = False
    most: int = 1
    before: str = ""
    indent: float = 0.0

    def lines(self, width: float) -> list[str]:
        """The lines as they are broken in a column so wide."""
        metrics = QFontMetrics(_font(bold=self.bold))
        return wrapped(self.words, metrics, max(0, int(width - self.indent)), self.most)


_BAR = _Text("")
"""Stands where the bar of life left is drawn."""


def told_in_columns(row: LotRow) -> tuple[list[_Text], list[_Text], list[_Text]]:
    """What stands in the three columns."""
    lot, life = row.lot, row.life
    what = [
        _Text(lot.name, bold=True, most=_MOST_NAME),
        _Text(f"{lot.code}  {row.class_name}", quiet=True, most=_MOST_PLACE),
        _Text(amount_of(lot)),
        _Text(stands(lot), quiet=True, most=_MOST_PLACE),
    ]
    time = [_Text(row.life_words, bold=life.over or row.ends_soon), _BAR]
    if row.life_date:
        time.append(_Text(row.life_date))
    if life.ending.value not in row.life_words:
        time.append(_Text(life.ending.value, quiet=True, most=_MOST_PLACE))
    if row.barred_everywhere:
        time.append(_Text("✕ barred", bold=True))
    groups = by_grade(row.fitness)
    bold = QFontMetricsF(_font(bold=True))
    indent = max((bold.horizontalAdvance(word) for word, _ in groups), default=0.0) + GRID * 2
    uses = [_Text(used, most=_MOST_USES, before=word, indent=indent) for word, used in groups]
    return what, time, uses


def _columns(area: QRectF) -> tuple[QRectF, QRectF, QRectF]:
    """Where the three columns of a row lie."""
    body = area.adjusted(GRID * 3, GRID * 2, -GRID * 3, -GRID * 2)
    what = QRectF(body.left(), body.top(), body.width() * _WHAT_SHARE, body.height())
    life = QRectF(what.right() + _GAP, body.top(), body.width() * _LIFE_SHARE, body.height())
    uses = QRectF(body)
    uses.setLeft(life.right() + _GAP)
    return what, life, uses


def _height(texts: Sequence[_Text], width: float) -> float:
    line = QFontMetrics(QApplication.font()).height() + _BETWEEN
    return sum(_bar_room() if t is _BAR else line * len(t.lines(width)) for t in texts)


def _bar_room() -> float:
    return _BETWEEN + _BAR_HEIGHT + GRID


def _font(*, bold: bool) -> QFont:
    font = QFont(QApplication.font())
    font.setBold(bold)
    return font


def _write(painter: QPainter, area: QRectF, text: _Text) -> float:
    """Write from the top of ``area`` downward; returns where the next line begins."""
    steps = greys()
    painter.setPen(grey(steps.muted if text.quiet else steps.text))
    y = area.top()
    if text.before:
        painter.setFont(_font(bold=True))
        painter.drawText(QPointF(area.left(), y + painter.fontMetrics().ascent()), text.before)
    painter.setFont(_font(bold=text.bold))
    metrics = painter.fontMetrics()
    for line in text.lines(area.width()):
        painter.drawText(QPointF(area.left() + text.indent, y + metrics.ascent()), line)
        y += metrics.height() + _BETWEEN
    return y


class LotModel(RowList[LotRow]):
    """The rows of the shelf."""

    def place_of(self, code: str) -> int | None:
        """The number of the row of this lot."""
        codes = [row.lot.code for row in self._rows]
        return codes.index(code) if code in codes else None

    def tip(self, row: LotRow) -> str:
        """How long it keeps, and each use with its verdict."""
        return "\n".join((row.life.words, *(f"{one.short}: {one.use}" for one in row.fitness)))
