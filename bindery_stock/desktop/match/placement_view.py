"""A piece at large with a part lying in it; the part can be moved by hand."""

import math

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from bindery_stock import shape
from bindery_stock.desktop.drawing import (
    bounds_rect,
    cosmetic,
    outline_path,
    paint_flaws,
    paint_part,
    paint_scrap,
    paint_warp_arrow,
    surround,
)
from bindery_stock.desktop.look import GRID, grey
from bindery_stock.desktop.match.delegate import fitted
from bindery_stock.desktop.previews import Previews
from bindery_stock.shape import Outline, Placement, Point
from bindery_stock.shape.overhang import Lie, lie
from bindery_stock.stock import Piece
from bindery_stock.units import LengthStyle

_STEP_MM = {Qt.KeyboardModifier.NoModifier: 1.0, Qt.KeyboardModifier.ShiftModifier: 10.0}
_SNAP_PX = 10.0
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class PlacementView(QWidget):
    """Shows the part in the piece. Emits ``moved(Placement, Lie)`` when the part is moved.

    Drag it, or use the arrow keys (1 mm; with Shift 10 mm); near the place that was worked out it
    snaps back to it. What is left is drawn lighter, with the size of each offcut.
    """

    moved = Signal(object, object)

    def __init__(
        self,
        piece: Piece,
        placement: Placement,
        margin: float,
        lengths: LengthStyle,
        previews: Previews,
    ) -> None:
        """Show ``placement`` in ``piece`` to begin with."""
        super().__init__()
        self.piece, self.margin = piece, margin
        self.placement = placement
        self._worked_out = placement
        self._lengths, self._previews = lengths, previews
        self._grip: tuple[QPointF, Placement] | None = None
        self.lie = self._how_it_lies()
        self.remains: list[Outline] = []
        self._take_stock()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(f"The part lying in {piece.code}")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(GRID * 90, GRID * 80)
        self.setCursor(Qt.CursorShape.OpenHandCursor)
        previews.ready.connect(self._picture_ready)

    def _picture_ready(self, _code: str) -> None:
        self.update()

    def _how_it_lies(self) -> Lie:
        return lie(self.piece.outline, self.placement, margin=self.margin, flaws=self.piece.flaws)

    def _take_stock(self) -> None:
        self.remains = shape.cut(self.piece.outline, self.placement) if self.lie.fits else []

    def move_by(self, dx: float, dy: float, start: Placement | None = None) -> None:
        """Move the part by so many mm from ``start``, snapping near the place worked out."""
        begin = start or self.placement
        corners = tuple((x + dx, y + dy) for x, y in begin.corners)
        moved = Placement(
            (corners[0], corners[1], corners[2], corners[3]),
            begin.turn,
            begin.tight,
            begin.width,
            begin.height,
        )
        (x, y), (home_x, home_y) = moved.corners[0], self._worked_out.corners[0]
        if start is not None and math.hypot(x - home_x, y - home_y) < _SNAP_PX / self._scale():
            moved = self._worked_out
        self.placement = moved
        self.lie = self._how_it_lies()
        self._take_stock()
        self.setAccessibleDescription(self.said())
        self.moved.emit(self.placement, self.lie)
        self.update()

    def said(self) -> str:
        """``Fits.`` or ``Over by 3 mm.``"""
        if self.lie.fits:
            return "Fits; a tight fit, no play." if self.placement.tight else "Fits."
        if not math.isfinite(self.lie.over):
            return "Does not fit anywhere with this margin."
        return f"Does not fit here: over by {self._lengths.show(max(self.lie.over, 0.1))}."

    def _transform(self) -> QTransform:
        area = QRectF(self.rect()).adjusted(GRID * 6, GRID * 6, -GRID * 6, -GRID * 6)
        return fitted(bounds_rect(self.piece.outline), area)

    def _scale(self) -> float:
        return self._transform().m11()

    def to_widget(self, point: Point) -> QPointF:
        """Where a point of the piece (mm) is drawn."""
        return self._transform().map(QPointF(point[0], -point[1]))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the part."""
        if event.button() is Qt.MouseButton.LeftButton:
            self._grip = (event.position(), self.placement)
            self.setCursor(Qt.CursorShape.ClosedHandCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the part along."""
        if self._grip is not None:
            start, placement = self._grip
            by = (event.position() - start) / self._scale()
            self.move_by(by.x(), -by.y(), placement)

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go."""
        self._grip = None
        self.setCursor(Qt.CursorShape.OpenHandCursor)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrow keys move the part by 1 mm, with Shift by 10 mm; Home takes it back."""
        key = Qt.Key(event.key())
        if key in _ARROWS:
            step = _STEP_MM.get(event.modifiers() & Qt.KeyboardModifier.ShiftModifier, 1.0)
            dx, dy = _ARROWS[key]
            self.move_by(dx * step, dy * step)
        elif key is Qt.Key.Key_Home:
            self.placement = self._worked_out
            self.move_by(0, 0)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The piece, its flaws, the offcuts with their sizes, the part, the warp."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), surround())
        transform = self._transform()
        painter.save()
        painter.setTransform(transform, True)
        image = self._previews.image(self.piece, transform.m11() * self.devicePixelRatioF())
        paint_scrap(painter, self.piece, image)
        paint_flaws(painter, self.piece.flaws)
        for remain in self.remains:
            painter.setPen(cosmetic(grey(98), 1.5, Qt.PenStyle.DotLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPath(outline_path(remain))
        paint_part(painter, self.placement.corners)
        painter.restore()
        self._paint_sizes(painter)
        if self.lie.at is not None:
            self._paint_overhang(painter, self.lie.at)
        foot = QPointF(self.width() - GRID * 5, self.height() - GRID * 5)
        paint_warp_arrow(painter, foot, GRID * 12)
        self._label(painter, foot - QPointF(GRID * 11, GRID * 4), "warp")

    def _paint_sizes(self, painter: QPainter) -> None:
        middle = self.placement.polygon.centroid
        told = self._lengths.pair(self.placement.width, self.placement.height)
        self._label(painter, self.to_widget((middle.x, middle.y)), told, centred=True)

    def _paint_overhang(self, painter: QPainter, at: Point) -> None:
        centre = self.to_widget(at)
        for width, lightness in ((5.0, 98.0), (2.5, 10.0)):
            painter.setPen(cosmetic(grey(lightness), width))
            painter.drawEllipse(centre, GRID * 3, GRID * 3)
        over = self._lengths.show(max(self.lie.over, 0.1)) if math.isfinite(self.lie.over) else ""
        self._label(painter, centre + QPointF(GRID * 4, 0), f"over by {over} here")

    def _label(self, painter: QPainter, at: QPointF, words: str, *, centred: bool = False) -> None:
        metrics = painter.fontMetrics()
        box = QRectF(metrics.boundingRect(words)).adjusted(-6, -3, 6, 3)
        box.moveCenter(at) if centred else box.moveTopLeft(at - QPointF(0, box.height() / 2))
        painter.fillRect(box, grey(12))
        painter.setPen(grey(97))
        painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), words)
