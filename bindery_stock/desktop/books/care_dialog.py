"""Examination, options and consent of a volume: what its proposal and its record say of them."""

from dataclasses import replace
from datetime import date
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.books.form_rows import few_lines
from bindery_stock.desktop.books.option_rows import OptionRows
from bindery_stock.desktop.column import plain_label, scrolled
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.forms.form_dialog import DayLine
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.stock import Repair
from bindery_stock.trade.care import CarePlan

_TEXTS = (
    ("aims", "A&ims", "What the volume is to bear, and what of it is to stay as it is"),
    ("recommendation", "Recommended, &because", ""),
    ("risks", "Ris&ks told", "What may go wrong, and what cannot be undone"),
    ("aftercare", "A&fter-care", "How it is to be kept, opened and read"),
)
_CONSENT = "Work begins once the owner has consented in writing; spoken consent is noted as such."
"""After the Commentaries of the AIC on consent; published, read in excerpt."""


class CareDialog(StockDialog):
    """Emits ``kept(CarePlan)``."""

    kept = Signal(object)

    def __init__(self, repair: Repair, today: date, parent: QWidget) -> None:
        """Fill in what was written."""
        super().__init__(parent)
        care = self._care = repair.care
        self.setWindowTitle(f"Examination and proposal: {repair.name}")
        self.examiner = QLineEdit(care.examiner)
        self.examined_on = DayLine("Examined on", care.examined_on, today)
        self.texts: dict[str, QPlainTextEdit] = {}
        self.consent = QLineEdit(care.consent)
        self.consent.setPlaceholderText("who, and how: by letter, signed, spoken")
        self.consented_on = DayLine("Consented on", care.consented_on, today)
        self.options = OptionRows(care)
        self.keep_button = next_button("Keep")
        self.act_on(self.keep_button)
        self._lay_out(care)
        self.resize(GRID * 240, GRID * 150)
        self.examiner.setFocus()

    def _lay_out(self, care: CarePlan) -> None:
        form = QFormLayout()
        form.setSpacing(GRID * 2)
        self._row(form, "&Examiner", self.examiner)
        self._row(form, "Examined o&n", self.examined_on)
        for field, name, hint in _TEXTS:
            entry = few_lines(name.replace("&", ""))
            entry.setPlainText(getattr(care, field))
            entry.setPlaceholderText(hint)
            self.texts[field] = entry
            if field == "recommendation":
                self._row(form, "&Recommended", self.options.recommended)
            self._row(form, name, entry)
        self._row(form, "&Consent", self.consent)
        self._row(form, "Consented &on", self.consented_on)
        self.name_field(self.options.more_button, "Options", "Hours")
        self.refuse_in(form)
        facts = QVBoxLayout()
        facts.addLayout(form)
        facts.addStretch(1)
        courses = QVBoxLayout()
        courses.addWidget(plain_label("Options, from the least upward", size=TypeSize.HEAD))
        courses.addWidget(scrolled(self.options), 1)
        halves = QHBoxLayout()
        halves.setSpacing(GRID * 6)
        halves.addLayout(facts, 1)
        halves.addLayout(courses, 1)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addLayout(halves, 1)
        column.addWidget(plain_label(_CONSENT, muted=True))
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.keep_button))

    def _row(self, form: QFormLayout, name: str, entry: QWidget) -> None:
        form.addRow(name, entry)
        self.name_field(entry, name)

    def take(self) -> None:
        """Tell what was written. Raises ``EntryError``."""
        options, recommended = self.options.options()
        texts: dict[str, Any] = {
            field: entry.toPlainText().strip() for field, entry in self.texts.items()
        }
        self.kept.emit(
            replace(
                self._care,
                examiner=self.examiner.text().strip(),
                examined_on=self.examined_on.value(),
                options=options,
                recommended=recommended,
                consent=self.consent.text().strip(),
                consented_on=self.consented_on.value(),
                **texts,
            )
        )
