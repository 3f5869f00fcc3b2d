"""Scale: a known length, or the four corners of a known rectangle or of a grid."""

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QRadioButton,
    QWidget,
)

from bindery_stock.bench.photo_table.found import Found, scale_found
from bindery_stock.bench.photo_table.marks import KnownLength, KnownRectangle, StepName
from bindery_stock.bench.photo_table.piece_shape import scale_of
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.line_tool import LineTool
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_canvas.tool import Tool
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.grid_size import GridSize
from bindery_stock.desktop.photo_table.step import TableStep
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError

_RULER = "Drag along a ruler lying beside the scrap, from one mark to another far from it."
_CORNERS = (
    "Drag a rectangle over a sheet or a square of the mat, then drag its corners onto the true "
    "ones. This also takes out the slant of the camera. A double click on each side puts in its "
    "middle, from which the lens error is read."
)
_GRID = (
    "Drag a rectangle over squares of the mat's grid, then drag its corners onto crossings, and "
    "count the squares between. Where both counts are even, a double click on each side puts in "
    "the crossing at its middle, from which the lens error is read."
)
_HINTS = {"corners": _CORNERS, "grid": _GRID, "ruler": _RULER}
_LENGTH, _METHOD = "photo_table/length", "photo_table/scale"
_SIDES = ("photo_table/rectangle_width", "photo_table/rectangle_height")


