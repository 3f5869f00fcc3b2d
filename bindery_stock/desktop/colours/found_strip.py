"""A strip under the photograph: what was found in it by itself, and the two answers."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton

from bindery_stock.bench.colour_room.found_reference import FoundReference
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID


class FoundStrip(QFrame):
    """Emits ``kept()`` and ``left_out()`` for its two buttons; the keys are those of the place."""

    kept = Signal()
    left_out = Signal()

    def __init__(self) -> None:
        """Begin hidden."""
        super().__init__()
        self.setProperty("role", "panel")
        self.setAccessibleName("Found in the photograph")
        self.words = plain_label()
        self.keep_button = QPushButton()
        self.leave_button = QPushButton()
        self.keep_button.clicked.connect(self.kept)
        self.leave_button.clicked.connect(self.left_out)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 2, GRID * 3, GRID * 2)
        row.setSpacing(GRID * 2)
        row.addWidget(self.words, 1)
        for button in (self.leave_button, self.keep_button):
            row.addWidget(button, alignment=Qt.AlignmentFlag.AlignTop)
        self.hide()

    def show_found(self, found: FoundReference | None) -> None:
        """Say what was found; None hides the strip."""
        if found is not None:
            self.words.setText(found.words)
            self.words.setAccessibleName(found.words)
            self.keep_button.setText(found.keep)
            self.leave_button.setText(found.leave)
        self.setVisible(found is not None)
