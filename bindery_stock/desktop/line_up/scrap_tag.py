"""The tag that stands beside an outline of a line-up, as a label is tied to a scrap."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QFontMetrics,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QAbstractButton, QWidget

from bindery_stock.desktop.look import GRID, grey

_CORNER = GRID * 2.0
"""How much of its two left corners is cut off, where the thread goes through."""
_EYE = 2.0
_PAPER, _INK = 97.0, 12.0


class ScrapTag(QAbstractButton):
    """Says who a scrap is and how near it is. Emits ``taken()`` when it comes into the hand and
    ``typed(str)`` with what is typed over it: the beginning of a code.
    """

    taken = Signal()
    typed = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        """Begin with no words."""
        super().__init__(parent)
        self.setCheckable(True)
        self.setAutoExclusive(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.ArrowCursor)
        self._lines: tuple[str, ...] = ("?",)

    @property
    def lines(self) -> tuple[str, ...]:
        """What stands on it."""
        return self._lines

    def say(self, lines: Sequence[str], told: str) -> None:
        """Show these lines; ``told`` is all of it for a reader that cannot see the photograph."""
        self._lines = tuple(lines)
        self.setText("\n".join(lines))
        self.setAccessibleName(told)
        self.resize(self.sizeHint())
        self.update()

    def sizeHint(self) -> QSize:
        """As large as its words."""
        metrics = self.fontMetrics()
        font = self.font()
        font.setBold(True)
        heads, lines = self._lines[:1], self._lines[1:]
        wide = max(
            *(QFontMetrics(font).horizontalAdvance(line) for line in heads),
            *(metrics.horizontalAdvance(line) for line in lines),
            0,
        )
        return QSize(wide + GRID * 8, metrics.height() * len(self._lines) + GRID * 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """A tag with two corners cut and an eye; dark where it is the chosen one."""
        paper, ink = (_INK, _PAPER) if self.isChecked() else (_PAPER, _INK)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter.setPen(QPen(grey(ink), 1.0))
        painter.setBrush(grey(paper))
        painter.drawPolygon(_tag(box))
        if self.hasFocus():
            painter.setPen(QPen(grey(ink), 2.0))
            painter.drawPolygon(_tag(box.adjusted(3, 3, -3, -3)))
        painter.setPen(QPen(grey(ink), 1.5))
        painter.drawEllipse(QPointF(box.left() + GRID * 2.5, box.center().y()), _EYE, _EYE)
        painter.setPen(grey(ink))
        words = box.adjusted(GRID * 5, GRID, -GRID, -GRID)
        line = words.height() / len(self._lines)
        font = self.font()
        for number, text in enumerate(self._lines):
            font.setBold(number == 0)
            painter.setFont(font)
            place = QRectF(words.left(), words.top() + number * line, words.width(), line)
            painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, text)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """What is come to with Tab is the one in hand."""
        super().focusInEvent(event)
        self.taken.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """What is typed begins a code; Enter is left to the dialog."""
        plain = not event.modifiers() & ~(
            Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        )
        text = event.text()
        if plain and (text.isalnum() or text == "?"):
            self.typed.emit(text)
        elif event.key() == Qt.Key.Key_Space:
            self.typed.emit("")
        else:
            event.ignore()


def _tag(box: QRectF) -> QPolygonF:
    left, right, top, low = box.left(), box.right(), box.top(), box.bottom()
    return QPolygonF(
        [
            QPointF(left + _CORNER, top),
            QPointF(right, top),
            QPointF(right, low),
            QPointF(left + _CORNER, low),
            QPointF(left, low - _CORNER),
            QPointF(left, top + _CORNER),
        ]
    )
