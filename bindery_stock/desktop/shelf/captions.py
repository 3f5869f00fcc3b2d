"""What is painted over the pieces: code and size, headings of groups, the edge of the chosen."""

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from bindery_stock.bench.shelf.layout_values import Heading
from bindery_stock.bench.shelf.piece_words import size_of
from bindery_stock.desktop.drawn_shapes import paint_edge
from bindery_stock.desktop.look import GRID, grey
from bindery_stock.desktop.shelf.sprites import Drawn
from bindery_stock.units import LengthStyle

_SIZE_FROM = 0.9
_INK = 98.0
_PLATE = 20.0
_LEAST_PLATE = 4.0
_HEADING_SIZE = 1.25


def least_caption(drawn: Drawn) -> str:
    """What is written under a piece in any case: its code with the sign of a caution."""
    return f"{drawn.sign[:1]} {drawn.source.code}" if drawn.sign else drawn.source.code


def paint_caption(
    painter: QPainter,
    drawn: Drawn,
    place: QRectF,
    scale: float,
    lengths: LengthStyle,
    usable: str = "",
) -> None:
    """The least caption under a piece; more where there is room for it.

    What is drawn cut short tells its true size as soon as that has room. ``usable`` is what can be
    had from the piece, where that is known.
    """
    piece = drawn.source
    metrics = painter.fontMetrics()
    words = [least_caption(drawn)]
    if drawn.along or drawn.across:
        words.append(size_of(piece, lengths))
    if drawn.sign:
        words.append(drawn.sign[2:])
    if scale >= _SIZE_FROM and not (drawn.along or drawn.across):
        words.append(size_of(piece, lengths))
    if piece.reserved_for and scale >= _SIZE_FROM:
        words.append("reserved")
    if usable and scale >= _SIZE_FROM:
        words.append(usable)
    room = place.width() + GRID  # more would run into the caption of the neighbour
    while len(words) > 1 and metrics.horizontalAdvance("  ".join(words)) > room:
        words.pop()
    told = "  ".join(words)
    left = place.center().x() - metrics.horizontalAdvance(told) / 2
    painter.setPen(grey(_INK))
    painter.drawText(QPointF(left, place.bottom() + metrics.ascent() + GRID), told)


def paint_sign(painter: QPainter, drawn: Drawn, place: QRectF) -> None:
    """The sign of a caution on the piece itself, where nothing is written under it.

    It never hides more than a quarter of the piece, however small that is drawn.
    """
    side = sign_side(painter.fontMetrics().height(), place)
    if not drawn.sign or side == 0.0:
        return
    plate = QRectF(place.left(), place.bottom() - side, side, side)
    painter.fillRect(plate, grey(_PLATE))
    inner = plate.adjusted(side / 4, side / 4, -side / 4, -side / 4)
    top = QPointF(inner.center().x(), inner.top())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(grey(_INK))
    painter.drawPolygon(QPolygonF([inner.bottomLeft(), top, inner.bottomRight()]))
    painter.restore()


def sign_side(line: float, place: QRectF) -> float:
    """The side of the sign's plate: a line's height, or half of a smaller piece; 0 for none."""
    side = min(line, place.width() / 2, place.height() / 2)
    return side if side >= _LEAST_PLATE else 0.0


def paint_headings(
    painter: QPainter, headings: Iterable[Heading], origin: QPointF, scale: float
) -> None:
    """The heading of each group over its first piece, cut to the group's width."""
    painter.save()
    font = painter.font()
    font.setPointSizeF(font.pointSizeF() * _HEADING_SIZE)
    painter.setFont(font)
    painter.setPen(grey(_INK))
    metrics = painter.fontMetrics()
    for heading in headings:
        at = origin + QPointF(heading.x, heading.y) * scale
        told = metrics.elidedText(
            heading.text, Qt.TextElideMode.ElideRight, int(heading.width * scale)
        )
        painter.drawText(at - QPointF(0, metrics.descent() + GRID * 2), told)
    painter.restore()


def paint_chosen(painter: QPainter, drawn: Drawn, place: QRectF, scale: float) -> None:
    """The edge of a piece that is chosen."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(place.topLeft())
    painter.scale(scale, scale)
    painter.translate(-drawn.bounds.topLeft())
    paint_edge(painter, drawn.path, chosen=True)
    painter.restore()
