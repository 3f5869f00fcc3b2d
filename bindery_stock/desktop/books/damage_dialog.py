"""The damage of a volume with its places: a list by keys, and a drawing of the book to press on."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QHBoxLayout,
    QListWidget,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.placed_words import placed_words
from bindery_stock.bench.books.volume_treatments import as_found
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.book_drawing import BookDrawing, place_words
from bindery_stock.desktop.column import entry_name, plain_label
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.entries import LengthEntry, NumberEntry
from bindery_stock.desktop.forms.form_dialog import Chooser
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import next_button, quiet_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.errors import EntryError
from bindery_stock.stock import Repair
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damage_sense import contradictions
from bindery_stock.trade.damages import DamageKind, PlacedDamage
from bindery_stock.trade.found_damage import found_places
from bindery_stock.trade.measures import Measures

_TAKEN_BACK = "Where damage changes here, the treatments chosen before are to be chosen again."


class DamageDialog(StockDialog):
    """Emits ``kept(tuple)`` with the ``PlacedDamage`` of the volume."""

    kept = Signal(object)

    def __init__(self, books: BenchBooks, repair: Repair, parent: QWidget) -> None:
        """Begin with what is known, of an old survey with what its ticks tell."""
        super().__init__(parent)
        self.setWindowTitle(f"Damage: {repair.name}")
        self._kinds = shipped_damages()
        self._lengths = books.session.settings.lengths
        self._measures = Measures(
            as_found(repair).survey, books.allowances(repair), books.session.rules
        )
        self.damages = list(found_places(repair.survey, repair.care))
        self.drawing = BookDrawing()
        self.list = QListWidget()
        self.list.setAccessibleName("Damage of this volume")
        self.place = Chooser([(place_words(place), place) for place in BookPlace])
        self.kind = Chooser([])
        self.help = plain_label(muted=True)
        self.along = LengthEntry("Along", self._lengths)
        self.across = LengthEntry("Across", self._lengths)
        self.count = NumberEntry("Count", 1, 9999)
        self.stable = QCheckBox("Seen to be stable: it does not go on")
        self.add_button = quiet_button("Add this damage")
        self.change_button = quiet_button("Put the chosen one right")
        self.delete_button = quiet_button("Delete the chosen one")
        self.sense = plain_label()
        self.sense.setAccessibleName("What does not agree")
        self.keep_button = next_button("Keep the damage")
        self.act_on(self.keep_button)
        self._lay_out(told=bool(repair.care.choices))
        self._listen()
        self._show_list(-1)
        self._offer_kinds()
        self.resize(GRID * 230, GRID * 140)
        self.place.setFocus()

    def at_stake(self) -> object:
        """The damage as it stands, and what is typed beside it."""
        return tuple(self.damages), self.along.text(), self.across.text(), self.count.text()

    def _lay_out(self, *, told: bool) -> None:
        form = QFormLayout()
        form.setSpacing(GRID * 2)
        self.along_name, self.across_name = entry_name("Along"), entry_name("Across")
        form.addRow("&Place", self.place)
        form.addRow("&What is wrong", self.kind)
        form.addRow("", self.help)
        form.addRow(self.along_name, self.along)
        form.addRow(self.across_name, self.across)
        form.addRow("How &many", self.count)
        form.addRow("", self.stable)
        for entry, name in (
            (self.place, "Place"), (self.kind, "Damage"), (self.along, "Along"),
            (self.along, "Extent"), (self.across, "Across"), (self.count, "Count"),
        ):  # fmt: skip
            self.name_field(entry, name)
        self.refuse_in(form)
        buttons = QHBoxLayout()
        for button in (self.add_button, self.change_button, self.delete_button):
            buttons.addWidget(button)
        right = QVBoxLayout()
        right.setSpacing(GRID * 2)
        right.addLayout(form)
        right.addLayout(buttons)
        right.addWidget(self.list, 1)
        right.addWidget(self.sense)
        halves = QHBoxLayout()
        halves.setSpacing(GRID * 6)
        halves.addWidget(self.drawing, 1)
        halves.addLayout(right, 1)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addLayout(halves, 1)
        if told:
            column.addWidget(plain_label(_TAKEN_BACK, muted=True))
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.keep_button))

    def _listen(self) -> None:
        self.drawing.pressed.connect(self.press)
        self.place.currentIndexChanged.connect(self._offer_kinds)
        self.kind.currentIndexChanged.connect(self._kind_chosen)
        self.list.currentRowChanged.connect(self._row_chosen)
        self.add_button.clicked.connect(lambda: self.tell_entry(self._add))
        self.change_button.clicked.connect(lambda: self.tell_entry(self._change))
        self.delete_button.clicked.connect(self._delete)

    def press(self, place: BookPlace) -> None:
        """Go to the damage at a place; where there is none, begin one there."""
        self.place.choose(place)
        at = next((row for row, one in enumerate(self.damages) if one.place is place), -1)
        self.list.setCurrentRow(at)
        if at < 0:
            self._empty()
        self.kind.setFocus()

    def _offer_kinds(self) -> None:
        place, was = self.place.value(), self.kind.value()
        found = [
            (kind.term.both[0].upper() + kind.term.both[1:], kind.key)
            for kind in self._kinds.by_key.values()
            if place in kind.places or place is BookPlace.NOT_SAID
        ]
        self.kind.offer(found, was)
        self._kind_chosen()

    def _kind_chosen(self) -> None:
        kind = self._kind()
        self.help.setText(kind.term.help if kind is not None else "")
        asked = (kind.along, kind.across) if kind is not None else ("", "")
        rows = ((self.along, self.along_name), (self.across, self.across_name))
        for (entry, name), words in zip(rows, asked, strict=True):
            entry.setEnabled(bool(words))
            entry.setAccessibleName(words.capitalize() or entry.field)
            name.setText(words.capitalize() or entry.field)
            if not words:
                entry.clear()
        several = self.place.value() is BookPlace.NOT_SAID
        self.count.setEnabled(kind is not None and (kind.counted or several))
        if not self.count.isEnabled():
            self.count.clear()
        self._draw()

    def _kind(self) -> DamageKind | None:
        key = self.kind.value()
        return None if key is None else self._kinds[key]

    def _row_chosen(self, row: int) -> None:
        for button in (self.change_button, self.delete_button):
            button.setEnabled(row >= 0)
        if row < 0:
            self._draw()
            return
        one = self.damages[row]
        self.place.choose(one.place)
        self.kind.choose(one.kind)
        for entry, value in ((self.along, one.along), (self.across, one.across)):
            entry.clear()
            if value is not None:
                entry.show_length(value)
        self.count.setText(str(one.count) if one.count > 1 else "")
        self.stable.setChecked(not one.goes_on)
        self._draw()

    def _entered(self) -> PlacedDamage:
        """The damage in the entries. Raises ``EntryError`` naming entry and mend."""
        kind = self._kind()
        if kind is None:
            raise EntryError("Place", "Nothing is found at this place: choose another.")
        count = self.count.value()
        found = PlacedDamage(
            kind=kind.key,
            place=self.place.value(),
            along=self.along.value(),
            across=self.across.value(),
            count=1 if count is None else round(count),
            goes_on=not self.stable.isChecked(),
        )
        self._kinds.check(found, self._measures)
        return found

    def tell_entry(self, deed: Callable[[PlacedDamage], None]) -> None:
        """Do this with the damage entered, or say beside the entry what is wrong with it."""
        self.say_wrong("")
        try:
            found = self._entered()
        except EntryError as error:
            self.say_wrong(str(error), error.field)
            return
        deed(found)

    def _add(self, found: PlacedDamage) -> None:
        self.damages.append(found)
        self._show_list(-1)
        self._empty()
        self.place.setFocus()

    def _empty(self) -> None:
        for entry in (self.along, self.across, self.count):
            entry.clear()
        self.stable.setChecked(False)

    def _change(self, found: PlacedDamage) -> None:
        row = self.list.currentRow()
        self.damages[row] = found
        self._show_list(row)

    def _delete(self) -> None:
        del self.damages[self.list.currentRow()]
        self._show_list(-1)
        self._empty()

    def _show_list(self, row: int) -> None:
        self.list.blockSignals(True)
        self.list.clear()
        self.list.addItems([placed_words(one, self._lengths) for one in self.damages])
        self.list.setCurrentRow(row)
        self.list.blockSignals(False)
        self._row_chosen(row)
        told = contradictions(self.damages, self._kinds, self._measures)
        self.sense.setText("\n".join(f"△ {line}" for line in told))
        self.sense.setVisible(bool(told))

    def _draw(self) -> None:
        self.drawing.show_places((one.place for one in self.damages), self.place.value())

    def take(self) -> None:
        """Tell the damage. Raises ``EntryError`` where something typed is not in the list."""
        row = self.list.currentRow()
        if self.along.text() or self.across.text() or self.count.text():
            found = self._entered()
            if row < 0 or found != self.damages[row]:
                raise EntryError(
                    "Damage", "What is entered here is not in the list: add it, or empty it."
                )
        self.kept.emit(tuple(self.damages))
