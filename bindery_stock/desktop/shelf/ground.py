"""The ground under the hoard: a millimetre grid that thins with the zoom, and a scale bar."""

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetrics, QPainter

from bindery_stock.bench.shelf.layout_values import ShelfSpot
from bindery_stock.desktop.drawn_shapes import cosmetic, nice_step, surround
from bindery_stock.desktop.look import GRID, SURROUND_L, grey
from bindery_stock.units import LengthStyle

_FINE, _COARSE = 10.0, 100.0
_LEAST_PX = 7.0  # lines closer than this are left out
_FULL_PX = 28.0  # lines this far apart have their full strength
_STRENGTH = 5.0  # L* between the ground and a full line
_BAR_PX = 110.0


def paint_ground(painter: QPainter, area: QRectF, origin: QPointF, scale: float) -> None:
    """Fill ``area`` and rule it; ``origin`` is where 0, 0 mm lies, ``scale`` px per mm."""
    painter.fillRect(area, surround())
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    for step, weight in ((_FINE, 0.55), (_COARSE, 1.0)):
        apart = step * scale
        if apart < _LEAST_PX:
            continue
        fade = min(1.0, (apart - _LEAST_PX) / (_FULL_PX - _LEAST_PX))
        painter.setPen(cosmetic(grey(SURROUND_L - _STRENGTH * fade * weight), 1.0))
        painter.drawLines(_lines(area, origin, apart))


def _lines(area: QRectF, origin: QPointF, apart: float) -> list[QLineF]:
    first_x = origin.x() + apart * -(-(area.left() - origin.x()) // apart)
    first_y = origin.y() + apart * -(-(area.top() - origin.y()) // apart)
    across = int((area.right() - first_x) / apart) + 1
    down = int((area.bottom() - first_y) / apart) + 1
    upright = [first_x + n * apart for n in range(max(across, 0))]
    level = [first_y + n * apart for n in range(max(down, 0))]
    return [QLineF(x, area.top(), x, area.bottom()) for x in upright] + [
        QLineF(area.left(), y, area.right(), y) for y in level
    ]


def bar_height(metrics: QFontMetrics) -> int:
    """Pixels at the foot of the view that the scale bar takes."""
    return metrics.height() + GRID * 5


def paint_scale_bar(painter: QPainter, area: QRectF, scale: float, lengths: LengthStyle) -> None:
    """A bar of a round length in the lower left corner of ``area``, with its length beside it."""
    length = nice_step(1.0 / scale, _BAR_PX)
    text = lengths.show(length)
    metrics = painter.fontMetrics()
    width = length * scale
    plate = QRectF(
        area.left() + GRID,
        area.bottom() - metrics.height() - GRID * 4,
        max(width, metrics.horizontalAdvance(text)) + GRID * 6,
        metrics.height() + GRID * 3,
    )
    painter.fillRect(plate, grey(SURROUND_L - 22))
    painter.setPen(grey(98))
    inner = plate.adjusted(GRID * 3, GRID, -GRID * 3, -GRID)
    painter.drawText(inner, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, text)
    painter.setPen(cosmetic(grey(98), 2.0))
    left, foot = inner.left(), inner.bottom() - 1
    bar = [
        QLineF(left, foot, left + width, foot),
        QLineF(left, foot - GRID, left, foot),
        QLineF(left + width, foot - GRID, left + width, foot),
    ]
    painter.drawLines(bar)


def rect_of_spot(spot: ShelfSpot, origin: QPointF, scale: float) -> QRectF:
    """Where a thing on the ground is drawn, px; its corner on a whole pixel."""
    left, top = round(origin.x() + spot.x * scale), round(origin.y() + spot.y * scale)
    return QRectF(left, top, spot.width * scale, spot.height * scale)
