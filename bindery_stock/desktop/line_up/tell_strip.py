"""The strip under the photograph of a line-up: what is known of the outline in hand; who it is."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.tips import plain_tip

BOOK, NONE = "book", "?"


class CodeBox(QComboBox):
    """One of the codes, or any that is typed. Emits ``told(str)`` for Enter or a choice."""

    told = Signal(str)

    def __init__(self) -> None:
        """Begin empty."""
        super().__init__()
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setAccessibleName("Which piece it is")
        self.textActivated.connect(self.told)

    def offer(self, codes: Sequence[str]) -> None:
        """These can be chosen."""
        self.clear()
        self.addItems([*codes, BOOK, NONE])
        self.setCurrentIndex(-1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter tells; it goes no further to the dialog."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()
            self.told.emit(self.currentText())
            return
        super().keyPressEvent(event)


class TellStrip(QFrame):
    """Emits ``told(str)`` with what the outline in hand is, and ``draw_wanted()``."""

    told = Signal(str)
    draw_wanted = Signal()

    def __init__(self) -> None:
        """Begin with no outline in hand."""
        super().__init__()
        self.setProperty("role", "panel")
        self.words = plain_label()
        self.words.setAccessibleName("What is known of it")
        self.closest = plain_label(bold=True)
        self.code = CodeBox()
        self.code.told.connect(self.told)
        self.code.setMinimumWidth(GRID * 34)
        self.tell_button = QPushButton("&Say so")
        self.tell_button.setToolTip(plain_tip("The outline in hand is this piece."))
        self.tell_button.clicked.connect(lambda: self.told.emit(self.code.currentText()))
        self.draw_button = QPushButton("&Draw round one")
        self.draw_button.setToolTip(
            plain_tip("Draw the outline of one scrap by hand, where two touch or one is missing.")
        )
        self.draw_button.clicked.connect(self.draw_wanted)
        label = QLabel("&It is")
        label.setBuddy(self.code)
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        row.addWidget(self.closest, 1)
        row.addWidget(label)
        for widget in (self.code, self.tell_button, self.draw_button):
            row.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 3, GRID * 2, GRID * 3, GRID * 2)
        column.setSpacing(GRID * 2)
        column.addWidget(self.words)
        column.addLayout(row)
        for button in (self.tell_button, self.draw_button):
            button.setAutoDefault(False)

    def show_scrap(self, words: str, mark: str, *, may_tell: bool) -> None:
        """Say what is known of the outline in hand; ``mark`` stands in the entry."""
        self.words.setText(words)
        self.code.setCurrentText("" if mark == NONE else mark)
        self.code.setEnabled(may_tell)
        self.tell_button.setEnabled(may_tell)

    def ask(self, begun: str = "") -> None:
        """Put the hand on the entry, with the beginning of a code in it."""
        self.code.setFocus()
        line = self.code.lineEdit()
        if line is None:
            return
        if begun:
            line.setText(begun)
        else:
            line.selectAll()
