"""What stands at the right of the photograph of a target."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.colour import TargetReport
from bindery_stock.desktop.colour_room.fit_view import FitView
from bindery_stock.desktop.colour_room.sitting_box import SittingBox
from bindery_stock.desktop.colours.editions import Editions
from bindery_stock.desktop.column import hair_line, plain_label, scrolled
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.photo_canvas.target_tool import TARGET_HINT
from bindery_stock.desktop.session import Session

_LEAST, _MOST = 424, 620


class ColourPanel(QFrame):
    """The values of the target, what the fit came to, and the sitting.

    Emits ``choose_wanted()`` and ``archive_wanted()`` for another photograph, ``stop_wanted()``
    while the target is being read.
    """

    choose_wanted = Signal()
    archive_wanted = Signal()
    stop_wanted = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with nothing judged."""
        super().__init__()
        self.setProperty("role", "panel")
        self.setMinimumWidth(_LEAST)
        self.setMaximumWidth(_MOST)
        self.editions = Editions(session)
        self.hint = plain_label(TARGET_HINT)
        self.hint.setProperty("role", "muted")
        self.trouble = plain_label()
        self.trouble.setAccessibleName("What is wrong")
        self.fit = FitView()
        self.sitting = SittingBox()
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID * 4, GRID * 3, GRID * 4, GRID * 4)
        column.setSpacing(GRID * 3)
        column.addLayout(self._head())
        column.addWidget(self.hint)
        column.addWidget(self._waiting())
        column.addWidget(self.trouble)
        column.addWidget(self.fit)
        column.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(scrolled(inside), 1)
        whole.addWidget(hair_line())
        whole.addWidget(self.sitting)
        self.show_waiting()

    def _head(self) -> QVBoxLayout:
        heading = QLabel("Target of 24 patches")
        sized(heading, TypeSize.HEAD)
        another = QPushButton("Another photograph…")
        another.clicked.connect(self.choose_wanted)
        archive = QPushButton("From the archive…")
        archive.clicked.connect(self.archive_wanted)
        buttons = QHBoxLayout()
        buttons.setSpacing(GRID * 2)
        buttons.addWidget(another)
        buttons.addWidget(archive)
        buttons.addStretch(1)
        label = QLabel("&Values")
        label.setBuddy(self.editions.box)
        values = QHBoxLayout()
        values.setSpacing(GRID * 2)
        values.addWidget(label)
        values.addWidget(self.editions, 1)
        column = QVBoxLayout()
        column.setSpacing(GRID * 2)
        column.addWidget(heading)
        column.addLayout(buttons)
        column.addLayout(values)
        return column

    def _waiting(self) -> QWidget:
        self.waiting = QWidget()
        words = QLabel("Reading the target, each patch left out in turn…")
        words.setWordWrap(True)
        bar = QProgressBar()
        bar.setRange(0, 0)
        bar.setTextVisible(False)
        bar.setFixedHeight(GRID * 2)
        bar.setAccessibleName("Reading the target")
        self.stop_button = QPushButton("Stop")
        self.stop_button.clicked.connect(self.stop_wanted)
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        row.addWidget(bar, 1)
        row.addWidget(self.stop_button)
        column = QVBoxLayout(self.waiting)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(words)
        column.addLayout(row)
        return self.waiting

    def show_waiting(self) -> None:
        """Nothing is judged: say what to do."""
        self._only(self.hint)

    def show_judging(self) -> None:
        """The target is being read."""
        self._only(self.waiting)

    def show_trouble(self, words: str) -> None:
        """Say why the target could not be read."""
        self.trouble.setText(f"△ {words}")
        self._only(self.hint, self.trouble)

    def show_report(self, report: TargetReport) -> None:
        """Show what the fit came to."""
        self.fit.show_report(report)
        self._only(self.fit)

    def _only(self, *shown: QWidget) -> None:
        for widget in (self.hint, self.waiting, self.trouble, self.fit):
            widget.setVisible(widget in shown)
