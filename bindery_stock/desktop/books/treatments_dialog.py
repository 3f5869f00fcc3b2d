"""A treatment for each damage of a volume: the program proposes, the binder chooses."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.placed_words import placed_words
from bindery_stock.bench.books.survey import hours_words
from bindery_stock.bench.books.treatment_words import rank_words, whole_words, why_words
from bindery_stock.bench.books.volume_treatments import OpenChoice, is_barred
from bindery_stock.desktop.column import plain_label, scrolled
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.stock import Repair
from bindery_stock.trade.care import TreatmentChoice
from bindery_stock.units import LengthStyle


class TreatmentsDialog(StockDialog):
    """Emits ``chosen(list)`` with a ``TreatmentChoice`` for each damage."""

    chosen = Signal(object)

    def __init__(
        self, repair: Repair, choice: OpenChoice, lengths: LengthStyle, parent: QWidget
    ) -> None:
        """Begin with what was chosen, else with what is proposed."""
        super().__init__(parent)
        self.setWindowTitle(f"Treatments: {repair.name}")
        self._choice, self._lengths, self._row = choice, lengths, -1
        before = repair.care.choices
        self.keys = [one.treatment for one in before] or [
            one.proposed.treatment.key if one.proposed else "" for one in choice.proposals
        ]
        self.reasons = [one.reason for one in before] or [""] * len(self.keys)
        self.damages, self.options = QListWidget(), QListWidget()
        self.damages.setAccessibleName("Damage")
        self.options.setAccessibleName("Treatments, from least to most")
        self.options.setWordWrap(True)
        self.options.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.damages.setWordWrap(True)
        self.about = plain_label()
        self.about.setAccessibleName("About this treatment")
        self.reason = QLineEdit()
        self.total = plain_label()
        self.total.setAccessibleName("What it comes to")
        self.keep_button = next_button("Keep the treatments")
        self.keep_button.setEnabled(bool(self.keys))
        self.act_on(self.keep_button)
        self._lay_out()
        self.damages.currentRowChanged.connect(self._show_damage)
        self.options.currentRowChanged.connect(self._choose)
        self.reason.textEdited.connect(self._reason_typed)
        self._name_damages()
        self.damages.setCurrentRow(0 if self.keys else -1)
        self._add_up()
        self.resize(GRID * 270, GRID * 150)
        self.damages.setFocus()

    def at_stake(self) -> object:
        """What is chosen, and why."""
        return tuple(self.keys), tuple(self.reasons)

    def _lay_out(self) -> None:
        halves = QHBoxLayout()
        halves.setSpacing(GRID * 4)
        for words, widget, stretch in (
            ("Damage", self.damages, 3),
            ("Treatments, from least to most", self.options, 5),
            ("About the one chosen", scrolled(self.about), 5),
        ):
            column = QVBoxLayout()
            column.addWidget(plain_label(words, size=TypeSize.HEAD))
            column.addWidget(widget, 1)
            halves.addLayout(column, stretch)
        form = QFormLayout()
        form.addRow("&Reason", self.reason)
        self.reason.setPlaceholderText("Why another than the proposed one is chosen")
        self.name_field(self.reason, "Reason")
        self.refuse_in(form)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        if self._choice.stops:
            column.addWidget(plain_label(f"△ {self._choice.stops}"))
        column.addLayout(halves, 1)
        column.addLayout(form)
        column.addWidget(self.total)
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.keep_button))

    def _name_damages(self) -> None:
        for row, proposal in enumerate(self._choice.proposals):
            if self.damages.count() <= row:
                self.damages.addItem("")
            names = {one.treatment.key: one.treatment.term.british for one in proposal.options}
            told = names.get(self.keys[row], "nothing chosen yet: ask a conservator")
            damage = placed_words(proposal.damage, self._lengths)
            self.damages.item(row).setText(f"{damage}\n→ {told}")

    def _show_damage(self, row: int) -> None:
        self._row = -1
        self.options.clear()
        if row < 0:
            return
        options = self._choice.proposals[row].options
        for option in options:
            item = QListWidgetItem(f"{rank_words(option)}\n{why_words(option)}")
            if is_barred(option):
                item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEnabled)
            self.options.addItem(item)
        keys = [one.treatment.key for one in options]
        self.options.setCurrentRow(keys.index(self.keys[row]) if self.keys[row] in keys else -1)
        self._row = row
        self.reason.setText(self.reasons[row])
        self._show_about()

    def _choose(self, at: int) -> None:
        if self._row < 0 or at < 0:
            return
        self.keys[self._row] = self._choice.proposals[self._row].options[at].treatment.key
        self._name_damages()
        self._show_about()
        self._add_up()

    def _show_about(self) -> None:
        at = self.options.currentRow()
        options = self._choice.proposals[self._row].options
        parts = self._choice.rules.parts
        self.about.setText(whole_words(options[at], parts) if at >= 0 else "")
        self.reason.setEnabled(self.keys[self._row] != self._proposed(self._row))

    def _reason_typed(self, text: str) -> None:
        self.reasons[self._row] = text.strip()

    def _proposed(self, row: int) -> str:
        least = self._choice.proposals[row].proposed
        return least.treatment.key if least is not None else ""

    def _add_up(self) -> None:
        if not self.keys:
            self.total.setText("No damage is noted: enter it under Damage… first.")
            return
        try:
            work = self._choice.work(self.keys)
        except BinderyError as error:
            self.total.setText(str(error))
            return
        hours = hours_words(work.hours.low, work.hours.high)
        pieces = len(work.parts)
        noun = "part" if pieces == 1 else "parts"
        told = [f"Together: {pieces} {noun} to cut, {hours} h by the rules, drying left out."]
        told += [f"△ {one}" for one in work.warnings]
        self.total.setText("\n".join(told))

    def take(self) -> None:
        """Tell what was chosen. Raises ``EntryError`` where a reason is wanting."""
        found = []
        for row, key in enumerate(self.keys):
            least = self._proposed(row)
            reason = self.reasons[row] if key != least else ""
            if not (key and (reason or key == least)):
                self.damages.setCurrentRow(row)
            if not key:
                raise EntryError("Treatment", "Choose a treatment, or to leave it as it is.")
            found.append(TreatmentChoice(treatment=key, proposed=least, reason=reason))
        self.chosen.emit(found)
