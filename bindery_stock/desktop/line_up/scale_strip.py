"""The strip under the photograph of a line-up that asks for its scale: a ruler, or a sheet."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QFrame, QHBoxLayout, QLabel, QRadioButton, QVBoxLayout

from bindery_stock.bench.photo_table.marks import KnownLength, KnownRectangle
from bindery_stock.desktop.column import entry_name, plain_label
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.line_tool import LineTool
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError

_RULER = "Drag along the ruler in the photograph, from one mark to another far from it."
_SHEET = (
    "Drag a rectangle over the sheet, then drag its corners onto the true ones. This also takes "
    "out the slant of the camera."
)
_WAY, _LENGTH, _WIDE, _HIGH = (f"line_up/{name}" for name in ("scale", "length", "width", "height"))


class ScaleStrip(QFrame):
    """Emits ``changed()`` when the scale is another, ``tool_changed()`` for the other way of it.

    The way and the lengths used last stand ready for the next photograph.
    """

    changed = Signal()
    tool_changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin without a scale."""
        super().__init__()
        self._settings = session.settings
        self.setProperty("role", "panel")
        self.line_tool = LineTool(_RULER, arrow=False)
        self.sheet_tool = RingTool(_SHEET, single=True)
        self.hint = plain_label()
        self.by_ruler = QRadioButton("Along the &ruler")
        self.by_sheet = QRadioButton("The four &corners of the sheet")
        self._ways = QButtonGroup(self)
        style = self._settings.lengths
        self.length = LengthEntry("Length shown", style)
        self.across = LengthEntry("Width of the sheet", style)
        self.along = LengthEntry("Height of the sheet", style)
        self._kept = ((self.length, _LENGTH), (self.across, _WIDE), (self.along, _HIGH))
        for entry, name in self._kept:
            entry.setText(self._settings.text(name))
            entry.setPlaceholderText("100 mm or 4 in")
            entry.setMaximumWidth(GRID * 30)
            entry.textEdited.connect(lambda _text: self.changed.emit())
        self._lay_out()
        ruler = self._settings.text(_WAY, "ruler") == "ruler"
        (self.by_ruler if ruler else self.by_sheet).setChecked(True)
        for tool in (self.line_tool, self.sheet_tool):
            tool.marked.connect(self._drawn)
        self._ways.buttonClicked.connect(self._way_chosen)
        self._show_way()

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        for button in (self.by_ruler, self.by_sheet):
            self._ways.addButton(button)
            row.addWidget(button)
        row.addStretch(1)
        self._ruler_row = [*_named("&Length shown", self.length)]
        self._sheet_row = [*_named("&Width", self.across), *_named("Hei&ght", self.along)]
        for widget in (*self._ruler_row, *self._sheet_row):
            row.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 3, GRID * 2, GRID * 3, GRID * 2)
        column.setSpacing(GRID * 2)
        column.addWidget(self.hint)
        column.addLayout(row)

    @property
    def tool(self) -> LineTool | RingTool:
        """What is drawn with."""
        return self.line_tool if self.by_ruler.isChecked() else self.sheet_tool

    @property
    def marked(self) -> object:
        """What was drawn and typed, to see whether something was."""
        return self.line_tool.line, self.sheet_tool.rings

    def forget(self) -> None:
        """Another photograph is shown."""
        self.line_tool.show_line(None)
        self.sheet_tool.show_rings(())
        self.sheet_tool.forget()

    def scale(self) -> KnownLength | KnownRectangle:
        """The scale as drawn and typed. Raises ``EntryError`` for what is still missing."""
        if self.by_ruler.isChecked():
            line, mm = self.line_tool.line, self.length.value()
            if line is None:
                raise EntryError("Scale", _RULER)
            if mm is None:
                raise EntryError("Length shown", "Type the length between the two marks.")
            return KnownLength(line, mm)
        rings, width, height = self.sheet_tool.rings, self.across.value(), self.along.value()
        if not rings or len(rings[0]) != 4:
            raise EntryError("Scale", _SHEET)
        if width is None or height is None:
            raise EntryError("Width of the sheet", "Type the width and the height of the sheet.")
        return KnownRectangle(rings[0], width, height)

    def keep(self) -> None:
        """Have the way and the lengths ready for the next photograph."""
        self._settings.set_text(_WAY, "ruler" if self.by_ruler.isChecked() else "sheet")
        for entry, name in self._kept:
            self._settings.set_text(name, entry.text())

    def take_entry(self) -> None:
        """Put the hand on the first length."""
        entry = self.length if self.by_ruler.isChecked() else self.across
        entry.setFocus()
        entry.selectAll()

    def _drawn(self) -> None:
        entry = self.length if self.by_ruler.isChecked() else self.across
        if not entry.text():
            self.take_entry()
        self.changed.emit()

    def _way_chosen(self) -> None:
        self._show_way()
        self.tool_changed.emit()
        self.changed.emit()

    def _show_way(self) -> None:
        ruler = self.by_ruler.isChecked()
        self.hint.setText(_RULER if ruler else _SHEET)
        for widget in self._ruler_row:
            widget.setVisible(ruler)
        for widget in self._sheet_row:
            widget.setVisible(not ruler)


def _named(words: str, entry: LengthEntry) -> tuple[QLabel, LengthEntry]:
    label = entry_name(words)
    label.setBuddy(entry)
    return label, entry
