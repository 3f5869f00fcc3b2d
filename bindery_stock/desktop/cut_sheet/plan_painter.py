"""How a sitting is drawn: the piece, what is left of it, and each part with what is not seen."""

import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QImage, QPainter, QTransform
from shapely import Polygon

from bindery_stock.bench.match.cut_plan import CutPlan
from bindery_stock.bench.match.placed_part import PartPlaced
from bindery_stock.bench.match.zones_seen import PLURAL, hidden_boxes
from bindery_stock.desktop.drawn_shapes import (
    cosmetic,
    outline_path,
    paint_flaws,
    paint_part,
    paint_scrap,
    paint_warp_arrow,
    ring_polygon,
    surround,
)
from bindery_stock.desktop.look import GRID, grey
from bindery_stock.shape import Lie, Outline, Placement, Point, laid_box
from bindery_stock.shape.remnants import is_sliver
from bindery_stock.units import LengthStyle

_SHADE = QColor(255, 255, 255, 90)
_PEN_LEFT = 1.5


def paint_plan(
    painter: QPainter,
    area: QRectF,
    transform: QTransform,
    plan: CutPlan,
    active: int,
    image: QImage | None,
    lengths: LengthStyle,
    trims: Sequence[Placement | None] = (),
) -> None:
    """Paint the whole sitting; ``active`` is the part in hand, ``trims`` lie in what is left."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(area, surround())
    painter.save()
    painter.setTransform(transform, True)
    paint_scrap(painter, plan.piece, image)
    if plan.fits:
        _paint_remains(painter, plan.remains)
        _paint_trims(painter, plan, trims)
    paint_flaws(painter, plan.piece.flaws)
    for reserved in plan.held:
        painter.setPen(cosmetic(grey(98), _PEN_LEFT, Qt.PenStyle.DashDotLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolygon(ring_polygon(reserved.corners))
    for number, laid in enumerate(plan.laid):
        _paint_laid(painter, laid, in_hand=number == active and len(plan.laid) > 1)
    painter.restore()
    if plan.fits:
        for number, remain in enumerate(plan.remains, start=1):
            spot = remain.polygon.representative_point()
            at = transform.map(QPointF(spot.x, -spot.y))
            told = f"{number}" if is_sliver(remain, plan.sliver) else f"left {number}"
            paint_label(painter, at, told, centred=True)
    for reserved in plan.held:
        spot = Polygon(reserved.corners).centroid
        at = transform.map(QPointF(spot.x, -spot.y))
        paint_label(painter, at, f"kept for {reserved.purpose}", centred=True)
    for number, laid in enumerate(plan.laid):
        _paint_name(painter, transform, laid, number if len(plan.laid) > 1 else None, lengths)
    lie = plan.lies[active]
    if lie.at is not None:
        _paint_overhang(painter, transform.map(QPointF(lie.at[0], -lie.at[1])), lie, lengths)
    foot = QPointF(area.right() - GRID * 5, area.bottom() - GRID * 5)
    paint_warp_arrow(painter, foot, GRID * 12)
    paint_label(painter, foot - QPointF(GRID * 11, GRID * 4), "warp")


def _paint_remains(painter: QPainter, remains: Sequence[Outline]) -> None:
    for remain in remains:
        painter.setPen(cosmetic(grey(98), _PEN_LEFT, Qt.PenStyle.DotLine))
        painter.setBrush(_SHADE)
        painter.drawPath(outline_path(remain))


def _paint_trims(painter: QPainter, plan: CutPlan, trims: Sequence[Placement | None]) -> None:
    """The line along which what is worth keeping would be trimmed square."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for remain, trim in zip(plan.remains, trims, strict=False):
        if trim is None or is_sliver(remain, plan.sliver):
            continue
        for lightness, style in ((12.0, Qt.PenStyle.SolidLine), (98.0, Qt.PenStyle.DashLine)):
            painter.setPen(cosmetic(grey(lightness), _PEN_LEFT, style))
            painter.drawPolygon(ring_polygon(trim.corners))


def _paint_laid(painter: QPainter, laid: PartPlaced, *, in_hand: bool) -> None:
    placement = laid.placement
    if isinstance(placement, Placement):
        boxes = hidden_boxes(laid.part.zones, laid.part.width, laid.part.height)
        for box in boxes if laid.part.zones else []:
            paint_hidden(painter, Outline.from_polygon(laid_box(placement, box)).exterior)
    paint_part(painter, placement.corners)
    if in_hand:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for width, lightness in ((6.0, 8.0), (3.5, 98.0)):
            painter.setPen(cosmetic(grey(lightness), width))
            painter.drawPolygon(ring_polygon(placement.corners))


def paint_hidden(painter: QPainter, ring: Sequence[Point]) -> None:
    """The mark of what is not seen on the finished book."""
    brush = QBrush(grey(98), Qt.BrushStyle.Dense7Pattern)
    brush.setTransform(painter.deviceTransform().inverted()[0])
    painter.setPen(cosmetic(grey(98), 1.0, Qt.PenStyle.DashLine))
    painter.setBrush(brush)
    painter.drawPolygon(ring_polygon(ring))


def _paint_name(
    painter: QPainter,
    transform: QTransform,
    laid: PartPlaced,
    number: int | None,
    lengths: LengthStyle,
) -> None:
    told = lengths.pair(laid.part.width, laid.part.height)
    names = [told] if number is None else [f"{number + 1}:  {told}", f"{number + 1}"]
    lying = transform.map(ring_polygon(laid.placement.corners)).boundingRect()
    for name in names:
        words = painter.fontMetrics().boundingRect(name)
        if (
            words.width() + GRID * 4 <= lying.width()
            and words.height() + GRID * 2 <= lying.height()
        ):
            middle = laid.placement.polygon.representative_point()
            paint_label(painter, transform.map(QPointF(middle.x, -middle.y)), name, centred=True)
            return
    # a part smaller than its label is told beside it, on the side that has room
    told, words = names[-1], painter.fontMetrics().boundingRect(names[-1])
    beside = QPointF(lying.right() + GRID * 2, lying.center().y())
    if beside.x() + words.width() + GRID * 4 > painter.viewport().width():
        beside.setX(lying.left() - words.width() - GRID * 4)
    paint_label(painter, beside, told)


def _paint_overhang(painter: QPainter, centre: QPointF, lie: Lie, lengths: LengthStyle) -> None:
    for width, lightness in ((5.0, 98.0), (2.5, 10.0)):
        painter.setPen(cosmetic(grey(lightness), width))
        painter.drawEllipse(centre, GRID * 3, GRID * 3)
    if lie.under is not None:
        words = f"{PLURAL[lie.under]} where it is seen"
    elif math.isfinite(lie.over):
        words = f"over by {lengths.show(max(lie.over, 0.1))} here"
    else:
        words = "no room here"
    paint_label(painter, centre + QPointF(GRID * 4, 0), words)


def paint_label(painter: QPainter, at: QPointF, words: str, *, centred: bool = False) -> None:
    """A short text on a dark plate, readable on any cloth."""
    metrics = painter.fontMetrics()
    box = QRectF(metrics.boundingRect(words)).adjusted(-6, -3, 6, 3)
    box.moveCenter(at) if centred else box.moveTopLeft(at - QPointF(0, box.height() / 2))
    painter.fillRect(box, grey(12))
    painter.setPen(grey(97))
    painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), words)
