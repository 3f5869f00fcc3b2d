"""Putting right what is known of a piece."""

from collections.abc import Iterable
from decimal import Decimal, InvalidOperation
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import EntryError
from bindery_stock.stock import StockPiece, WordsInUse
from bindery_stock.trade.vocabulary import PATTERNS, Backing, Fibre, Form

_WIDTH = 440


class FactsDialog(StockDialog):
    """The facts of a piece as entries. Emits ``corrected(dict)`` with the fields that changed."""

    corrected = Signal(object)

    def __init__(self, piece: StockPiece, words: WordsInUse, parent: QWidget) -> None:
        """Fill the entries with what is known, and offer the words in use."""
        super().__init__(parent)
        self._piece = piece
        self.setWindowTitle(f"Facts of {piece.code}")
        self.setMinimumWidth(_WIDTH)
        self.pattern = _typed(sorted({*PATTERNS, *words.patterns}), piece.pattern)
        self.form = _one_of(Form, piece.form)
        self.backing = _one_of(Backing, piece.backing)
        self.fibre = _one_of(Fibre, piece.fibre)
        self.source = _typed(words.sources, piece.source)
        self.source_date = QLineEdit(piece.source_date)
        self.place = _typed(words.places, piece.place)
        self.price = QLineEdit("" if piece.price is None else str(piece.price))
        self.note = QPlainTextEdit(piece.note)
        self.note.setTabChangesFocus(True)
        self.note.setMaximumHeight(self.note.fontMetrics().height() * 5)
        form = QFormLayout()
        form.setSpacing(GRID * 2)
        for name, entry in (
            ("&Grain pattern", self.pattern),
            ("F&orm", self.form),
            ("&Backing", self.backing),
            ("&Fibre", self.fibre),
            ("&Came from", self.source),
            ("&Date of that", self.source_date),
            ("&Lies in", self.place),
            ("&Price", self.price),
            ("&Note", self.note),
        ):
            form.addRow(name, entry)
            self.name_field(entry, name)
        self.name_field(self.pattern, "Pattern")
        self.name_field(self.source, "Source")
        self.name_field(self.source_date, "Source date")
        self.name_field(self.place, "Place")
        self.refuse_in(form)
        self.keep_button = next_button("Keep")
        self.act_on(self.keep_button)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addLayout(form)
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.keep_button))

    def _typed_facts(self) -> dict[str, Any]:
        return {
            "pattern": self.pattern.currentText().strip(),
            "form": Form(self.form.currentText()),
            "backing": Backing(self.backing.currentText()),
            "fibre": Fibre(self.fibre.currentText()),
            "source": self.source.currentText().strip(),
            "source_date": self.source_date.text().strip(),
            "place": self.place.currentText().strip(),
            "price": _price(self.price.text()),
            "note": self.note.toPlainText().strip(),
        }

    def take(self) -> None:
        """Tell what changed. Raises ``EntryError``."""
        typed = self._typed_facts()
        changed = {k: v for k, v in typed.items() if v != getattr(self._piece, k)}
        if changed:
            self.corrected.emit(changed)


def _typed(words: Iterable[str], text: str) -> QComboBox:
    combo = QComboBox()
    combo.setEditable(True)
    combo.addItems([word for word in words if word])
    combo.setCurrentText(text)
    return combo


def _one_of(words: type[Form] | type[Backing] | type[Fibre], chosen: str) -> QComboBox:
    combo = QComboBox()
    combo.addItems([str(word) for word in words])
    combo.setCurrentText(str(chosen))
    return combo


def _price(text: str) -> Decimal | None:
    if not text.strip():
        return None
    try:
        price = Decimal(text.strip().replace(",", "."))
    except InvalidOperation:
        price = Decimal("NaN")
    if not price.is_finite() or price < 0:
        raise EntryError("Price", f"Price: “{text.strip()}” is not a sum. Write 3.50 or nothing.")
    return price
