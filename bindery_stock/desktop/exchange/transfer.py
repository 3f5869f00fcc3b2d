"""Long work that leaves or enters the program: how far it is, and the way to stop it."""

from collections.abc import Callable
from typing import TypeVar

import shiboken6
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID

T = TypeVar("T")


class Transfer(QDialog):
    """Follows one job; *Stop* ends it, and nothing half done is left."""

    def __init__(self, what: str, parent: QWidget | None) -> None:
        """Say what is under way."""
        super().__init__(parent)
        self.setWindowTitle(what)
        self._job: Job | None = None
        self.words = QLabel(what)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.bar = QProgressBar()
        self.bar.setRange(0, 1000)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("How far it is")
        self.stop = QPushButton("Stop")
        self.stop.clicked.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 4)
        column.setSpacing(GRID * 3)
        column.addWidget(self.words)
        column.addWidget(self.bar)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(self.stop)
        column.addLayout(row)
        self.setMinimumWidth(GRID * 100)

    def follow(self, job: Job) -> None:
        """The job that *Stop* stops."""
        self._job = job

    def tell(self, share: float, words: str) -> None:
        """How far the work is, 0 to 1, and what it is at."""
        if not shiboken6.isValid(self):
            return
        self.bar.setValue(round(share * 1000))
        if words:
            self.words.setText(words)

    def ended(self, then: Callable[[T], None]) -> Callable[[T], None]:
        """Close, if it was not stopped and closed before, then go on with what came of it."""

        def close(outcome: T) -> None:
            if shiboken6.isValid(self):
                self.end()
            then(outcome)

        return close

    def end(self) -> None:
        """The work has come to its end."""
        self._job = None
        self.accept()

    def reject(self) -> None:
        """Stop the work."""
        if self._job is not None:
            self._job.stop()
        super().reject()
