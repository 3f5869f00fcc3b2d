"""The colours of a piece on its sheet: readings, what it was held against, and what can be done."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from bindery_stock.colour import ColourMap
from bindery_stock.desktop.colours.held_list import HeldList
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.shelf.readings import Readings
from bindery_stock.stock import KeptConfirmation, StockPiece


class ColourSection(QWidget):
    """Emits ``beside_wanted()`` to hold the piece beside a book in one photograph,
    ``instrument_wanted()`` to add a reading of an instrument.
    """

    beside_wanted = Signal()
    instrument_wanted = Signal()

    def __init__(self) -> None:
        """Begin with no piece."""
        super().__init__()
        self.readings = Readings()
        self.held = HeldList()
        self.beside_button = QPushButton("Beside the book…")
        self.beside_button.clicked.connect(self.beside_wanted)
        self.instrument_button = QPushButton("Instrument reading…")
        self.instrument_button.clicked.connect(self.instrument_wanted)
        buttons = QHBoxLayout()
        buttons.setSpacing(GRID * 2)
        buttons.addWidget(self.beside_button)
        buttons.addWidget(self.instrument_button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(self.readings)
        column.addWidget(self.held)
        column.addLayout(buttons)

    def show_piece(
        self,
        piece: StockPiece,
        held: Sequence[KeptConfirmation],
        seen: ColourMap | None = None,
        *,
        may_change: bool,
    ) -> None:
        """Show a piece, how even it is by its map, and what it was held against."""
        self.readings.show_piece(piece, seen)
        self.held.show_held(held)
        for button in (self.beside_button, self.instrument_button):
            button.setEnabled(may_change)
