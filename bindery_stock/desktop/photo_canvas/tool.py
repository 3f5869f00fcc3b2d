"""What the hand does on the photograph during one step."""

import math

from PySide6.QtCore import QObject, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPolygonF

from bindery_stock.desktop.drawn_shapes import cosmetic
from bindery_stock.desktop.look import grey
from bindery_stock.shape import Point, Ring

_HANDLE = 5.0
"""Half the side of a point's square, in screen pixels."""
_DARK, _LIGHT = 8.0, 98.0


class Tool(QObject):
    """Draws and drags marks. All points are pixels of the upright photograph.

    Emits ``moved()`` while a stroke is under way and ``marked()`` when it is finished.
    ``reach`` is how near a point the pointer must come to take hold of it.
    """

    moved = Signal()
    marked = Signal()
    hint = ""
    """What to do, in a few words."""

    def press(self, at: Point, reach: float) -> None:
        """The button goes down."""

    def drag(self, at: Point) -> None:
        """The pointer moves with the button down."""

    def hover(self, at: Point) -> None:
        """The pointer moves with the button up."""

    def release(self) -> None:
        """The button goes up, where it was dragged to last."""

    def double_click(self, at: Point, reach: float) -> None:
        """The button goes down a second time at once."""

    def key(self, key: Qt.Key, reach: float) -> bool:
        """A key; returns whether it meant something here."""
        raise NotImplementedError

    @property
    def is_open(self) -> bool:
        """Whether a mark is half drawn."""
        return False

    def take_back(self) -> None:
        """Take back the last point of a mark that is half drawn."""

    def begin(self, area: QRectF) -> None:
        """Put a mark into the middle of the part of the photograph that is seen."""

    def paint(self, painter: QPainter, px: float, *, active: bool) -> None:
        """Draw the marks; ``px`` is the size of a screen pixel in the photograph."""


def near(first: Point, second: Point, reach: float) -> bool:
    """Whether two points lie within reach of each other."""
    return math.dist(first, second) <= reach


def nudge(key: Qt.Key) -> Point | None:
    """The way an arrow key points, in screen pixels."""
    return {
        Qt.Key.Key_Left: (-1.0, 0.0),
        Qt.Key.Key_Right: (1.0, 0.0),
        Qt.Key.Key_Up: (0.0, -1.0),
        Qt.Key.Key_Down: (0.0, 1.0),
    }.get(key)


def polygon(ring: Ring) -> QPolygonF:
    """A ring for the painter."""
    return QPolygonF([QPointF(x, y) for x, y in ring])


def stroke(painter: QPainter, points: QPolygonF, *, closed: bool, active: bool) -> None:
    """A light line on a dark one, so that it is seen on any cloth; fainter while not active."""
    widths = ((4.0, _DARK), (2.0, _LIGHT)) if active else ((2.5, _DARK), (1.0, _LIGHT))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for width, lightness in widths:
        pen = cosmetic(grey(lightness), width)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        if closed:
            painter.drawPolygon(points)
        else:
            painter.drawPolyline(points)


def handle(painter: QPainter, at: Point, px: float, *, chosen: bool) -> None:
    """A point that can be dragged: a light square, dark where it is the chosen one."""
    half = _HANDLE * px * (1.4 if chosen else 1.0)
    box = QRectF(at[0] - half, at[1] - half, 2 * half, 2 * half)
    painter.setPen(cosmetic(grey(_LIGHT if chosen else _DARK), 2.0 if chosen else 1.5))
    painter.setBrush(grey(_DARK if chosen else _LIGHT))
    painter.drawRect(box)


def label(painter: QPainter, at: Point, text: str) -> None:
    """Words beside a mark, upright and of one size whatever the zoom."""
    spot = painter.transform().map(QPointF(*at))
    painter.save()
    painter.resetTransform()
    box = QRectF(painter.fontMetrics().boundingRect(text)).adjusted(-4, -2, 4, 2)
    box.moveTopLeft(spot + QPointF(8, 8))
    painter.fillRect(box, grey(_DARK))
    painter.setPen(grey(_LIGHT))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
    painter.restore()
