"""How the shelf is laid out, and what stands there while it is empty or still being read."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button, quiet_button


class ShelfBody(EitherOr):
    """The empty shelf, the one that is coming, or its ``body``: one of ``views`` and the sheet.

    Emits ``clear_wanted()``, ``first_wanted()`` for a first scrap and ``sample_wanted()``.
    """

    clear_wanted = Signal()
    first_wanted = Signal()
    sample_wanted = Signal()

    def __init__(self, top: Sequence[QWidget], views: Sequence[QWidget], sheet: QWidget) -> None:
        """Lay these out: ``top`` over the views, the sheet beside them."""
        clear = next_button("Clear the search")
        self.nothing_found = EmptyState("Nothing here answers", "", [clear])
        self.front = EitherOr(*views, self.nothing_found)
        self.splitter = QSplitter(Qt.Orientation.Horizontal)
        self.splitter.addWidget(self.front)
        self.splitter.addWidget(sheet)
        self.splitter.setStretchFactor(0, 1)
        self.splitter.setChildrenCollapsible(False)
        above = QWidget()
        rows = QVBoxLayout(above)
        rows.setContentsMargins(GRID * 4, GRID * 3, GRID * 4, GRID * 2)
        rows.setSpacing(GRID * 2)
        for widget in top:
            rows.addWidget(widget)
        self.body = QWidget()
        column = QVBoxLayout(self.body)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(above)
        column.addWidget(self.splitter, 1)
        first = next_button("Photograph your first scrap")
        sample = quiet_button("Open the sample stockroom")
        self.empty = EmptyState(
            "The shelf is empty",
            "Here every scrap will lie in its true outline and its own colour, to scale with its "
            "neighbours. Photograph one beside a ruler and shelve it.",
            [first, sample],
        )
        self.coming = EmptyState("Opening the stockroom…", "The pieces are being laid out.", [])
        super().__init__(self.empty, self.coming, self.body)
        clear.clicked.connect(self.clear_wanted)
        first.clicked.connect(self.first_wanted)
        sample.clicked.connect(self.sample_wanted)
