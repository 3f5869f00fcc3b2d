"""Choosing what known colour lies in the photograph, and marking it."""

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QWidget

from bindery_stock.bench.colour_room.found_reference import FoundReference
from bindery_stock.bench.colour_room.sitting import KeptTarget
from bindery_stock.bench.colour_room.snapshot import COLOUR_ROOM
from bindery_stock.bench.photo_table.marks import Grey, Marks, Patches
from bindery_stock.desktop.colours.editions import Editions
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_canvas.target_tool import TARGET_HINT, TargetTool
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.errors import EntryError
from bindery_stock.shape import Ring

_GREY_CARD_L = 49.5
"""L* of the photographer's card of 18 % reflectance (CIE 15: Y = 0.18)."""
_KIND = "photo_table/reference"
_NONE, _CARD, _TARGET = "none", "card", "target"
_KINDS = {
    _NONE: "None: the bare photograph",
    _CARD: "Grey card",
    _TARGET: "Target of 24 patches",
}
_HINTS = {
    _CARD: (
        "Drag a rectangle inside the grey card; where two are wanted, a second inside another card "
        "far from it."
    ),
    _TARGET: TARGET_HINT,
}
_SHEET = "Drag a rectangle inside a plain, even sheet that spans the light: the mat, a card."


class References(QWidget):
    """Emits ``changed()`` when another kind was chosen, its value typed or its mark drawn.

    The kind chosen last stands ready for the next photograph; its mark has to be drawn in each.
    """

    changed = Signal()

    def __init__(self, session: Session, *, lending: bool = True) -> None:
        """Begin with the kind used last; ``lending`` offers the target kept for the sitting."""
        super().__init__()
        self._session = session
        self._lending = lending
        self._kept: KeptTarget | None = None
        self.neutral_tool = RingTool(_HINTS[_CARD], single=False)
        self.target_tool = TargetTool()
        self.sheet_tool = RingTool(_SHEET, single=True)
        self.kind = QComboBox()
        for key, words in _KINDS.items():
            self.kind.addItem(words, key)
        self.kind.setCurrentIndex(self._usual)
        self.lightness = NumberEntry("L* of the card", 15.0, 100.0)
        self.lightness.show_number(_GREY_CARD_L)
        self.editions = Editions(session)
        self.lend = QCheckBox("By the target of this &sitting")
        self.two = QCheckBox("A second card levels the li&ght")
        self.level = QCheckBox("A plain sheet &levels the light")
        self.form = QFormLayout(self)
        self.form.setContentsMargins(0, 0, 0, 0)
        self.form.setSpacing(GRID)
        self.refusal = plain_label()
        self.refusal.setAccessibleName("Why the reference was refused")
        self.form.addRow("Refere&nce", self.kind)
        self.form.addRow("", self.refusal)
        self.form.addRow("L* of the car&d", self.lightness)
        self.form.addRow("&Values", self.editions)
        self.form.addRow("", self.lend)
        self.form.addRow("", self.two)
        self.form.addRow("", self.level)
        self.kind.activated.connect(self._kind_chosen)
        self.lightness.understood.connect(self.changed)
        self.editions.changed.connect(self.changed)
        self.lend.clicked.connect(self._lend_chosen)
        self.two.clicked.connect(self._two_chosen)
        self.level.clicked.connect(self._level_chosen)
        for tool in self.tools:
            tool.marked.connect(self.changed)
        self.show_refusal("")
        self._show_rows()

    def show_refusal(self, words: str) -> None:
        """Say why no colour is read by the reference; empty where nothing speaks against it."""
        self.refusal.setText(f"△ {words}" if words else "")
        self.form.setRowVisible(self.refusal, bool(words))

    @property
    def tools(self) -> tuple[RingTool, ...]:
        """Every tool, whichever is wanted."""
        return (self.neutral_tool, self.target_tool, self.sheet_tool)

    @property
    def tool(self) -> RingTool:
        """The tool of what is to be marked."""
        if self._sheet_wanted and not self._reference_wanted:
            return self.sheet_tool
        return self.target_tool if self._chosen == _TARGET else self.neutral_tool

    @property
    def hint(self) -> str:
        """What to mark, or nothing."""
        return _SHEET if self.tool is self.sheet_tool else _HINTS.get(self._chosen, "")

    @property
    def is_being_drawn(self) -> bool:
        """Whether the hand has drawn some of a target or a card."""
        return any(tool.is_open or tool.rings for tool in (self.neutral_tool, self.target_tool))

    def suits(self, found: FoundReference) -> bool:
        """Whether what was found is of the kind chosen."""
        return self._chosen == (_CARD if found.card else _TARGET)

    def show_found(self, found: FoundReference | None) -> None:
        """Show on the photograph what was found in it and is not answered yet."""
        asked = found is not None and not found.stands
        self.target_tool.asked = (found.corners,) if found and asked and found.corners else ()
        self.neutral_tool.asked = (found.card,) if found and asked and found.card else ()
        self.target_tool.texts = ("Found",) if found is not None and found.stands else ()

    def choose_usual(self) -> None:
        """Choose the kind used last: what was found in this photograph is none."""
        self.kind.setCurrentIndex(self._usual)

    @property
    def _usual(self) -> int:
        return max(self.kind.findData(self._session.settings.text(_KIND, _NONE)), 0)

    @property
    def is_wanted(self) -> bool:
        """Whether something was chosen that is not marked yet."""
        return self._reference_wanted or self._sheet_wanted

    @property
    def _reference_wanted(self) -> bool:
        if self._chosen == _TARGET:
            return not self.target_tool.rings
        return len(self.neutral_tool.rings) < self._cards

    @property
    def _cards(self) -> int:
        """How many neutral patches are to be marked."""
        if self._chosen != _CARD:
            return 0
        return 2 if self.two.isChecked() and self.lent is None else 1

    @property
    def _sheet_wanted(self) -> bool:
        return self.level.isChecked() and not self.level.isHidden() and not self.sheet_tool.rings

    def reference(self) -> Grey | Patches | None:
        """What is marked. Raises ``EntryError`` where it cannot be used."""
        if self._chosen == _TARGET:
            corners = self.target_tool.corners
            if not corners:
                return None
            if len(corners) != 4:
                raise EntryError("Colour", "Colour: a target is marked by its four corner patches.")
            return Patches(corners, self.editions.reference)
        if self._chosen == _NONE or not self.neutral_tool.rings:
            return None
        first, *rest = self.neutral_tool.rings
        return Grey(first, self.lightness.value(), rest[-1] if rest else ())

    def on(self, marks: Marks) -> Marks:
        """These marks with the reference as it is marked now. Raises as ``reference`` does."""
        return replace(marks, reference=self.reference(), sheet=self.sheet, lent=self.lent)

    @property
    def sheet(self) -> Ring:
        """The plain sheet marked, or nothing."""
        rings = self.sheet_tool.rings
        return rings[0] if rings and self.level.isChecked() else ()

    @property
    def lent(self) -> KeptTarget | None:
        """The target of the sitting, where its correction is to be used."""
        offered = self._lending and self._chosen in (_CARD, _TARGET)
        return self._kept if offered and self.lend.isChecked() else None

    def show_marks(self, marks: Marks, *, fresh: bool) -> None:
        """Show what is marked; ``fresh`` where another photograph came onto the table."""
        kind = str(self.kind.itemData(self._usual)) if fresh else self._chosen
        corners: Ring = ()
        rings: tuple[Ring, ...] = ()
        match marks.reference:
            case Grey(ring=ring, lightness=lightness, second=second):
                kind = _CARD
                rings = (ring, second) if second else (ring,)
                if lightness is not None and fresh:
                    self.lightness.show_number(lightness)
            case Patches(corners=found, reference=values):
                kind, corners = _TARGET, found
                self.editions.show_reference(values)
            case None:
                pass
        self.neutral_tool.show_rings(rings)
        self.target_tool.show_rings((corners,) if corners else ())
        self.sheet_tool.show_rings((marks.sheet,) if marks.sheet else ())
        if fresh:
            self.two.setChecked(len(rings) > 1)
        if fresh and marks.reference is not None:
            self.lend.setChecked(marks.lent is not None)
        self._kept = marks.lent or self._kept
        if marks.sheet or fresh:
            self.level.setChecked(bool(marks.sheet))
        self.kind.setCurrentIndex(list(_KINDS).index(kind))
        self._show_rows()

    def showEvent(self, event: QShowEvent) -> None:
        """Offer the target that is kept for the sitting by now."""
        if self._session.is_open:
            self._kept = self._session.snapshot(COLOUR_ROOM).view.kept
            self.editions.refresh()
        self._show_rows()
        super().showEvent(event)

    @property
    def _chosen(self) -> str:
        return str(self.kind.currentData())

    def _kind_chosen(self) -> None:
        self._session.settings.set_text(_KIND, self._chosen)
        for tool in (self.neutral_tool, self.target_tool):
            tool.show_rings(())
            tool.forget()
        self._show_rows()
        self.changed.emit()

    def _lend_chosen(self) -> None:
        self._show_rows()
        self.changed.emit()

    def _two_chosen(self) -> None:
        if not self.two.isChecked():
            self.neutral_tool.show_rings(self.neutral_tool.rings[:1])
            self.neutral_tool.forget()
        self.changed.emit()

    def _level_chosen(self) -> None:
        if not self.level.isChecked():
            self.sheet_tool.show_rings(())
            self.sheet_tool.forget()
        self.changed.emit()

    def _show_rows(self) -> None:
        self.neutral_tool.hint = _HINTS.get(self._chosen, "")
        proves = self._lending and self._kept is not None and self._chosen in (_CARD, _TARGET)
        self.form.setRowVisible(self.lightness, self._chosen == _CARD)
        self.form.setRowVisible(self.editions, self._chosen == _TARGET)
        self.form.setRowVisible(self.lend, proves)
        self.form.setRowVisible(self.two, self._chosen == _CARD and self.lent is None)
        self.form.setRowVisible(self.level, self.lent is None)
        if self._kept is not None:
            self.lend.setToolTip(
                plain_tip(
                    f"Corrects by {self._kept.words}. What is marked here only proves that camera "
                    "and light are still the same."
                )
            )
