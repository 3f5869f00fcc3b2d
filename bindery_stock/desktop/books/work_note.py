"""Noting what was done to a volume: the work, the hours, what was used, how it can be undone."""

from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.adhesives.snapshot import ADHESIVES
from bindery_stock.bench.books.note_work import (
    WORK_CAUTION,
    names_wet_work,
    part_coded,
    part_told,
    ruling_beforehand,
    ruling_words,
)
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.forms.form_dialog import Chooser, DayLine
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import EntryError
from bindery_stock.stock import BookPart, NewTreatment, Repair

_AS_SAID = "Not noted: the rules stop it, as is said above. Everything typed is still here."


class WorkNote(StockDialog):
    """Emits ``noted(NewTreatment)``."""

    noted = Signal(object)

    def __init__(
        self, books: BenchBooks, repair: Repair, part: BookPart | None, parent: QWidget
    ) -> None:
        """Note work on a volume; on one of its parts where it has just been laid."""
        super().__init__(parent)
        self._books, self._repair, self._part = books, repair, part
        self._named_wet = False
        self._named_part: BookPart | None = None
        self._parts = [one for one in books.parts(repair.code) if one.piece] if not part else []
        self.setWindowTitle(f"{repair.name}: {part.words} in the book" if part else repair.name)
        self.setMinimumWidth(GRID * 120)
        self.what = QLineEdit(f"Laid the {part.words}" if part else "")
        self.what.setPlaceholderText("Lifted the old cloth at both joints")
        whole: list[tuple[str, BookPart | None]] = [("the volume as a whole", None)]
        self.part = Chooser(whole + [(f"{one.words}, {one.piece}", one) for one in self._parts])
        self.hours = NumberEntry("Hours", 0, 1000)
        self.hours.setPlaceholderText("0.5")
        self.lot = QComboBox()
        self.lot.addItem("no adhesive", None)
        self._lots = {lot.code: lot for lot in books.session.snapshot(ADHESIVES).view.lots}
        for lot in self._lots.values():
            self.lot.addItem(f"{lot.code}, {lot.name}", lot.code)
        self.amount = QLineEdit()
        self.wet = QCheckBox("Water, paste or a damp poultice")
        self.on = DayLine("Done on", None, books.session.stockroom.today)
        self.on.setPlaceholderText("today")
        self.undo = QLineEdit()
        self.undo.setPlaceholderText("softened with a damp poultice and lifted")
        self.reason = QLineEdit()
        self.reason.setPlaceholderText("only where a rule speaks against it")
        self.ruling = plain_label()
        self.ruling.setAccessibleName("What the rules say")
        self.note_button = next_button("Note it")
        self.act_on(self.note_button)
        self._lay_out()
        self.what.textEdited.connect(self._read_words)
        self.part.currentIndexChanged.connect(self._judge)
        self.lot.currentIndexChanged.connect(self._judge)
        self.wet.toggled.connect(self._judge)
        self.on.textChanged.connect(self._judge)
        self._said = ""
        self._judge()
        self.what.setFocus()

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setSpacing(GRID * 2)
        for words, entry in (
            ("&What was done", self.what),
            ("Done &to", self.part),
            ("&Hours", self.hours),
            ("&Adhesive", self.lot),
            ("A&mount", self.amount),
            ("&Wet", self.wet),
            ("&Done on", self.on),
            ("How to &undo it", self.undo),
            ("&Reason", self.reason),
        ):
            form.addRow(words, entry)
            self.name_field(entry, words)
        form.setRowVisible(self.part, bool(self._parts))
        self.name_field(self.what, "What")
        self.name_field(self.lot, "Lot")
        self.name_field(self.undo, "Undo")
        self.name_field(self.on, "On")
        self.name_field(self.reason, "Reason", "Laid on")
        self.refuse_in(form)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addLayout(form)
        column.addWidget(self.ruling)
        column.addWidget(plain_label(WORK_CAUTION, muted=True))
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.note_button))

    def _read_words(self, words: str) -> None:
        """Tick wet where the words name wet work, and choose the part they name.

        What the binder changes of it afterwards stays so.
        """
        told = part_told(words, self._parts)
        if told is not None and told != self._named_part:
            self.part.choose(told)
        self._named_part = told
        named = names_wet_work(words)
        if named and not self._named_wet:
            self.wet.setChecked(True)
        self._named_wet = named
        self._judge()

    def _judge(self) -> None:
        """Show beforehand what the gate says to the work as it is filled in."""
        try:
            day = self.on.value()
        except EntryError:
            day = None
        part, room = self._on_part(), self._books.session.stockroom
        said = ruling_beforehand(
            room,
            self._repair,
            self._treatment(day),
            part,
            self._books.piece(part.piece) if part is not None else None,
            self._lots.get(self.lot.currentData() or ""),
        )
        happened = self._part is not None or (day is not None and day < room.today)
        self._said = said.words
        self.ruling.setText(ruling_words(said, happened=happened))
        self.ruling.setVisible(not said.is_allowed)
        if self.isVisible():
            self.make_room()

    def _on_part(self) -> BookPart | None:
        """The part it is done to: that laid just now, or as chosen, or named by its piece."""
        chosen: BookPart | None = self._part or self.part.value()
        return chosen or part_coded(self.what.text(), self._parts)

    def say_wrong(self, words: str, field: str = "") -> None:
        """A refusal by the rules that stands here already is not said twice."""
        again = bool(words) and words == self._said
        super().say_wrong(_AS_SAID if again else words, field)

    def _treatment(self, day: date | None, hours: float = 0.0) -> NewTreatment:
        part: BookPart | None = self._part or self.part.value()
        return NewTreatment(
            what=self.what.text().strip(),
            undo=self.undo.text().strip(),
            hours=hours,
            part=part.id if part else None,
            piece=part.piece or None if part else None,
            lot=self.lot.currentData(),
            amount=self.amount.text().strip(),
            override=self.reason.text().strip(),
            on=day,
            wet=self._wet(),
        )

    def _wet(self) -> bool | None:
        """As ticked; unticked again after words that name wet work it is dry, or as the lot is."""
        if self.wet.isChecked():
            return True
        return False if self._named_wet and not self.lot.currentData() else None

    def take(self) -> None:
        """Tell what was done. Raises ``EntryError``."""
        hours = self.hours.value() or 0.0
        if not self.what.text().strip():
            raise EntryError("What was done", "What was done: say it in a few words.")
        self.noted.emit(self._treatment(self.on.value(), hours))
