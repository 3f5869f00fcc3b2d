"""Asking for a few words: where a piece goes, or why it is thrown away."""

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QDialog, QDialogButtonBox, QLabel, QVBoxLayout, QWidget

_WIDTH = 360


class AskWords(QDialog):
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
        label.setBuddy(self.entry)
        label.setWordWrap(True)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.go = self.buttons.addButton(button, QDialogButtonBox.ButtonRole.AcceptRole)
        self.buttons.accepted.connect(self._answer)
        self.buttons.rejected.connect(self.reject)
        self.entry.editTextChanged.connect(self._see)
        column = QVBoxLayout(self)
        column.addWidget(label)
        column.addWidget(self.entry)
        column.addWidget(self.buttons)
        self._see()

    def _see(self) -> None:
        self.go.setEnabled(bool(self.entry.currentText().strip()))

    def _answer(self) -> None:
        self.answered.emit(self.entry.currentText().strip())
        self.accept()
