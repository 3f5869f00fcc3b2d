"""Adding an instrument's reading of one face to a piece on the shelf."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.shelf.correct import correct
from bindery_stock.bench.shelf.piece_words import face_words
from bindery_stock.desktop.colours.instrument_entry import InstrumentEntry
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.stock import Colour, FaceName, StockPiece


class InstrumentDialog(StockDialog):
    """The reading goes before what is known of that face; nothing is thrown away."""

    def __init__(self, session: Session, piece: StockPiece, parent: QWidget) -> None:
        """Ask for the shown face."""
        super().__init__(parent)
        self._session = session
        self._piece = piece
        self.setWindowTitle(f"Instrument reading of {piece.code}")
        heading = QLabel(f"Instrument reading of {piece.code}")
        heading.setTextFormat(Qt.TextFormat.PlainText)
        sized(heading, TypeSize.HEAD)
        hint = QLabel(
            "Fold the cloth until it is opaque, or lay it on white; take several readings, "
            "turning it between them, and type their mean."
        )
        hint.setWordWrap(True)
        hint.setProperty("role", "muted")
        self.face = QComboBox()
        for face in FaceName:
            self.face.addItem(face_words(face), face)
        self.entry = InstrumentEntry("Reading")
        form = QFormLayout()
        form.setSpacing(GRID * 2)
        form.addRow("&Face", self.face)
        form.addRow("&Reading", self.entry)
        self.keep_button = next_button("Keep this reading")
        self.keep_button.setEnabled(False)
        self.act_on(self.keep_button)
        self.refuse_in(form)
        self.name_field(self.face, "Face")
        self.name_field(self.entry, "Reading", "Colour", "Spread", "Uncertainty")
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addWidget(heading)
        column.addWidget(hint)
        column.addLayout(form)
        column.addWidget(self.wrong)
        column.addStretch(1)
        column.addWidget(DialogFoot(self, self.keep_button))
        self.setMinimumWidth(GRID * 110)
        self.entry.changed.connect(
            lambda: self.keep_button.setEnabled(self.entry.reading is not None)
        )
        self.entry.setFocus()

    def take(self) -> None:
        """Correct the piece: one step of the ledger."""
        reading = self.entry.reading
        if reading is None:
            return
        face = FaceName(self.face.currentData())
        colour = Colour(
            lab=reading.lab, face=face, u=reading.u, method=reading.method, read_by=reading.read_by
        )
        code, fields = self._piece.code, {"colours": (colour, *self._piece.colours)}
        self.hand(self._session, lambda room: correct(room, piece=code, fields=fields))
