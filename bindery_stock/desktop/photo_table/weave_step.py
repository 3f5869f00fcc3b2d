"""Weave: which way the warp runs."""

import math
from dataclasses import replace

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton

from bindery_stock.bench.photo_table.found import Found, weave_found
from bindery_stock.bench.photo_table.marks import Line, Marks, StepName
from bindery_stock.bench.photo_table.piece_shape import turn_of
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.line_tool import LineTool
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.step import TableStep
from bindery_stock.desktop.session import Session

_HINT = (
    "Drag an arrow along the warp, the threads that run with the length of the bolt. Without an "
    "arrow the photograph's own up is taken."
)


class WeaveStep(TableStep):
    """Sets the warp by an arrow or in degrees."""

    name = StepName.WEAVE

    def __init__(self, session: Session) -> None:
        """Take the photograph's up to begin with."""
        super().__init__(session, _HINT)
        self.tool: LineTool = LineTool(_HINT, arrow=True)
        self.degrees = NumberEntry("Turn from the photograph's up, counter-clockwise", -180, 180)
        label = QLabel("&Turn, counter-clockwise °")
        label.setBuddy(self.degrees)
        self.upright = QPushButton("Up the photograph")
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        row.addWidget(label)
        row.addWidget(self.degrees, 1)
        self.column.addLayout(row)
        self.column.addWidget(self.upright)
        self.tool.marked.connect(self._drawn)
        self.degrees.understood.connect(self._turn_typed)
        self.upright.clicked.connect(self._stand_upright)

    def show_draft(self, draft: ScrapDraft) -> None:
        """Show the arrow and its turn."""
        super().show_draft(draft)
        self.tool.show_line(draft.marks.warp)
        if not self.degrees.hasFocus():
            self.degrees.show_number(turn_of(draft.marks))

    def finding(self, draft: ScrapDraft) -> Found:
        """Which way the warp runs."""
        return weave_found(draft.marks)

    def read(self) -> None:
        """Refuse a turn that is no angle."""
        self.degrees.value()

    def accept(self) -> None:
        """Passing on agrees to the photograph's up."""
        self.read()
        if self.draft is not None and self.marks.warp is None and self.marks.outline:
            self._stand_upright()

    def _drawn(self) -> None:
        self.marked.emit(replace(self.marks, warp=self.tool.line))

    def _stand_upright(self) -> None:
        self._turn_to(0.0)

    def _turn_typed(self) -> None:
        degrees = self.degrees.value()
        if degrees is not None:
            self._turn_to(degrees)

    def _turn_to(self, degrees: float) -> None:
        if self.draft is not None:
            arrow = _arrow(self.marks, self.draft.size, degrees)
            self.marked.emit(replace(self.marks, warp=arrow))


def _arrow(marks: Marks, size: tuple[int, int], degrees: float) -> Line:
    """An arrow through the middle of the outline, or of the photograph, turned as asked."""
    ring = marks.outline or ((0.0, 0.0), (float(size[0]), float(size[1])))
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    half = min(max(xs) - min(xs), max(ys) - min(ys)) / 3
    turn = math.radians(degrees)
    dx, dy = -math.sin(turn) * half, -math.cos(turn) * half
    return (x - dx, y - dy), (x + dx, y + dy)
