"""How a part's cloth is shown in a cell: its own photograph where it lies, else its colour."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QImage, QPainter, QPen, QTransform

from bindery_stock.desktop.drawn_shapes import bounds_rect, cosmetic, lab_colour, plain_fill
from bindery_stock.desktop.look import grey, greys
from bindery_stock.desktop.previews import Previews
from bindery_stock.shape import Ring
from bindery_stock.stock import BookPart, PartState, StockPiece

_CELL_PX_PER_MM = 1.0
_CROSS_INSET = 0.5


def fill_with_cloth(
    painter: QPainter, area: QRectF, piece: StockPiece | None, corners: Ring, previews: Previews
) -> None:
    """Fill an area with the cloth of a piece, from the place where a part lies in it."""
    if piece is None:
        painter.fillRect(area, grey(greys().line))
        return
    image = previews.image(piece, _CELL_PX_PER_MM)
    if image is None:
        painter.fillRect(area, plain_fill(piece))
        return
    painter.save()
    painter.setClipRect(area, Qt.ClipOperation.IntersectClip)
    painter.fillRect(area, plain_fill(piece))
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.drawImage(area, image, _source(image, piece, corners, area))
    painter.restore()


def _source(image: QImage, piece: StockPiece, corners: Ring, area: QRectF) -> QRectF:
    """The part of the flat picture that lies under the part, in the area's proportions."""
    bounds = bounds_rect(piece.outline)
    if corners:
        xs, ys = [x for x, _ in corners], [-y for _, y in corners]
        seen = QRectF(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))
    else:
        seen = bounds.adjusted(
            bounds.width() * 0.3,
            bounds.height() * 0.3,
            -bounds.width() * 0.3,
            -bounds.height() * 0.3,
        )
    scale = min(seen.width() / max(area.width(), 1.0), seen.height() / max(area.height(), 1.0))
    cut = QRectF(0, 0, area.width() * scale, area.height() * scale)
    cut.moveCenter(seen.center())
    to_image = QTransform.fromScale(
        image.width() / bounds.width(), image.height() / bounds.height()
    )
    to_image.translate(-bounds.left(), -bounds.top())
    return to_image.mapRect(cut)


def paint_state(
    painter: QPainter, area: QRectF, part: BookPart, piece: StockPiece | None, previews: Previews
) -> None:
    """One part: hatched while waiting, framed when reserved, solid when cut, crossed without."""
    steps = greys()
    if part.state in (PartState.CUT, PartState.FITTED):
        fill_with_cloth(painter, area, piece, part.corners, previews)
        painter.setPen(cosmetic(grey(steps.text), 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(area)
        if part.state is PartState.FITTED:
            _tick(painter, area)
    elif part.state is PartState.RESERVED:
        painter.fillRect(area, grey(steps.panel))
        fill_with_cloth(painter, area.adjusted(5, 5, -5, -5), piece, part.corners, previews)
        painter.setPen(cosmetic(grey(steps.text), 2.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(area.adjusted(1, 1, -1, -1))
    else:
        _paint_open(painter, area, part)


def _paint_open(painter: QPainter, area: QRectF, part: BookPart) -> None:
    steps = greys()
    quiet = part.state is PartState.LEFT_OUT
    pen = cosmetic(grey(steps.line if quiet else steps.field), 1.0)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if part.state is PartState.WANTED:
        hatch(painter, area)
        if part.lab is not None:
            foot = QRectF(area.left(), area.bottom() - 5, area.width(), 5)
            painter.fillRect(foot, lab_colour(part.lab))
    painter.setPen(pen)
    painter.drawRect(area)
    if part.state is PartState.NOTHING_SERVES:
        painter.setPen(cosmetic(grey(steps.text), 1.5))
        inner = area.adjusted(_CROSS_INSET, _CROSS_INSET, -_CROSS_INSET, -_CROSS_INSET)
        painter.drawLine(inner.topLeft(), inner.bottomRight())
        painter.drawLine(inner.bottomLeft(), inner.topRight())


def hatch(painter: QPainter, area: QRectF) -> None:
    """Thin strokes aslant, at one spacing whatever the size."""
    brush = QBrush(grey(greys().field), Qt.BrushStyle.BDiagPattern)
    painter.fillRect(area, brush)


def _tick(painter: QPainter, area: QRectF) -> None:
    """A tick in the lower right corner, light on dark: it is in the book."""
    corner = QRectF(area.right() - 14, area.bottom() - 12, 12, 10)
    points = [
        QPointF(corner.left(), corner.center().y()),
        QPointF(corner.left() + 4, corner.bottom()),
        QPointF(corner.right(), corner.top()),
    ]
    for width, lightness in ((4.0, 8.0), (2.0, 98.0)):
        pen = QPen(grey(lightness), width)
        painter.setPen(pen)
        painter.drawPolyline(points)


def state_words(part: BookPart) -> str:
    """The word beside a part: ``reserved C-0042``, ``waiting``."""
    if part.state in (PartState.RESERVED, PartState.CUT, PartState.FITTED) and part.piece:
        return f"{part.state} {part.piece}"
    if part.state is PartState.WANTED and part.shown and part.lab is None:
        return "colour not read" if part.kind.value in {"cloth", "leather", "paper"} else "waiting"
    return str(part.state)
