"""The facts of a lot as entries: bought, made, mixed, or put right."""

from dataclasses import fields
from enum import Enum, auto
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPlainTextEdit,
    QWidget,
)

from bindery_stock.bench.adhesives.enter_lot import mixing_words
from bindery_stock.bench.adhesives.snapshot import ADHESIVES
from bindery_stock.bench.adhesives.typed import SHARES, read_amount
from bindery_stock.bench.shelf.snapshot import WORDS
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.forms.form_dialog import Chooser, FormDialog, typed_or_chosen
from bindery_stock.desktop.look import TypeSize, sized
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError
from bindery_stock.stock import AdhesiveLot, Measure, NewAdhesiveLot, amount_words
from bindery_stock.trade import Store
from bindery_stock.trade.gate import Leave

_UNITS: list[tuple[str, Measure | None]] = [
    ("g", Measure.GRAM),
    ("ml", Measure.MILLILITRE),
    ("of the tin", Measure.SHARE),
    ("in words", None),
]
_PARTS_HEIGHT = 5


class LotStart(Enum):
    """How a lot comes to the shelf."""

    BOUGHT = auto()
    MADE = auto()
    MIXED = auto()


_TITLES = {
    LotStart.BOUGHT: "A tin or packet bought",
    LotStart.MADE: "A batch cooked or made",
    LotStart.MIXED: "A mixture or dilution",
}


