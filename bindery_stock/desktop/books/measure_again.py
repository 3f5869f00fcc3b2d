"""Measuring a back again over its linings, and holding the new sizes against what is reserved."""

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QFormLayout,
    QLabel,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.measure_again import Recheck, recheck
from bindery_stock.bench.books.part_list import parts_of
from bindery_stock.bench.books.split_supply import splits_kept
from bindery_stock.bench.books.survey import lined
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import BinderyError
from bindery_stock.stock import Repair
from bindery_stock.trade import Survey


class MeasureAgain(StockDialog):
    """Asks for the arc over the linings and shows what it changes.

    Emits ``taken(float)`` with the arc in mm.
    """

    taken = Signal(float)

    def __init__(self, books: BenchBooks, repair: Repair, parent: QWidget) -> None:
        """Ask for one volume."""
        super().__init__(parent)
        self._books, self._repair = books, repair
        self._found: Recheck | None = None
        self.setWindowTitle(f"{repair.name}: the linings are on")
        self.setMinimumWidth(GRID * 130)
        words = QLabel(
            "Lay a strip of paper round the back, over its new linings, from joint to joint, and "
            "measure the strip."
        )
        words.setWordWrap(True)
        self.arc = LengthEntry("Round the back", books.session.settings.lengths)
        self.arc.understood.connect(self.refresh)
        self.told = QPlainTextEdit()
        self.told.setReadOnly(True)
        self.told.setTabChangesFocus(True)
        self.told.setMinimumHeight(GRID * 48)
        self.told.setAccessibleName("What changes")
        self.take_button = next_button("Keep the new sizes")
        self.take_button.setEnabled(False)
        self.act_on(self.take_button)
        form = QFormLayout()
        form.addRow("&Round the back", self.arc)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addWidget(words)
        column.addLayout(form)
        column.addWidget(self.told, 1)
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.take_button))

    def refresh(self) -> None:
        """Hold the new sizes against what is reserved."""
        self._found = None
        try:
            arc = self.arc.value()
            if arc is not None:
                self._found = self._recheck(lined(self._repair.survey, arc))
        except BinderyError as error:
            self.told.setPlainText(str(error))
        self.take_button.setEnabled(self._found is not None)
        if self._found is not None:
            lines = [change.words for change in self._found.changes]
            self.told.setPlainText("\n".join(lines) or "No size changes: the estimate was right.")

    def _recheck(self, survey: Survey) -> Recheck:
        room = self._books.session.stockroom
        new = replace(self._repair, survey=survey)
        there = self._books.parts(self._repair.code)
        parts = splits_kept(parts_of(new, self._books.allowances(new), room.rules), there)
        held = self._books.view.reservations
        pieces = {piece.code: piece for piece in self._books.session.pieces}
        lengths = self._books.session.settings.lengths
        return recheck(there, parts, pieces, held, lengths)

    def take(self) -> None:
        """Tell the arc. Raises ``EntryError``."""
        arc = self.arc.value()
        if arc is not None:
            self.taken.emit(arc)
