"""The facts of a set: its title, its cloth, and what its volumes have in common."""

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.survey_entries import survey_entries
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import EntryError
from bindery_stock.stock import BookSet, NewBookSet, Shared
from bindery_stock.trade.vocabulary import PATTERNS
from bindery_stock.units import LengthStyle


class SetFacts(StockDialog):
    """A set to be entered or put right. Emits ``kept(NewBookSet)``."""

    kept = Signal(object)

    def __init__(self, book_set: BookSet | None, lengths: LengthStyle, parent: QWidget) -> None:
        """Fill in what is known."""
        super().__init__(parent)
        self._set = book_set
        self.setWindowTitle(book_set.title if book_set else "A set of volumes")
        self.setMinimumWidth(GRID * 110)
        self.title = QLineEdit(book_set.title if book_set else "")
        self.author = QLineEdit(book_set.author if book_set else "")
        self.pattern = QComboBox()
        self.pattern.setEditable(True)
        self.pattern.addItems(["", *PATTERNS])
        self.pattern.setCurrentText(book_set.pattern if book_set else "")
        self.note = QLineEdit(book_set.note if book_set else "")
        self.entries: dict[str, LengthEntry] = {}
        self.keep_button = next_button("Keep")
        self.act_on(self.keep_button)
        self._lay_out(lengths)
        self.title.setFocus()

    def _lay_out(self, lengths: LengthStyle) -> None:
        form = QFormLayout()
        form.setSpacing(GRID * 2)
        for words, entry in (
            ("&Title", self.title),
            ("&Author", self.author),
            ("&Grain pattern", self.pattern),
            ("&Note", self.note),
        ):
            form.addRow(words, entry)
            self.name_field(entry, words)
        self.name_field(self.pattern, "Pattern")
        self.refuse_in(form)
        head = QLabel("In common, where the volumes are alike")
        sized(head, TypeSize.HEAD)
        form.addRow(head)
        shared: Mapping[str, Shared] = self._set.shared if self._set else {}
        for asked in survey_entries().lengths:
            if not asked.each_its_own:
                length = LengthEntry(asked.words, lengths, allow_zero=asked.may_be_zero)
                length.setWhatsThis(asked.how)
                value = shared.get(asked.field)
                if isinstance(value, int | float) and not isinstance(value, bool):
                    length.show_length(float(value))
                self.entries[asked.field] = length
                form.addRow(asked.words, length)
                self.name_field(length, length.field, asked.field)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addLayout(form)
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.keep_button))

    def take(self) -> None:
        """Tell the set. Raises ``EntryError``."""
        if not self.title.text().strip():
            raise EntryError("Title", "Title: must not be empty.")
        shared: dict[str, Shared] = dict(self._set.shared) if self._set else {}
        for name, entry in self.entries.items():
            value = entry.value()
            if value is None:
                shared.pop(name, None)
            else:
                shared[name] = value
        self.kept.emit(
            NewBookSet(
                title=self.title.text().strip(),
                author=self.author.text().strip(),
                note=self.note.text().strip(),
                pattern=self.pattern.currentText().strip(),
                shared=shared,
            )
        )
