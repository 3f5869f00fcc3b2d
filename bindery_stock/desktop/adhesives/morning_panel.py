"""The look along the shelf in the morning, in three columns."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.adhesives.morning import Low, Morning
from bindery_stock.bench.adhesives.shelf_rows import LotRow
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.tips import plain_tip

_SHOWN = 3
"""So many lots are named in a column; the rest is counted."""


class MorningPanel(QFrame):
    """What ends this week, what is barred and still here, what is low.

    Emits ``lot_chosen(code)`` and ``low_chosen(Low)``.
    """

    lot_chosen = Signal(str)
    low_chosen = Signal(object)

    def __init__(self) -> None:
        """Begin with nothing to say."""
        super().__init__()
        self.setProperty("role", "panel")
        self.setAccessibleName("This morning")
        self.sentence = QLabel()
        self.sentence.setTextFormat(Qt.TextFormat.PlainText)
        self.sentence.setWordWrap(True)
        sized(self.sentence, TypeSize.HEAD)
        self._columns = QHBoxLayout()
        self._columns.setSpacing(GRID * 8)
        self._shown: list[QWidget] = []
        self.buttons: list[QPushButton] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 3, GRID * 4, GRID * 3)
        column.setSpacing(GRID * 2)
        column.addWidget(self.sentence)
        column.addLayout(self._columns)

    def show_morning(self, seen: Morning) -> None:
        """Show what was seen."""
        for widget in self._shown:
            self._columns.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self._shown, self.buttons = [], []
        self.sentence.setText(seen.sentence)
        self._add_lots("Use up this week", seen.ends_this_week)
        self._add_lots("Barred, still on the shelf", seen.barred)
        if seen.low:
            lines = [(low.words, partial(self._low, low)) for low in seen.low]
            self._add("Running low: put on the wanted list", lines)

    def _add_lots(self, heading: str, rows: Sequence[LotRow]) -> None:
        if rows:
            lines = [
                (f"{row.lot.code}  {row.lot.name}: {row.brief}", partial(self._lot, row))
                for row in rows
            ]
            self._add(heading, lines)

    def _add(self, heading: str, lines: Sequence[tuple[str, Callable[[], None]]]) -> None:
        block = QWidget()
        column = QVBoxLayout(block)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        label = QLabel(heading)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setProperty("role", "muted")
        column.addWidget(label)
        for text, chosen in lines[:_SHOWN]:
            button = _LineButton(text)
            button.clicked.connect(lambda _checked=False, chosen=chosen: chosen())
            column.addWidget(button)
            self.buttons.append(button)
        if len(lines) > _SHOWN:
            more = QLabel(f"and {len(lines) - _SHOWN} more, at the top of the list")
            more.setTextFormat(Qt.TextFormat.PlainText)
            more.setProperty("role", "muted")
            column.addWidget(more)
        column.addStretch(1)
        self._columns.addWidget(block, 1)
        self._shown.append(block)

    def _lot(self, row: LotRow) -> None:
        self.lot_chosen.emit(row.lot.code)

    def _low(self, low: Low) -> None:
        self.low_chosen.emit(low)


class _LineButton(QPushButton):
    """A quiet button whose words are cut to its width; the whole stands in its tip."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self._text = text
        self.setProperty("role", "line")
        self.setToolTip(plain_tip(text))
        self.setAccessibleName(text)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def resizeEvent(self, event: QResizeEvent) -> None:
        room = self.width() - GRID
        metrics = self.fontMetrics()
        self.setText(metrics.elidedText(self._text, Qt.TextElideMode.ElideRight, room))
        super().resizeEvent(event)
