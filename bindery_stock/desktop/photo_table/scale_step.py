"""Scale: a known length, or the four corners of a known rectangle."""

from dataclasses import replace

from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QRadioButton,
    QWidget,
)

from bindery_stock.bench.findings import Finding, scale_found
from bindery_stock.bench.marks import KnownLength, KnownRectangle, StepName
from bindery_stock.bench.shelving import scale_of
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_table.draft import Draft
from bindery_stock.desktop.photo_table.line_tool import LineTool
from bindery_stock.desktop.photo_table.ring_tool import RingTool
from bindery_stock.desktop.photo_table.step import Step
from bindery_stock.desktop.photo_table.tool import Tool
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError

_RULER = "Drag along a ruler lying beside the scrap, from one mark to another far from it."
_CORNERS = (
    "Drag a rectangle over a sheet or a square of the mat, then drag its corners onto the true "
    "ones. This also takes out the slant of the camera."
)
_LENGTH, _METHOD = "photo_table/length", "photo_table/scale"
_SIDES = ("photo_table/rectangle_width", "photo_table/rectangle_height")


class ScaleStep(Step):
    """Sets the scale. The way and the lengths used last stand ready for the next photograph."""

    name = StepName.SCALE

    def __init__(self, session: Session) -> None:
        """Offer the four corners first, which see the slant of the camera too."""
        super().__init__(session, _RULER)
        self.line_tool = LineTool(_RULER, arrow=False)
        self.corner_tool = RingTool(_CORNERS, single=True)
        self.by_ruler = QRadioButton("Along a &ruler")
        self.by_corners = QRadioButton("&Four corners")
        by_corners = session.settings.text(_METHOD, "corners") == "corners"
        self.by_corners.setChecked(by_corners)
        self.by_ruler.setChecked(not by_corners)
        group = QButtonGroup(self)
        row = QHBoxLayout()
        for button in (self.by_ruler, self.by_corners):
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
        self.line_tool.marked.connect(self._line_drawn)
        self.corner_tool.marked.connect(self._corners_drawn)
        self.by_corners.toggled.connect(self._method_chosen)
        for entry in (self.length, self.width_entry, self.height_entry):
            entry.setPlaceholderText("100 mm or 4 in")
            entry.textEdited.connect(lambda _text: self._typed())
        self._show_method()

    @property
    def tool(self) -> Tool:  # type: ignore[override]
        """The line or the corners."""
        return self.corner_tool if self.by_corners.isChecked() else self.line_tool

    @property
    def tools(self) -> tuple[Tool, ...]:
        """Both tools."""
        return (self.line_tool, self.corner_tool)

    def show_draft(self, draft: Draft) -> None:
        """Show the line or the corners, and the lengths."""
        another = self.draft is not draft
        super().show_draft(draft)
        known = draft.marks.scale
        self.line_tool.show_line(known.line if isinstance(known, KnownLength) else None)
        corners = known.corners if isinstance(known, KnownRectangle) else ()
        self.corner_tool.show_rings((corners,) if corners else ())
        if known is not None and another:
            self.by_corners.setChecked(isinstance(known, KnownRectangle))
        lengths = self.session.settings.lengths
        if another and isinstance(known, KnownLength) and known.mm is not None:
            self.length.setText(lengths.show(known.mm, 2))
        if isinstance(known, KnownRectangle) and another:
            for entry, mm in ((self.width_entry, known.width), (self.height_entry, known.height)):
                entry.setText(lengths.show(mm, 2) if mm else entry.text())
        self._label_mark()

    def finding(self, draft: Draft) -> Finding:
        """The scale and how far to trust it."""
        return scale_found(draft.marks)

    def read(self) -> None:
        """Take in the length typed."""
        known = self.marks.scale
        if isinstance(known, KnownLength):
            known = replace(known, mm=self.length.value())
            self.session.settings.set_text(_LENGTH, self.length.text())
        elif isinstance(known, KnownRectangle):
            known = replace(known, width=self.width_entry.value(), height=self.height_entry.value())
            for entry, name in zip((self.width_entry, self.height_entry), _SIDES, strict=True):
                self.session.settings.set_text(name, entry.text())
        self.typed.emit(replace(self.marks, scale=known))

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
        method = "corners" if self.by_corners.isChecked() else "ruler"
        self.session.settings.set_text(_METHOD, method)
        self.tool_changed.emit()

    def _show_method(self) -> None:
        corners = self.by_corners.isChecked()
        self.hint.setText(_CORNERS if corners else _RULER)
        self._length_row.setVisible(not corners)
        self._size_row.setVisible(corners)

    def _focus_entry(self) -> None:
        entry = self.width_entry if self.by_corners.isChecked() else self.length
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
        label.setBuddy(entry)
        row.addWidget(label)
        row.addWidget(entry, 1)
    return made
