"""The strip under the photograph of a line-up while it is being read: how far, and the way out."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QProgressBar, QPushButton

from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID


class WorkStrip(QFrame):
    """Emits ``stopped()`` for its button."""

    stopped = Signal()

    def __init__(self) -> None:
        """Begin at nothing."""
        super().__init__()
        self.setProperty("role", "panel")
        self.words = plain_label("Reading the photograph…")
        self.bar = QProgressBar()
        self.bar.setRange(0, 1000)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("How far it is")
        self.stop_button = QPushButton("S&top")
        self.stop_button.setAutoDefault(False)
        self.stop_button.clicked.connect(self.stopped)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 2, GRID * 3, GRID * 2)
        row.setSpacing(GRID * 3)
        row.addWidget(self.words, 1)
        row.addWidget(self.bar, 1)
        row.addWidget(self.stop_button)

    def tell(self, share: float, words: str) -> None:
        """How far the work is, 0 to 1, and what it is at."""
        self.bar.setValue(round(share * 1000))
        if words:
            self.words.setText(words)
