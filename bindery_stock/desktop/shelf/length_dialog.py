"""Taking a length off a roll, a sheet or a board, which stays one piece under its own code."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock import shape
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import BinderyError
from bindery_stock.stock import StockPiece
from bindery_stock.units import LengthStyle

_WIDTH = 400


class LengthDialog(StockDialog):
    """Emits ``answered(length, purpose, keep)``: the length in mm, what for, and whether it goes on
    the shelf as a sheet of its own.
    """

    answered = Signal(float, str, bool)

    def __init__(self, piece: StockPiece, lengths: LengthStyle, parent: QWidget) -> None:
        """Ask how much comes off."""
        super().__init__(parent)
        self._piece, self._lengths = piece, lengths
        self.setWindowTitle(f"Cut a length off {piece.code}")
        self.setMinimumWidth(_WIDTH)
        self.length = LengthEntry("Length along the warp", lengths)
        self.purpose = QLineEdit()
        self.purpose.setPlaceholderText("linings, vol. 4")
        self.keep = QCheckBox("Put the &length on the shelf as a sheet of its own")
        self.left = plain_label()
        form = QFormLayout()
        form.setSpacing(GRID * 2)
        form.addRow(self.length.field, self.length)
        form.addRow("&For", self.purpose)
        form.addRow(self.keep)
        self.ask_reason_in(form)
        self.go = next_button(f"Cut it off {piece.code}")
        self.act_on(self.go)
        self.refuse_in(form)
        self.name_field(self.length, self.length.field, "Length")
        self.name_field(self.purpose, "For", "Purpose")
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addLayout(form)
        column.addWidget(self.left)
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.go))
        self.length.textChanged.connect(lambda _text: self._see())
        self.purpose.textChanged.connect(lambda _text: self._see())
        self._see()

    def _see(self) -> None:
        """Say what would be left, or what is wrong."""
        words, ready = f"{self._lengths.show(self._piece.outline.height)} are there now.", False
        try:
            length = self.length.value()
            if length is not None:
                rest = shape.cut_length(self._piece.outline, length)
                left = self._lengths.show(rest.height) if rest else "Nothing"
                words = f"{left} {'are' if rest else 'is'} left."
                ready = bool(self.purpose.text().strip())
        except BinderyError as error:
            words = str(error)
        self.left.setText(words)
        self.go.setEnabled(ready)

    def take(self) -> None:
        """Tell the length. Raises ``EntryError``."""
        length = self.length.value()
        if length is not None:
            self.answered.emit(length, self.purpose.text().strip(), self.keep.isChecked())
