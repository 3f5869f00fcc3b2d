"""Dragging one line: along a ruler, or along the warp."""

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from bindery_stock.bench.photo_table.marks import Line
from bindery_stock.desktop.photo_canvas.tool import Tool, handle, label, near, nudge, stroke
from bindery_stock.shape import Point

_BARB = 16.0
"""Length of the arrow's barbs, and of the ticks of a measured line, in screen pixels."""


class LineTool(Tool):
    """One line, drawn by dragging; its ends can be dragged again.

    An ``arrow`` points from its first end to its second; a measured line has a tick at each end.
    """

    def __init__(self, hint: str, *, arrow: bool) -> None:
        """Begin with no line."""
        super().__init__()
        self.hint = hint
        self.text = ""
        self._arrow = arrow
        self._line: Line | None = None
        self._before: Line | None = None
        self._held: int | None = None
        self._chosen = 1
        self._reach = 0.0

    @property
    def line(self) -> Line | None:
        """The line, or None."""
        return self._line

    def show_line(self, line: Line | None) -> None:
        """Show this line from now on."""
        self._line = line

    def press(self, at: Point, reach: float) -> None:
        """Take hold of an end, or begin a new line."""
        self._before, self._reach = self._line, reach
        ends = self._line or ()
        held = next((i for i, end in enumerate(ends) if near(end, at, reach)), None)
        if held is None:
            self._line, held = (at, at), 1
        self._held = self._chosen = held

    def drag(self, at: Point) -> None:
        """Bring the held end along."""
        if self._held is not None:
            self._move(self._held, at)
            self.moved.emit()

    def release(self) -> None:
        """Let go; a line too short to be meant is dropped."""
        if self._held is None or self._line is None:
            return
        self._held = None
        if near(*self._line, self._reach):
            self._line = self._before
            self.moved.emit()
        elif self._line != self._before:
            self.marked.emit()

    def key(self, key: Qt.Key, reach: float) -> bool:
        """Arrows move the chosen end, full stop chooses the other, Delete removes the line."""
        if self._line is None:
            return False
        way = nudge(key)
        if way is not None:
            x, y = self._line[self._chosen]
            unit = reach / 8
            self._move(self._chosen, (x + way[0] * unit, y + way[1] * unit))
        elif key == Qt.Key.Key_Period:
            self._chosen = 1 - self._chosen
            self.moved.emit()
            return True
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._line = None
        else:
            return False
        self.marked.emit()
        return True

    def begin(self, area: QRectF) -> None:
        """A line across, or an arrow up, the middle of what is seen."""
        middle, third = area.center(), min(area.width(), area.height()) / 3
        along = QPointF(0, -third) if self._arrow else QPointF(third, 0)
        start, end = middle - along, middle + along
        self._line = ((start.x(), start.y()), (end.x(), end.y()))
        self.marked.emit()

    def paint(self, painter: QPainter, px: float, *, active: bool) -> None:
        """The line with its ticks or its head, and its words."""
        if self._line is None:
            return
        start, end = (QPointF(*p) for p in self._line)
        stroke(painter, QPolygonF([start, end]), closed=False, active=active)
        if self._arrow:
            self._paint_head(painter, start, end, px, active=active)
        else:
            self._paint_ticks(painter, start, end, px, active=active)
        if active:
            for place, point in enumerate(self._line):
                handle(painter, point, px, chosen=place == self._chosen)
        if self.text and active:
            label(painter, self._line[1], self.text)

    def _move(self, which: int, to: Point) -> None:
        if self._line is not None:
            start, end = self._line
            self._line = (to, end) if which == 0 else (start, to)

    @staticmethod
    def _paint_head(
        painter: QPainter, start: QPointF, end: QPointF, px: float, *, active: bool
    ) -> None:
        back = QLineF(end, start)
        if back.length() == 0.0:
            return
        barbs = []
        for turn in (28.0, -28.0):
            barb = QLineF(back)
            barb.setAngle(back.angle() + turn)
            barb.setLength(_BARB * (1.75 if active else 1.0) * px)
            barbs.append(barb.p2())
        stroke(painter, QPolygonF([barbs[0], end, barbs[1]]), closed=False, active=active)

    @staticmethod
    def _paint_ticks(
        painter: QPainter, start: QPointF, end: QPointF, px: float, *, active: bool
    ) -> None:
        line = QLineF(start, end)
        if line.length() == 0.0:
            return
        across = line.normalVector().unitVector()
        arm = QPointF(across.dx(), across.dy()) * (_BARB * px / 2)
        for point in (start, end):
            stroke(painter, QPolygonF([point - arm, point + arm]), closed=False, active=active)
