"""How a scrap is drawn wherever it is shown: true outline, own photograph, warp upright.

Scenes are in millimetres with y downward, so a piece's (x, y) is drawn at (x, −y).
"""

import math
from collections.abc import Iterable, Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QGuiApplication,
    QImage,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
    QTransform,
)

from bindery_stock.colour import srgb_codes, to_srgb
from bindery_stock.desktop.look import SURROUND_L, grey
from bindery_stock.desktop.pictures import reduced
from bindery_stock.shape import Flaw, FlawKind, Outline
from bindery_stock.stock import Lab, StockPiece

_NO_COLOUR_L = 65.0
"""L* of a piece whose colour was never read."""
FLAW_HATCH = {
    FlawKind.HOLE: Qt.BrushStyle.SolidPattern,
    FlawKind.WEAK: Qt.BrushStyle.Dense6Pattern,
    FlawKind.STAIN: Qt.BrushStyle.BDiagPattern,
    FlawKind.STAMPING: Qt.BrushStyle.CrossPattern,
    FlawKind.GLUE: Qt.BrushStyle.FDiagPattern,
}
"""The hatch by which each kind of flaw is told, never colour alone."""


def lab_colour(lab: Lab) -> QColor:
    """The screen's nearest to a CIELAB colour (D50, 2°)."""
    rgb, _in_gamut = to_srgb(lab)
    return QColor(*rgb)


def plain_fills(pieces: Sequence[StockPiece]) -> list[QColor]:
    """What ``plain_fill`` gives, of thousands of pieces at once."""
    labs = [piece.colour.lab if piece.colour else (_NO_COLOUR_L, 0.0, 0.0) for piece in pieces]
    return [QColor(*codes) for codes in srgb_codes(labs).tolist()] if labs else []


def surround() -> QColor:
    """The neutral ground behind cloth."""
    return grey(SURROUND_L)


def ring_polygon(ring: Iterable[tuple[float, float]]) -> QPolygonF:
    """A ring of the piece in scene millimetres."""
    return QPolygonF([QPointF(x, -y) for x, y in ring])


def outline_path(outline: Outline) -> QPainterPath:
    """An outline with its holes in scene millimetres."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for ring in (outline.exterior, *outline.holes):
        path.addPolygon(ring_polygon(ring))
        path.closeSubpath()
    return path


def bounds_rect(outline: Outline) -> QRectF:
    """The outline's bounds in scene millimetres."""
    min_x, min_y, max_x, max_y = outline.bounds
    return QRectF(min_x, -max_y, max_x - min_x, max_y - min_y)


def paint_scrap(painter: QPainter, piece: StockPiece, image: QImage | None) -> None:
    """Fill a piece's outline with its flat photograph, or with its colour while there is none."""
    path = outline_path(piece.outline)
    if image is not None:
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        bounds = bounds_rect(piece.outline)
        seen = painter.deviceTransform().mapRect(QRectF(QPointF(), bounds.size()))
        painter.drawImage(bounds, reduced(image, seen.size().toSize()))
    else:
        painter.fillPath(path, plain_fill(piece))
    paint_edge(painter, path)


def plain_fill(piece: StockPiece) -> QColor:
    """The colour of a piece without its photograph."""
    return lab_colour(piece.colour.lab) if piece.colour else grey(_NO_COLOUR_L)


def paint_edge(painter: QPainter, path: QPainterPath, *, chosen: bool = False) -> None:
    """The edge of a scrap: a hair line, or a light and a dark line where it is chosen."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    widths = ((5.0, 98.0), (2.5, 10.0)) if chosen else ((1.0, 25.0),)
    for width, lightness in widths:
        painter.setPen(cosmetic(grey(lightness), width))
        painter.drawPath(path)


def paint_flaws(painter: QPainter, flaws: Sequence[Flaw]) -> None:
    """Each flaw as a dashed ring with the hatch of its kind."""
    for flaw in flaws:
        painter.setPen(cosmetic(grey(98), 1.5, Qt.PenStyle.DashLine))
        brush = QBrush(grey(10), FLAW_HATCH[flaw.kind])
        brush.setTransform(painter.deviceTransform().inverted()[0])
        painter.setBrush(brush)
        painter.drawPolygon(ring_polygon(flaw.ring))


def paint_part(painter: QPainter, corners: Sequence[tuple[float, float]]) -> None:
    """A part as it lies in a piece: a white and black outline and its first side marked."""
    shape = ring_polygon(corners)
    painter.setBrush(QColor(255, 255, 255, 48))
    painter.setPen(cosmetic(grey(8), 3.5))
    painter.drawPolygon(shape)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(cosmetic(grey(98), 1.5))
    painter.drawPolygon(shape)


def paint_warp_arrow(painter: QPainter, foot: QPointF, length: float) -> None:
    """An arrow along the warp, drawn upward from ``foot`` (scene units)."""
    tip = foot + QPointF(0, -length)
    barb = length * 0.22
    lines = [
        QLineF(foot, tip),
        QLineF(tip, tip + QPointF(-barb, barb)),
        QLineF(tip, tip + QPointF(barb, barb)),
    ]
    for width, lightness in ((4.0, 98.0), (2.0, 10.0)):
        painter.setPen(cosmetic(grey(lightness), width))
        painter.drawLines(lines)


def cosmetic(colour: QColor, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A pen whose width is in the window's pixels whatever the zoom and the density of the screen.

    Qt counts such a width in dots of the screen: on a dense one it would be half as thick.
    """
    app = QGuiApplication.instance()
    dots = app.devicePixelRatio() if isinstance(app, QGuiApplication) else 1.0
    pen = QPen(colour, width * dots, style)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return pen


def nice_step(mm_per_px: float, wanted_px: float = 64.0) -> float:
    """A round number of millimetres (1, 2 or 5 times a power of ten) about ``wanted_px`` wide."""
    raw = max(mm_per_px * wanted_px, 1e-6)
    power = 10.0 ** math.floor(math.log10(raw))
    return next(power * step for step in (1, 2, 5, 10) if power * step >= raw)


def fitted(scene: QRectF, area: QRectF) -> QTransform:
    """The transform that shows ``scene`` as large as ``area`` allows, in its middle."""
    scale = min(area.width() / scene.width(), area.height() / scene.height())
    transform = QTransform()
    transform.translate(area.center().x(), area.center().y())
    transform.scale(scale, scale)
    transform.translate(-scene.center().x(), -scene.center().y())
    return transform