class LotDialog(FormDialog):
    """Asks for a new lot, or for what is to be put right of one.

    Emits ``entered(NewAdhesiveLot, str)``, with the reason written where the rules speak against a
    lot it is mixed from, or, for a lot that is there, ``corrected(dict)`` with the fields that
    changed.
    """

    entered = Signal(object, str)
    corrected = Signal(object)

    def __init__(
        self,
        session: Session,
        parent: QWidget | None,
        *,
        start: LotStart = LotStart.BOUGHT,
        lot: AdhesiveLot | None = None,
        parts: tuple[str, ...] = (),
    ) -> None:
        """Ask for a new lot, or put ``lot`` right; ``parts`` are ticked as what it is made from."""
        title = f"Facts of {lot.code}" if lot else _TITLES[start]
        super().__init__(title, "Save" if lot else "Put on the shelf", parent)
        self._session, self._lot, self._start = session, lot, start
        was = lot or NewAdhesiveLot(kind="", name="", made_from=parts)
        self._ask_what(was)
        self._ask_parts(was)
        self._ask_dates(was)
        self._ask_how_much(was)
        self._ask_rest(was)
        self._ask_reason()

    def _ask_what(self, was: NewAdhesiveLot) -> None:
        rules = self._session.rules
        classes: list[tuple[str, str | None]] = [
            (kind.name, key)
            for key, kind in sorted(rules.adhesives.items(), key=lambda pair: pair[1].name)
        ]
        if was.kind not in rules.adhesives:
            blank = (was.kind or "choose…", was.kind or None)
            classes.insert(0, blank)
        self.kind = Chooser(classes, was.kind or None)
        self.add("&Class", self.kind, "Kind")
        self.name = self.line("&Name", was.name, hint="what the label says")

    def _ask_parts(self, was: NewAdhesiveLot) -> None:
        self.parts = QListWidget()
        self.parts.setMaximumHeight(self.parts.fontMetrics().height() * _PARTS_HEIGHT)
        own = self._lot.code if self._lot else ""
        self._known = {lot.code: lot for lot in self._session.snapshot(ADHESIVES).view.every_lot}
        for lot in self._known.values():
            ticked = lot.code in was.made_from
            if lot.code == own or (lot.finished and not ticked):
                continue
            item = QListWidgetItem(f"{lot.code}  {lot.name}")
            item.setData(Qt.ItemDataRole.UserRole, lot.code)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            state = Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked
            item.setCheckState(state)
            self.parts.addItem(item)
        self.add("Mixed &from", self.parts)
        if self._start is not LotStart.MIXED and not was.made_from:
            self.form.setRowVisible(self.parts, False)

    def _ask_dates(self, was: NewAdhesiveLot) -> None:
        today = self._session.stockroom.today
        new = self._lot is None
        bought = today if new and self._start is LotStart.BOUGHT else was.bought
        made = today if new and self._start is not LotStart.BOUGHT else was.made
        self.bought = self.day("&Bought", bought, today)
        self.received = self.day("&Received", was.received, today)
        self.opened = self.day("&Opened", was.opened, today)
        self.made = self.day("&Made or mixed", made, today)
        self.expires = self.day("Supplier's &date", was.expires, today)
        if new and self._start is not LotStart.BOUGHT:
            for entry in (self.bought, self.received, self.opened, self.expires):
                self.form.setRowVisible(entry, False)

    def _ask_how_much(self, was: NewAdhesiveLot) -> None:
        self.amount = QComboBox()
        self.amount.setEditable(True)
        self.amount.setAccessibleName("How much is left")
        self.unit = Chooser(_UNITS, was.unit if was.unit or self._lot else Measure.GRAM)
        self.unit.setAccessibleName("In what it is counted")
        self.unit.currentIndexChanged.connect(self._offer_shares)
        self._offer_shares()
        self.amount.setCurrentText(_amount_text(was))
        row = QHBoxLayout()
        row.addWidget(self.amount, 1)
        row.addWidget(self.unit)
        label = QLabel("How much is &left")
        label.setBuddy(self.amount)
        self.form.addRow(label, row)
        self.name_field(
            self.amount, "How much is left", "Left", "Held at first", "Quantity", "Amount"
        )

    def _offer_shares(self) -> None:
        text = self.amount.currentText()
        self.amount.clear()
        if self.unit.value() is Measure.SHARE:
            self.amount.addItems(list(SHARES))
        self.amount.setCurrentText(text)

    def _ask_rest(self, was: NewAdhesiveLot) -> None:
        places = self._session.snapshot(WORDS).view.places
        self.place = typed_or_chosen(places, was.place)
        self.add("S&tands in", self.place, "Place")
        self.storage = Chooser([(store.value, store.value) for store in Store], was.storage)
        self.add("&Kept like the", self.storage, "Storage")
        self.frozen_once = QCheckBox("It has been frozen at least once")
        self.frozen_once.setChecked(was.frozen_once)
        self.form.addRow("", self.frozen_once)
        self.ph = NumberEntry("pH", 0, 14)
        if was.ph is not None:
            self.ph.show_number(was.ph)
        self.ph.setPlaceholderText("not measured")
        self.add("&pH", self.ph)
        self.supplier = self.line("S&upplier", was.supplier)
        self.reference = self.line("Batch or order &number", was.reference)
        self.name_field(self.reference, "Reference")
        self.note = QPlainTextEdit(was.note)
        self.note.setTabChangesFocus(True)
        self.note.setMaximumHeight(self.note.fontMetrics().height() * 4)
        self.add("Not&e", self.note)

    def _ask_reason(self) -> None:
        """Asked only where the rules speak against mixing from what is ticked."""
        self.against = plain_label()
        self.against.setAccessibleName("What speaks against it")
        sized(self.against, TypeSize.BODY, bold=True)
        self.reason = QPlainTextEdit()
        self.reason.setTabChangesFocus(True)
        self.reason.setMaximumHeight(self.reason.fontMetrics().height() * 4)
        self.reason.setPlaceholderText("Why it is mixed all the same; the record keeps it")
        self.form.addRow(self.against)
        self.add("Rea&son", self.reason)
        self.parts.itemChanged.connect(self._look)
        self._look()

    def _look(self) -> None:
        """Say at once what speaks against mixing from what is ticked."""
        parts = [self._known[code] for code in self._ticked()] if self._lot is None else []
        words = mixing_words(parts, self._session.stockroom.today, self._session.rules)
        self.against.setText(f"✕ {Leave.NEEDS_REASON.value.capitalize()}. {words}" if words else "")
        self.form.setRowVisible(self.against, bool(words))
        self.form.setRowVisible(self.reason, bool(words))
        if self.isVisible():
            self.make_room()

    def _told(self) -> dict[str, Any]:
        unit = self.unit.value()
        return {
            "kind": self.kind.value() or "",
            "name": _text(self.name),
            "made_from": self._ticked(),
            "bought": self.bought.value(),
            "received": self.received.value(),
            "opened": self.opened.value(),
            "made": self.made.value(),
            "expires": self.expires.value(),
            "unit": unit,
            **self._amounts(unit),
            "place": self.place.currentText().strip(),
            "storage": self.storage.value(),
            "frozen_once": self.frozen_once.isChecked(),
            "ph": self.ph.value(),
            "supplier": _text(self.supplier),
            "reference": _text(self.reference),
            "note": self.note.toPlainText().strip(),
        }

    def _amounts(self, unit: Measure | None) -> dict[str, Any]:
        """How much is left, and how much there was at first where that is not known better."""
        text = self.amount.currentText().strip()
        if unit is None:
            return {"quantity": text, "held": None, "left": None}
        was = self._lot
        if was is not None and was.unit is unit and text == _amount_text(was):
            left, held = was.left, was.held  # what was counted exactly is not rounded by its words
        else:
            left = read_amount(text, unit, "How much is left")
            held = was.held if was is not None and was.unit is unit else left
            if left is not None and (held is None or left > held):
                held = left
        if unit is Measure.SHARE and held is not None:
            held = 1.0
        quantity = "" if left is not None else self._quantity()
        return {"quantity": quantity, "held": held, "left": left}

    def _quantity(self) -> str:
        return self._lot.quantity if self._lot is not None else ""

    def _ticked(self) -> tuple[str, ...]:
        items = [self.parts.item(row) for row in range(self.parts.count())]
        return tuple(
            str(item.data(Qt.ItemDataRole.UserRole))
            for item in items
            if item.checkState() is Qt.CheckState.Checked
        )

    def take(self) -> None:
        """Tell the lot, or what changed of it. Raises ``EntryError``."""
        told = self._told()
        if not told["kind"]:
            raise EntryError("Class", "Class: choose what it is; where no one knows, say so there.")
        if not told["name"]:
            raise EntryError("Name", "Name: write what the label says.")
        if self._lot is None:
            self.entered.emit(NewAdhesiveLot(**told), self.reason.toPlainText().strip())
            return
        was = {field.name: getattr(self._lot, field.name) for field in fields(NewAdhesiveLot)}
        changed = {name: value for name, value in told.items() if value != was[name]}
        if changed:
            self.corrected.emit(changed)


def _text(entry: QLineEdit) -> str:
    return entry.text().strip()


def _amount_text(lot: NewAdhesiveLot) -> str:
    if lot.unit is None or lot.left is None:
        return lot.quantity
    if lot.unit is Measure.SHARE:
        return amount_words(lot.left, lot.unit).removeprefix("about ")
    return f"{lot.left:g}"
