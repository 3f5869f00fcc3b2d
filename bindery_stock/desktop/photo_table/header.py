"""The line at the head of each step: its number, its name, how it stands and what it found."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QSizePolicy

from bindery_stock.bench.photo_table.found import Found, Sureness
from bindery_stock.desktop.look import GRID, grey, greys
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.desktop.wrapped_words import wrapped

_LEFT = GRID * 9.0
"""Where the name begins; the number stands before it."""
_MOST_LINES = 4
"""Lines a finding may take; a longer one is cut, and whole in the tip."""

_SIGN = {
    Sureness.FOUND: "✓",
    Sureness.ASSUMED: "≈",
    Sureness.WANTED: "○",
    Sureness.WRONG: "△",
}
_SPOKEN = {
    Sureness.FOUND: "done",
    Sureness.ASSUMED: "assumed",
    Sureness.WANTED: "to do",
    Sureness.WRONG: "to mend",
}


class StepHeader(QAbstractButton):
    """Pressing it makes its step the current one."""

    def __init__(self, number: int, name: str) -> None:
        """Stand with nothing found."""
        super().__init__()
        self._number = number
        self._finding = Found(Sureness.WANTED, "")
        self.setText(name)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setToolTip(plain_tip(f"Key {number}"))

    @property
    def finding(self) -> Found:
        """What it shows."""
        return self._finding

    def show_finding(self, finding: Found) -> None:
        """Show what the step has found."""
        self._finding = finding
        self.updateGeometry()
        standing = _SPOKEN[finding.standing]
        self.setAccessibleName(f"Step {self._number}, {self.text()}: {standing}")
        self.setAccessibleDescription(finding.words)
        self.setToolTip(plain_tip(f"Key {self._number}. {finding.words}"))
        self.update()

    def sizeHint(self) -> QSize:
        """Two lines of type."""
        return QSize(240, self.heightForWidth(240))

    def hasHeightForWidth(self) -> bool:
        """What was found may need more than one line."""
        return True

    def heightForWidth(self, width: int) -> int:
        """A line for the name, and what the finding needs."""
        small = QFontMetrics(self._small()).height() * (len(self.lines(width)) - 1)
        return self.fontMetrics().height() * 2 + small + GRID * 2

    def _small(self) -> QFont:
        small = QFont(self.font())
        small.setPointSizeF(QApplication.font().pointSizeF() * 0.88)
        return small

    def lines(self, width: int) -> list[str]:
        """The finding, broken to the width of the header."""
        room = width - round(_LEFT) - GRID * 3
        return wrapped(self._finding.words, QFontMetrics(self._small()), room, _MOST_LINES)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The number and name, the sign at the right, the finding below."""
        painter = QPainter(self)
        steps = greys()
        area = QRectF(self.rect())
        if self.isChecked() or self.underMouse():
            painter.fillRect(area, grey(steps.line if self.isChecked() else steps.faint))
        line = self.fontMetrics().height()
        first = QRectF(_LEFT, GRID, area.width() - GRID * 18, line)
        bold = QFont(self.font())
        bold.setBold(self.isChecked())
        painter.setFont(bold)
        painter.setPen(grey(steps.text))
        middle = Qt.AlignmentFlag.AlignVCenter
        number = QRectF(0, first.top(), _LEFT - GRID * 2, line)
        painter.drawText(number, middle | Qt.AlignmentFlag.AlignRight, str(self._number))
        painter.drawText(first, middle, self.text())
        sign = QRectF(area.width() - GRID * 9, first.top(), GRID * 6, line)
        painter.drawText(sign, middle | Qt.AlignmentFlag.AlignRight, _SIGN[self._finding.standing])
        painter.setFont(self._small())
        wrong = self._finding.standing is Sureness.WRONG
        # On the checked ground the muted grey would fall short of 4.5:1.
        painter.setPen(grey(steps.text if wrong or self.isChecked() else steps.muted))
        second = QRectF(_LEFT, GRID + line, area.width() - _LEFT - GRID * 3, line)
        for words in self.lines(self.width()):
            painter.drawText(second, middle, words)
            second.translate(0, painter.fontMetrics().height())
        if self.hasFocus():
            painter.setPen(grey(steps.text))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(area.adjusted(0.5, 0.5, -1.5, -1.5))
