"""Choosing what known colour lies in the photograph, and marking it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QWidget

from bindery_stock.bench.marks import Grey, Patches
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_table.ring_tool import RingTool
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError

_GREY_CARD_L = 49.5
"""L* of the photographer's card of 18 % reflectance (CIE 15: Y = 0.18)."""
_KIND = "photo_table/reference"
_NONE, _CARD, _PAPER, _TARGET = "none", "card", "paper", "target"
_KINDS = {
    _NONE: "None: the bare photograph",
    _CARD: "Grey card",
    _PAPER: "White paper, roughly",
    _TARGET: "Target of 24 patches",
}
_HINTS = {
    _CARD: "Drag a rectangle inside the grey card.",
    _PAPER: "Drag a rectangle inside the white paper. Papers differ, so this helps only roughly.",
    _TARGET: (
        "Drag a rectangle over the target, then drag its corners onto the middles of the four "
        "corner patches. Which way round it lies is found out."
    ),
}


class References(QWidget):
    """Emits ``changed()`` when another kind was chosen, its value typed or its mark drawn.

    The kind chosen last stands ready for the next photograph; its mark has to be drawn in each.
    """

    changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with the kind used last."""
        super().__init__()
        self._session = session
        self.tool = RingTool(_HINTS[_CARD], single=True)
        self.kind = QComboBox()
        for key, words in _KINDS.items():
            self.kind.addItem(words, key)
        chosen = self.kind.findData(session.settings.text(_KIND, _NONE))
        self.kind.setCurrentIndex(max(chosen, 0))
        self.lightness = NumberEntry("L* of the card", 15.0, 100.0)
        self.lightness.show_number(_GREY_CARD_L)
        self.edition = QComboBox()
        self.edition.addItem("Made since November 2014", True)
        self.edition.addItem("Made before November 2014", False)
        self.form = QFormLayout(self)
        self.form.setContentsMargins(0, 0, 0, 0)
        self.form.setSpacing(GRID)
        self.form.addRow("Refere&nce", self.kind)
        self.form.addRow("L* of the car&d", self.lightness)
        self.form.addRow("&Edition", self.edition)
        self.kind.activated.connect(self._kind_chosen)
        self.lightness.understood.connect(self.changed)
        self.edition.activated.connect(lambda _index: self.changed.emit())
        self.tool.marked.connect(self.changed)
        self._show_rows()

    @property
    def hint(self) -> str:
        """What to mark, or nothing."""
        return _HINTS.get(self._chosen, "")

    @property
    def is_wanted(self) -> bool:
        """Whether a reference was chosen that is not marked yet."""
        return self._chosen != _NONE and not self.tool.rings

    def reference(self) -> Grey | Patches | None:
        """What is marked. Raises ``EntryError`` where the lightness cannot be used."""
        if not self.tool.rings or self._chosen == _NONE:
            return None
        ring = self.tool.rings[0]
        if self._chosen == _TARGET:
            if len(ring) != 4:
                raise EntryError("Colour", "Colour: a target is marked by its four corner patches.")
            return Patches(ring, since_2014=bool(self.edition.currentData()))
        return Grey(ring, self.lightness.value() if self._chosen == _CARD else None)

    def show_reference(self, reference: Grey | Patches | None, *, fresh: bool) -> None:
        """Show what is marked; ``fresh`` where another photograph came onto the table."""
        kind = self._chosen
        ring: tuple[tuple[float, float], ...] = ()
        match reference:
            case Grey(ring=ring, lightness=lightness):
                kind = _PAPER if lightness is None else _CARD
                if lightness is not None and fresh:
                    self.lightness.show_number(lightness)
            case Patches(corners=ring, since_2014=since):
                kind = _TARGET
                self.edition.setCurrentIndex(0 if since else 1)
            case None:
                pass
        self.tool.show_rings((ring,) if ring else ())
        self.kind.setCurrentIndex(list(_KINDS).index(kind))
        self._show_rows()

    @property
    def _chosen(self) -> str:
        return str(self.kind.currentData())

    def _kind_chosen(self) -> None:
        self._session.settings.set_text(_KIND, self._chosen)
        self.tool.show_rings(())
        self.tool.forget()
        self._show_rows()
        self.changed.emit()

    def _show_rows(self) -> None:
        self.tool.hint = self.hint
        self.form.setRowVisible(self.lightness, self._chosen == _CARD)
        self.form.setRowVisible(self.edition, self._chosen == _TARGET)
