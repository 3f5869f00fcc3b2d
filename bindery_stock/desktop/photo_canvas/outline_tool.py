"""The outline of one scrap, with the doubtful stretches of what is suggested.

Told by their dots, since a colour alone tells nothing to some eyes.
"""

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter

from bindery_stock.desktop.drawn_shapes import cosmetic
from bindery_stock.desktop.look import grey
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_canvas.tool import polygon
from bindery_stock.shape import Ring

_ON_ANY_CLOTH = ((95, 2.5), (8, 0.0))  # L*, and pixels by which the light dots show round the dark


def paint_doubts(painter: QPainter, doubtful: tuple[Ring, ...], others: tuple[Ring, ...]) -> None:
    """Wide dots along the open lines in doubt, fine ones round the other outlines."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for lightness, more in _ON_ANY_CLOTH:
        painter.setPen(cosmetic(grey(lightness), 4.5 + more, Qt.PenStyle.DotLine))
        for line in doubtful:
            painter.drawPolyline(polygon(line))
        painter.setPen(cosmetic(grey(lightness), 1.0 + more, Qt.PenStyle.DotLine))
        for ring in others:
            painter.drawPolygon(polygon(ring))


class OutlineTool(RingTool):
    """One ring, and what could be said against the one that is suggested."""

    def __init__(self, hint: str) -> None:
        """Begin with no ring."""
        super().__init__(hint, single=True)
        self.doubtful: tuple[Ring, ...] = ()
        """Open lines along what is suggested, where it is in doubt."""
        self.others: tuple[Ring, ...] = ()
        """Rings that could be suggested instead."""

    def paint(self, painter: QPainter, px: float, *, active: bool) -> None:
        """The ring, and the doubts on it while active."""
        super().paint(painter, px, active=active)
        if active:
            paint_doubts(painter, self.doubtful, self.others)
