"""The outlines of a line-up on its photograph: pointed at, never changed."""

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QPainter

from bindery_stock.bench.match.line_up_photo import LineUpPhoto, LineUpScrap
from bindery_stock.desktop.drawn_shapes import cosmetic
from bindery_stock.desktop.look import grey
from bindery_stock.desktop.photo_canvas.outline_tool import paint_doubts
from bindery_stock.desktop.photo_canvas.tool import Tool, polygon, stroke
from bindery_stock.shape import Point


class OutlineMarks(Tool):
    """Emits ``pointed(int)`` with the number of the outline pressed on.

    What is told has a whole line, what is not a broken one, the chosen one a thick line.
    """

    pointed = Signal(int)
    hint = "Click an outline to say what it is."

    def __init__(self) -> None:
        """Begin with no outline."""
        super().__init__()
        self._scraps: tuple[LineUpScrap, ...] = ()
        self.chosen: int | None = None

    def show_seen(self, seen: LineUpPhoto | None) -> None:
        """Show these outlines."""
        self._scraps = seen.scraps if seen is not None else ()
        self.moved.emit()

    def choose(self, number: int | None) -> None:
        """Draw this one as the chosen one."""
        self.chosen = number
        self.moved.emit()

    def press(self, at: Point, reach: float) -> None:  # noqa: ARG002 - an outline is large
        """Point at the smallest outline there: a scrap may lie on the book."""
        here = QPointF(*at)
        fill = Qt.FillRule.OddEvenFill
        shapes = {n: polygon(scrap.ring) for n, scrap in enumerate(self._scraps)}
        hit = [n for n, shape in shapes.items() if shape.containsPoint(here, fill)]
        if hit:
            sides = {n: shapes[n].boundingRect() for n in hit}
            self.pointed.emit(min(hit, key=lambda n: sides[n].width() * sides[n].height()))

    def key(self, key: Qt.Key, reach: float) -> bool:  # noqa: ARG002 - nothing is moved
        """“.” goes on to the next outline, as it does with points elsewhere."""
        if key != Qt.Key.Key_Period or not self._scraps:
            return False
        now = -1 if self.chosen is None else self.chosen
        self.pointed.emit((now + 1) % len(self._scraps))
        return True

    def paint(self, painter: QPainter, px: float, *, active: bool) -> None:  # noqa: ARG002
        """Every outline, the chosen one last."""
        order = sorted(range(len(self._scraps)), key=lambda number: number == self.chosen)
        for number in order:
            scrap, chosen = self._scraps[number], number == self.chosen
            stroke(painter, polygon(scrap.ring), closed=True, active=chosen)
            if not scrap.code and not scrap.is_book:
                painter.setPen(cosmetic(grey(8), 2.5 if chosen else 1.5, Qt.PenStyle.DashLine))
                painter.drawPolygon(polygon(scrap.ring))
            if chosen and active:
                paint_doubts(painter, scrap.doubtful, ())
