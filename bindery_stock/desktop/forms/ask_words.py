"""Asking for a few words: where a piece goes, or why it is thrown away."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QLabel, QVBoxLayout, QWidget

from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog

_WIDTH = 360


class AskWords(StockDialog):
    """One entry with ready-made answers. Emits ``answered(str)`` when the button is pressed."""

    answered = Signal(str)

    def __init__(
        self, question: str, answers: Iterable[str], button: str, parent: QWidget, *, text: str = ""
    ) -> None:
        """Ask; ``button`` names what will be done, and to what."""
        super().__init__(parent)
        self.setWindowTitle(button)
        self.setMinimumWidth(_WIDTH)
        self.entry = QComboBox()
        self.entry.setEditable(True)
        self.entry.addItems([answer for answer in answers if answer])
        self.entry.setCurrentText(text)
        label = QLabel(question)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setBuddy(self.entry)
        label.setWordWrap(True)
        self.go = next_button(button)
        self.act_on(self.go)
        self.entry.editTextChanged.connect(self._see)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addWidget(label)
        column.addWidget(self.entry)
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.go))
        self._see()

    def _see(self) -> None:
        self.go.setEnabled(bool(self.entry.currentText().strip()))

    def take(self) -> None:
        """Tell the words."""
        self.answered.emit(self.entry.currentText().strip())
