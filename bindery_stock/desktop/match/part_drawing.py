"""The part sought, drawn to scale."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from bindery_stock.desktop.drawing import cosmetic, lab_colour, paint_warp_arrow, surround
from bindery_stock.desktop.look import GRID, grey
from bindery_stock.desktop.match.delegate import fitted
from bindery_stock.matching import Part


class PartDrawing(QWidget):
    """The part to scale, filled with the colour sought, warp upright."""

    def __init__(self) -> None:
        """Begin with nothing to draw."""
        super().__init__()
        self._part: Part | None = None
        self.setMinimumHeight(GRID * 36)
        self.setAccessibleName("The part, drawn to scale")

    def show_part(self, part: Part | None) -> None:
        """Draw this part."""
        self._part = part
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The part, its margin dashed around it, and the warp."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), surround())
        part = self._part
        if part is None:
            return
        shape = QRectF(0, -part.height, part.width, part.height)
        grown = shape.adjusted(-part.margin, -part.margin, part.margin, part.margin)
        area = QRectF(self.rect()).adjusted(GRID * 4, GRID * 4, -GRID * 12, -GRID * 4)
        painter.save()
        painter.setTransform(fitted(grown, area), True)
        painter.setPen(cosmetic(grey(10), 1))
        if part.lab is not None:
            painter.setBrush(lab_colour(part.lab))
        else:
            painter.setBrush(Qt.BrushStyle.BDiagPattern)
        painter.drawRect(shape)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(cosmetic(grey(95), 1, Qt.PenStyle.DashLine))
        painter.drawRect(grown)
        painter.restore()
        foot = QPointF(self.width() - GRID * 6, self.height() - GRID * 6)
        paint_warp_arrow(painter, foot, GRID * 14)
