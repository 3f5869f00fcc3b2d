"""The 24 patches of a target: what each is, and what was found, touching."""

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QHelpEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from bindery_stock.bench.colour_room.target_fit import patch_words, worst_patch
from bindery_stock.colour import TargetReport
from bindery_stock.desktop.drawn_shapes import cosmetic, lab_colour, surround
from bindery_stock.desktop.look import GRID, grey
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import Lab

_COLUMNS, _ROWS = 6, 4
_FIGURE = 20
"""Pixels under a pair for its figure."""
_STEPS = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: -_COLUMNS,
    Qt.Key.Key_Down: _COLUMNS,
}


class FitChart(QWidget):
    """Each patch as two halves with no gap: the reference at the left, what was found at the right.

    Under it the ΔE00 at which it was found while it was left out. The worst is framed, dropped
    patches are crossed. The arrow keys go from patch to patch. Emits ``chosen(int)`` with a patch's
    number from 0.
    """

    chosen = Signal(int)

    def __init__(self) -> None:
        """Begin with nothing to show."""
        super().__init__()
        self._report: TargetReport | None = None
        self._current = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMinimumHeight(GRID * 56)
        self.setAccessibleName("The 24 patches, reference beside what was found")

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(GRID * 100, GRID * 64)

    @property
    def current(self) -> int:
        """The number of the patch in hand, from 0."""
        return self._current

    def show_report(self, report: TargetReport) -> None:
        """Show this fit, the worst patch in hand."""
        self._report = report
        self._choose(worst_patch(report))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The ground, the pairs and their figures."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), surround())
        if self._report is None:
            return
        for number in range(_COLUMNS * _ROWS):
            self._paint_patch(painter, number, self._report)

    def _paint_patch(self, painter: QPainter, number: int, report: TargetReport) -> None:
        cell = self._cell(number)
        pair = cell.adjusted(0, 0, 0, -_FIGURE)
        for half, lab in zip(_halves(pair), _colours(report, number), strict=True):
            painter.fillRect(half, lab_colour(lab))
        dropped = bool(report.faults[number])
        if dropped:
            for width, lightness in ((3.0, 8), (1.5, 98)):
                painter.setPen(cosmetic(grey(lightness), width))
                painter.drawLine(pair.topLeft(), pair.bottomRight())
                painter.drawLine(pair.topRight(), pair.bottomLeft())
        if number == worst_patch(report):
            painter.setPen(cosmetic(grey(8), 2))
            painter.drawRect(pair.adjusted(-2, -2, 2, 2))
        if number == self._current and self.hasFocus():
            painter.setPen(cosmetic(grey(98), 2))
            painter.drawRect(pair.adjusted(-4, -4, 4, 4))
        painter.setPen(grey(4))
        told = "dropped" if dropped else f"{report.left_out[number]:.1f}"
        foot = QRectF(cell.left() - 4, pair.bottom(), cell.width() + 8, _FIGURE)
        painter.drawText(foot, Qt.AlignmentFlag.AlignCenter, told)

    def _cell(self, number: int) -> QRectF:
        row, column = divmod(number, _COLUMNS)
        gap = GRID * 2.5
        width = (self.width() - gap * (_COLUMNS + 1)) / _COLUMNS
        height = (self.height() - gap) / _ROWS
        return QRectF(gap + column * (width + gap), gap + row * height, width, height - gap / 2)

    def _at(self, spot: QPointF) -> int | None:
        return next((n for n in range(_COLUMNS * _ROWS) if self._cell(n).contains(spot)), None)

    def _choose(self, number: int) -> None:
        self._current = number
        if self._report is not None:
            self.setAccessibleDescription(patch_words(self._report, number))
        self.chosen.emit(number)
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take a patch in hand."""
        number = self._at(event.position())
        if number is not None and self._report is not None:
            self._choose(number)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The arrow keys go from patch to patch."""
        way = _STEPS.get(Qt.Key(event.key()))
        if way is None or self._report is None:
            super().keyPressEvent(event)
        elif 0 <= self._current + way < _COLUMNS * _ROWS:
            self._choose(self._current + way)

    def event(self, event: QEvent) -> bool:
        """Tell of the patch under the pointer."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            number = self._at(QPointF(event.pos()))
            if number is not None and self._report is not None:
                QToolTip.showText(
                    event.globalPos(), plain_tip(patch_words(self._report, number)), self
                )
            return True
        return super().event(event)


def _halves(pair: QRectF) -> tuple[QRectF, QRectF]:
    """The two halves of a pair, meeting at a whole pixel so that no seam is seen between them."""
    left, middle, right = (round(x) for x in (pair.left(), pair.center().x(), pair.right()))
    top, height = round(pair.top()), round(pair.height())
    return QRectF(left, top, middle - left, height), QRectF(middle, top, right - middle, height)


def _colours(report: TargetReport, number: int) -> tuple[Lab, Lab]:
    """What the patch is, and what was found; of a dropped one what the photograph shows."""
    found = report.predicted[number]
    if not np.isfinite(found).all():
        found = report.photographed[number]
    known = report.known[number]
    return _lab(known), _lab(found)


def _lab(values: np.ndarray) -> Lab:
    lightness, a, b = (float(v) for v in values)
    return (min(max(lightness, 0.0), 100.0), a, b)
