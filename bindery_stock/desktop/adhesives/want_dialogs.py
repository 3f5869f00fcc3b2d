"""Asking for what is wanted, and for the least that should be at hand."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from bindery_stock.desktop.entries import LengthEntry, NumberEntry
from bindery_stock.desktop.forms.form_dialog import Chooser, FormDialog
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError
from bindery_stock.stock import Lab, Measure, NewWanted
from bindery_stock.trade.vocabulary import Kind


class WantDialog(FormDialog):
    """Asks for one line of the wanted list. Emits ``entered(NewWanted)``."""

    entered = Signal(object)

    def __init__(self, session: Session, parent: QWidget | None, *, what: str = "") -> None:
        """Begin with ``what`` is wanted, if that is known."""
        super().__init__("Wanted", "Put on the list", parent)
        lengths = session.settings.lengths
        self.what = self.line("&What", what, hint="red ribbed cloth, wheat starch …")
        self.purpose = self.line("&For", hint="spines of a set")
        self.width_entry = LengthEntry("Least width, across the warp", lengths)
        self.height_entry = LengthEntry("Least height, along the warp", lengths)
        self.add("Least &width", self.width_entry, self.width_entry.field, "Width")
        self.add("Least &height", self.height_entry, self.height_entry.field, "Height")
        self.lab = tuple(
            NumberEntry(name, *bounds)
            for name, bounds in (("L*", (0, 100)), ("a*", (-128, 128)), ("b*", (-128, 128)))
        )
        row = QHBoxLayout()
        for entry in self.lab:
            entry.setPlaceholderText(entry.field)
            row.addWidget(entry)
        self.form.addRow("Colour, CIELAB", row)
        for entry in self.lab:
            self.name_field(entry, entry.field)
        self.name_field(self.lab[0], "Colour")
        self.note = self.line("&Note")

    def take(self) -> None:
        """Tell what is wanted. Raises ``EntryError``."""
        what = self.what.text().strip()
        if not what:
            raise EntryError("What", "What: say what is to be bought or looked for.")
        self.entered.emit(
            NewWanted(
                what=what,
                purpose=self.purpose.text().strip(),
                width=self.width_entry.value(),
                height=self.height_entry.value(),
                lab=self._colour(),
                note=self.note.text().strip(),
            )
        )

    def _colour(self) -> Lab | None:
        lightness, a, b = (entry.value() for entry in self.lab)
        if lightness is None and a is None and b is None:
            return None
        if lightness is None or a is None or b is None:
            raise EntryError("Colour", "Colour: give all three of L*, a* and b*, or none.")
        return (lightness, a, b)


class ReorderDialog(FormDialog):
    """Asks for one reorder point. Emits ``entered(kind, least, unit)``; no least takes it away."""

    entered = Signal(str, object, object)

    def __init__(self, session: Session, parent: QWidget | None) -> None:
        """Offer every adhesive class and every kind of piece."""
        super().__init__("Reorder point", "Set", parent)
        classes: list[tuple[str, str]] = [
            (kind.name, key)
            for key, kind in sorted(session.rules.adhesives.items(), key=lambda p: p[1].name)
        ]
        self.kind = Chooser([*classes, *((kind.value, kind.value) for kind in Kind)])
        self.add("&Kind", self.kind)
        self.least = NumberEntry("At least", 0, 1e7)
        self.least.setPlaceholderText("none")
        self.unit = Chooser([])
        self.add("At &least", self.least, "Least")
        self.add("&Counted in", self.unit)
        self.kind.currentIndexChanged.connect(self._offer_units)
        self._offer_units()

    def _offer_units(self) -> None:
        of_pieces = self.kind.value() in set(Kind)
        units = (
            [("cm² on the shelf", Measure.AREA)]
            if of_pieces
            else [("g", Measure.GRAM), ("ml", Measure.MILLILITRE), ("tins", Measure.SHARE)]
        )
        self.unit.offer(units)

    def take(self) -> None:
        """Tell the reorder point. Raises ``EntryError``."""
        self.entered.emit(self.kind.value(), self.least.value(), self.unit.value())
