"""The part sought, drawn to scale."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from bindery_stock.bench.match.zones_seen import hidden_boxes
from bindery_stock.desktop.cut_sheet.plan_painter import paint_hidden
from bindery_stock.desktop.drawn_shapes import (
    cosmetic,
    fitted,
    lab_colour,
    paint_warp_arrow,
    ring_polygon,
    surround,
)
from bindery_stock.desktop.look import GRID, grey
from bindery_stock.matching import Part
from bindery_stock.shape import Outline


class PartDrawing(QWidget):
    """The part to scale, filled with the colour sought, warp upright."""

    def __init__(self) -> None:
        """Begin with nothing to draw."""
        super().__init__()
        self._part: Part | None = None
        self.setMinimumHeight(GRID * 30)
        self.setAccessibleName("The part, drawn to scale")

    def show_part(self, part: Part | None) -> None:
        """Draw this part."""
        self._part = part
        self.update()

    @staticmethod
    def _paint_hidden(painter: QPainter, part: Part) -> None:
        """Hatch what is not seen on the finished book."""
        if part.triangular:
            return
        for left, low, right, high in hidden_boxes(part.sight, part.width, part.height):
            paint_hidden(painter, ((left, low), (right, low), (right, high), (left, high)))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The part, its margin dashed around it, and the warp."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), surround())
        part = self._part
        if part is None:
            return
        shape = ring_polygon(part.outline.exterior)
        grown = part.outline.polygon.buffer(part.margin, join_style="mitre")
        left, low, right, high = grown.bounds
        area = QRectF(self.rect()).adjusted(GRID * 4, GRID * 4, -GRID * 12, -GRID * 4)
        painter.save()
        painter.setTransform(fitted(QRectF(left, -high, right - left, high - low), area), True)
        painter.setPen(cosmetic(grey(10), 1))
        if part.lab is not None:
            painter.setBrush(lab_colour(part.lab))
        else:
            painter.setBrush(Qt.BrushStyle.BDiagPattern)
        painter.drawPolygon(shape)
        self._paint_hidden(painter, part)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(cosmetic(grey(95), 1, Qt.PenStyle.DashLine))
        painter.drawPolygon(ring_polygon(Outline.from_polygon(grown).exterior))
        painter.restore()
        foot = QPointF(self.width() - GRID * 6, self.height() - GRID * 6)
        paint_warp_arrow(painter, foot, GRID * 14)