class ScaleStep(TableStep):
    """Sets the scale. The way and the lengths used last stand ready for the next photograph."""

    name = StepName.SCALE

    def __init__(self, session: Session) -> None:
        """Offer the four corners first, which see the slant of the camera too."""
        super().__init__(session, _RULER)
        self.line_tool = LineTool(_RULER, arrow=False)
        self.corner_tool = RingTool(_CORNERS, single=True)
        self.by_ruler = QRadioButton("Along a &ruler")
        self.by_corners = QRadioButton("&Four corners")
        self.by_grid = QRadioButton("A gri&d")
        self._ways = {"ruler": self.by_ruler, "corners": self.by_corners, "grid": self.by_grid}
        last = session.settings.text(_METHOD, "corners")
        self._ways.get(last, self.by_corners).setChecked(True)
        group = QButtonGroup(self)
        row = QHBoxLayout()
        for button in self._ways.values():
            group.addButton(button)
            row.addWidget(button)
        row.addStretch(1)
        self.column.addLayout(row)
        style = session.settings.lengths
        self.length = LengthEntry("Length shown", style)
        self.length.setText(session.settings.text(_LENGTH, "100 mm"))
        self.width_entry = LengthEntry("Width", style)
        self.height_entry = LengthEntry("Height", style)
        for entry, name in zip((self.width_entry, self.height_entry), _SIDES, strict=True):
            entry.setText(session.settings.text(name))
        self._length_row = _entry_row(("&Length shown", self.length))
        self._size_row = _entry_row(("&Width", self.width_entry), ("Hei&ght", self.height_entry))
        self.column.addWidget(self._length_row)
        self.column.addWidget(self._size_row)
        self.grid = GridSize(session)
        self.column.addWidget(self.grid)
        self.grid.typed.connect(self._typed)
        self.line_tool.marked.connect(self._line_drawn)
        self.corner_tool.marked.connect(self._corners_drawn)
        group.buttonClicked.connect(self._method_chosen)
        for entry in (self.length, self.width_entry, self.height_entry):
            entry.setPlaceholderText("100 mm or 4 in")
            entry.textEdited.connect(lambda _text: self._typed())
        self._show_method()

    @property
    def tool(self) -> Tool:  # type: ignore[override]
        """The line or the corners."""
        return self.line_tool if self.by_ruler.isChecked() else self.corner_tool

    @property
    def tools(self) -> tuple[Tool, ...]:
        """Both tools."""
        return (self.line_tool, self.corner_tool)

    def show_draft(self, draft: ScrapDraft) -> None:
        """Show the line or the corners, and the lengths."""
        another = self.draft is not draft
        super().show_draft(draft)
        known = draft.marks.scale
        self.line_tool.show_line(known.line if isinstance(known, KnownLength) else None)
        corners = known.corners if isinstance(known, KnownRectangle) else ()
        self.corner_tool.show_rings((corners,) if corners else ())
        if known is not None and another:
            self._way_of(known).setChecked(True)
            self._show_method()
        lengths = self.session.settings.lengths
        if another and isinstance(known, KnownLength) and known.mm is not None:
            self.length.setText(lengths.show(known.mm, 2))
        if isinstance(known, KnownRectangle) and another:
            for entry, mm in ((self.width_entry, known.width), (self.height_entry, known.height)):
                entry.setText(lengths.show(mm, 2) if mm else entry.text())
        self._label_mark()

    def finding(self, draft: ScrapDraft) -> Found:
        """The scale and how far to trust it."""
        return scale_found(draft.marks)

    def read(self) -> None:
        """Take in the length typed."""
        known = self.marks.scale
        if isinstance(known, KnownLength):
            known = replace(known, mm=self.length.value())
            self.session.settings.set_text(_LENGTH, self.length.text())
        elif isinstance(known, KnownRectangle):
            width, height = self._size()
            known = replace(known, width=width, height=height)
        self.typed.emit(replace(self.marks, scale=known))

    def _size(self) -> tuple[float | None, float | None]:
        """Width and height of what the corners enclose, as typed, mm."""
        if self.by_grid.isChecked():
            self.grid.keep()
            return self.grid.measures()
        for entry, name in zip((self.width_entry, self.height_entry), _SIDES, strict=True):
            self.session.settings.set_text(name, entry.text())
        return self.width_entry.value(), self.height_entry.value()

    def _way_of(self, known: KnownLength | KnownRectangle) -> QRadioButton:
        """How a scale that stands already was set."""
        if isinstance(known, KnownLength):
            return self.by_ruler
        return self.by_grid if self.grid.makes(known.width, known.height) else self.by_corners

    def accept(self) -> None:
        """Pass on only with a scale."""
        self.read()
        scale_of(self.marks)

    def begin(self) -> bool:
        """The line comes first; the entry takes the focus once it is drawn."""
        if self.marks.scale is None:
            return False
        self._focus_entry()
        return True

    def _typed(self) -> None:
        """Show what is understood while it is typed; what cannot be used is told on Enter."""
        try:
            self.read()
        except EntryError:
            known = self.marks.scale
            if isinstance(known, KnownLength):
                self.typed.emit(replace(self.marks, scale=replace(known, mm=None)))

    def _line_drawn(self) -> None:
        line = self.line_tool.line
        known = self.marks.scale
        mm = known.mm if isinstance(known, KnownLength) else None
        scale = KnownLength(line, mm) if line is not None else None
        self.marked.emit(replace(self.marks, scale=scale))
        if line is not None and mm is None:
            self._focus_entry()

    def _corners_drawn(self) -> None:
        rings = self.corner_tool.rings
        if not rings:
            self.marked.emit(replace(self.marks, scale=None))
            return
        known = self.marks.scale
        old = known if isinstance(known, KnownRectangle) else KnownRectangle(())
        self.marked.emit(replace(self.marks, scale=replace(old, corners=rings[0])))
        if old.width is None:
            self._focus_entry()

    def _method_chosen(self) -> None:
        self._show_method()
        self.session.settings.set_text(_METHOD, self._way)
        if isinstance(self.marks.scale, KnownRectangle) and not self.by_ruler.isChecked():
            self._typed()
        self.tool_changed.emit()

    @property
    def _way(self) -> str:
        return next(name for name, button in self._ways.items() if button.isChecked())

    def _show_method(self) -> None:
        self.hint.setText(_HINTS[self._way])
        self._length_row.setVisible(self.by_ruler.isChecked())
        self._size_row.setVisible(self.by_corners.isChecked())
        self.grid.setVisible(self.by_grid.isChecked())

    def _focus_entry(self) -> None:
        first = {"corners": self.width_entry, "grid": self.grid.across, "ruler": self.length}
        entry = first[self._way]
        entry.setFocus()
        entry.selectAll()

    def _label_mark(self) -> None:
        known = self.marks.scale
        lengths = self.session.settings.lengths
        mm = known.mm if isinstance(known, KnownLength) else None
        self.line_tool.text = lengths.show(mm) if mm else ""


def _entry_row(*entries: tuple[str, LengthEntry]) -> QWidget:
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(GRID * 2)
    for text, entry in entries:
        label = QLabel(text)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setBuddy(entry)
        row.addWidget(label)
        row.addWidget(entry, 1)
    return made
