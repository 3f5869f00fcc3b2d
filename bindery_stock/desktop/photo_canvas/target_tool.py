"""Marking a target by its four corner patches."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter

from bindery_stock.bench.colour_room.target_fit import likely_squares
from bindery_stock.desktop.drawn_shapes import cosmetic
from bindery_stock.desktop.look import grey
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_canvas.tool import polygon
from bindery_stock.shape import Point, Ring

TARGET_HINT = (
    "Drag from the middle of one corner patch to the middle of the opposite one, then drag each "
    "corner onto the middle of its patch. Which way round the target lies is found out."
)


class TargetTool(RingTool):
    """Four corners, with the places that will be read, or were, shown between them."""

    def __init__(self) -> None:
        """Begin with no corners."""
        super().__init__(TARGET_HINT, single=True)
        self._read: tuple[Ring, ...] = ()
        self._dropped: frozenset[int] = frozenset()

    @property
    def corners(self) -> Ring:
        """The corners, once round; empty while there are none."""
        return self.rings[0] if self.rings else ()

    def show_read(self, squares: tuple[Ring, ...], dropped: frozenset[int]) -> None:
        """Show where the patches were read; those of the numbers ``dropped`` are crossed."""
        self._read, self._dropped = squares, dropped
        self.moved.emit()

    def press(self, at: Point, reach: float) -> None:
        """As for any ring; the fourth corner closes it."""
        super().press(at, reach)
        if len(self._open) == 4:
            self._close()

    def double_click(self, at: Point, reach: float) -> None:
        """A target has no corner to put in."""

    def key(self, key: Qt.Key, reach: float) -> bool:
        """As for any ring, but corners are neither put in nor taken out one by one."""
        if not self.is_open and self.rings:
            if key == Qt.Key.Key_Insert:
                return True
            if key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
                self._point = None
        return super().key(key, reach)

    def paint(self, painter: QPainter, px: float, *, active: bool) -> None:
        """The corners and the squares."""
        squares = self._read or likely_squares(self.corners)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for number, square in enumerate(squares):
            shape = polygon(square)
            for width, lightness in ((2.5, 8), (1.0, 98)):
                painter.setPen(cosmetic(grey(lightness), width))
                painter.drawPolygon(shape)
                if number in self._dropped:
                    a, b, c, d = (QPointF(*corner) for corner in square)
                    painter.drawLine(a, c)
                    painter.drawLine(b, d)
        super().paint(painter, px, active=active)
