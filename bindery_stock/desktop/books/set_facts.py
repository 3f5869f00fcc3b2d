"""The facts of a set: its title, its cloth, and what its volumes have in common."""

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.survey_entries import survey_entries
from bindery_stock.bench.shelf.cautions import families_by_care
from bindery_stock.desktop.books.description_form import DescriptionForm
from bindery_stock.desktop.column import entry_name, plain_label
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.forms.form_dialog import Chooser
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import EntryError
from bindery_stock.stock import BookSet, NewBookSet, Shared
from bindery_stock.trade import Rules
from bindery_stock.trade.vocabulary import PATTERNS
from bindery_stock.units import LengthStyle

_HANDED_ON = (
    "A volume surveyed from now on begins with what stands here; what is different of it is put "
    "right there. Volumes that were entered before stay as they are."
)


class SetFacts(StockDialog):
    """A set to be entered or put right. Emits ``kept(NewBookSet)``."""

    kept = Signal(object)

    def __init__(
        self, book_set: BookSet | None, lengths: LengthStyle, rules: Rules, parent: QWidget
    ) -> None:
        """Fill in what is known."""
        super().__init__(parent)
        self._set = book_set
        self.setWindowTitle(book_set.title if book_set else "A set of volumes")
        self.setMinimumWidth(GRID * 210)
        known = book_set or NewBookSet(title="")
        self.title = QLineEdit(known.title)
        self.author = QLineEdit(known.author)
        self.pattern = QComboBox()
        self.pattern.setEditable(True)
        self.pattern.addItems(["", *PATTERNS])
        self.pattern.setCurrentText(known.pattern)
        self.note = QLineEdit(known.note)
        self.owner = QLineEdit(known.owner)
        words = list(families_by_care(rules))
        if known.colour_family and known.colour_family not in words:
            words.append(known.colour_family)
        families = [("not said", ""), *((word, word) for word in words)]
        self.family = Chooser(families, known.colour_family)
        self.dated = QLineEdit(known.dated)
        self.dated.setPlaceholderText("as written: c. 1868")
        self.description = DescriptionForm(of_set=True)
        self.description.show_description(known.description)
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
            ("&Belongs to", self.owner),
            ("&Grain pattern", self.pattern),
            ("Co&lour, by eye", self.family),
            ("Boun&d", self.dated),
            ("&Note", self.note),
        ):
            form.addRow(words, entry)
            self.name_field(entry, words)
        self.name_field(self.pattern, "Pattern")
        self.name_field(self.owner, "Owner")
        self.name_field(self.dated, "Dated")
        self.refuse_in(form)
        form.addRow(_head("Measures in common, where the volumes are alike"))
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
        described = QVBoxLayout()
        described.setSpacing(GRID * 2)
        described.addWidget(_head("Imprint and binding in common"))
        described.addWidget(self.description)
        described.addStretch(1)
        described.addWidget(plain_label(_HANDED_ON, muted=True))
        halves = QHBoxLayout()
        halves.setSpacing(GRID * 6)
        halves.addLayout(form, 1)
        halves.addLayout(described, 1)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addLayout(halves)
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
                owner=self.owner.text().strip(),
                colour_family=self.family.value() or "",
                dated=self.dated.text().strip(),
                description=self.description.description(),
                shared=shared,
            )
        )


def _head(words: str) -> QLabel:
    head = entry_name(words)
    sized(head, TypeSize.HEAD)
    return head
