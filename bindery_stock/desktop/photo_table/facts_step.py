"""Facts: what is known of the scrap besides its photograph."""

from dataclasses import replace
from enum import StrEnum

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QCompleter,
    QGridLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QWidget,
)

from bindery_stock.bench.photo_table.found import Found, facts_found
from bindery_stock.bench.photo_table.marks import Facts, StepName
from bindery_stock.bench.photo_table.shelve import JUDGED_BY_EYE, parse_price
from bindery_stock.bench.shelf.snapshot import WORDS
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.step import TableStep
from bindery_stock.desktop.session import Session
from bindery_stock.trade.vocabulary import PATTERNS, Backing, Fibre, Form, Kind


class FactsStep(TableStep):
    """The entries. What is entered for one scrap stands ready for the next."""

    name = StepName.FACTS

    def __init__(self, session: Session) -> None:
        """Lay out the entries, two to a row where they are short."""
        super().__init__(session, "All but colour, price and note is kept for the next scrap.")
        self._shown: Facts | None = None
        self.kind = _choice(Kind)
        self.form = _choice(Form)
        self.pattern = QComboBox()
        grain = QLineEdit()
        grain.setAccessibleName("Grain pattern")
        self.pattern.setLineEdit(grain)
        _shrinking(self.pattern)
        self.pattern.addItems(["", *PATTERNS])
        self.family = _family_choice()
        self.backing = _choice(Backing)
        self.fibre = _choice(Fibre)
        self.source = QLineEdit()
        self.source.setPlaceholderText("An old case, a dealer, a sample book")
        self.source_date = QLineEdit()
        self.source_date.setPlaceholderText("c. 1868")
        self.place_entry = QLineEdit()
        self.place_entry.setPlaceholderText("Drawer 3, red folder")
        self.price = QLineEdit()
        self.note = QLineEdit()
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(GRID * 2)
        self._grid.setVerticalSpacing(GRID)
        self._pair(0, ("&Kind", self.kind), ("For&m", self.form))
        self._pair(1, ("&Grain", self.pattern), ("C&olour", self.family))
        self._pair(2, ("&Backing", self.backing), ("F&ibre", self.fibre))
        self._wide(3, "Ca&me from", self.source)
        self._pair(4, ("&Date", self.source_date), ("P&rice", self.price))
        self._wide(5, "&Lies in", self.place_entry)
        self._wide(6, "&Note", self.note)
        self._grid.setColumnStretch(1, 1)
        self._grid.setColumnStretch(3, 1)
        self.column.addLayout(self._grid)
        for box in (self.kind, self.form, self.family, self.backing, self.fibre):
            box.activated.connect(lambda _index: self._entered())
        self.pattern.editTextChanged.connect(lambda _text: self._entered())
        for entry in self._entries():
            entry.textEdited.connect(lambda _text: self._entered())

    def show_draft(self, draft: ScrapDraft) -> None:
        """Fill the entries where another piece is on the table."""
        another = self.draft is not draft
        super().show_draft(draft)
        if another or self._shown is None:
            self._fill(self.facts)
        elif self.facts == replace(self._shown, colour_family=self.facts.colour_family):
            # Said at the colour: what is being typed here stays.
            self._shown = self.facts
            self.family.setCurrentIndex(max(0, self.family.findData(self.facts.colour_family)))
        else:
            self._fill(self.facts)

    def know_words(self) -> None:
        """Offer the words used in this stockroom before."""
        known = self.session.snapshot(WORDS).view
        for entry, listed in (
            (self.source, known.sources),
            (self.place_entry, known.places),
        ):
            completer = QCompleter(list(listed), entry)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            entry.setCompleter(completer)
        typed = self.pattern.currentText()
        own = [word for word in known.patterns if word not in PATTERNS]
        self.pattern.blockSignals(True)
        self.pattern.clear()
        self.pattern.addItems(["", *own, *PATTERNS])
        self.pattern.setCurrentText(typed)
        self.pattern.blockSignals(False)
        self.family.clear()
        self.family.addItem("not judged", "")
        for family in self.session.rules.families:
            self.family.addItem(family, family)
        self.family.setCurrentIndex(max(0, self.family.findData(self._family_shown())))

    def _family_shown(self) -> str:
        return self._shown.colour_family if self._shown is not None else ""

    def finding(self, draft: ScrapDraft) -> Found:
        """The facts in a line."""
        return facts_found(draft.facts or Facts())

    def read(self) -> None:
        """Take in everything, the price included."""
        self._keep(price_too=True)

    def begin(self) -> bool:
        """Begin with the kind."""
        self.kind.setFocus()
        return True

    def _entered(self) -> None:
        self._keep(price_too=False)
        self.typed.emit(self.marks)

    def _keep(self, *, price_too: bool) -> None:
        if self.draft is None:
            return
        price = parse_price(self.price.text()) if price_too else self.facts.price
        self.draft.facts = replace(
            self.facts,
            kind=Kind(self.kind.currentData()),
            form=Form(self.form.currentData()),
            pattern=self.pattern.currentText().strip(),
            backing=Backing(self.backing.currentData()),
            fibre=Fibre(self.fibre.currentData()),
            source=self.source.text().strip(),
            source_date=self.source_date.text().strip(),
            place=self.place_entry.text().strip(),
            price=price,
            note=self.note.text().strip(),
            colour_family=str(self.family.currentData() or ""),
        )
        self._shown = self.draft.facts
        self.family.setEnabled(self.draft.facts.kind in JUDGED_BY_EYE)

    def _fill(self, facts: Facts) -> None:
        self._shown = facts
        for box, word in (
            (self.kind, facts.kind),
            (self.form, facts.form),
            (self.backing, facts.backing),
            (self.fibre, facts.fibre),
        ):
            box.setCurrentIndex(box.findData(word))
        self.family.setCurrentIndex(max(0, self.family.findData(facts.colour_family)))
        self.family.setEnabled(facts.kind in JUDGED_BY_EYE)
        self.pattern.blockSignals(True)
        self.pattern.setCurrentText(facts.pattern)
        self.pattern.blockSignals(False)
        texts = (facts.source, facts.source_date, facts.place, facts.price, facts.note)
        for entry, text in zip(self._entries(), texts, strict=True):
            entry.setText("" if text is None else str(text))

    def _entries(self) -> tuple[QLineEdit, ...]:
        return (self.source, self.source_date, self.place_entry, self.price, self.note)

    def _wide(self, row: int, text: str, entry: QWidget) -> None:
        self._grid.addWidget(_label(text, entry), row, 0)
        self._grid.addWidget(entry, row, 1, 1, 3)

    def _pair(self, row: int, first: tuple[str, QWidget], second: tuple[str, QWidget]) -> None:
        for column, (text, entry) in zip((0, 2), (first, second), strict=True):
            self._grid.addWidget(_label(text, entry), row, column)
            self._grid.addWidget(entry, row, column + 1)


def _label(text: str, entry: QWidget) -> QLabel:
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setBuddy(entry)
    return label


def _choice(words: type[StrEnum]) -> QComboBox:
    box = QComboBox()
    for word in words:
        box.addItem(word.value, word)
    _shrinking(box)
    return box


def _family_choice() -> QComboBox:
    box = QComboBox()
    box.setToolTip("Judged by eye where it is least faded: under a turn-in.")
    box.setAccessibleName("Colour family, judged by eye")
    _shrinking(box)
    return box


def _shrinking(box: QComboBox) -> None:
    """Let two stand in a row however long their words are."""
    box.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
