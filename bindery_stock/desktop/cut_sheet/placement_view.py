"""A piece at large with the parts lying in it; each can be moved and turned by hand."""

from collections.abc import Callable

import shapely
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from bindery_stock.bench.match.cut_plan import CutPlan
from bindery_stock.bench.match.cut_words import plan_words
from bindery_stock.bench.match.placed_part import may_turn
from bindery_stock.desktop.cut_sheet.plan_painter import paint_plan
from bindery_stock.desktop.drawn_shapes import bounds_rect, fitted
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.previews import Previews
from bindery_stock.errors import ShapeError
from bindery_stock.matching import Lying
from bindery_stock.shape import Lie, Placement, Point
from bindery_stock.stock import StockPiece
from bindery_stock.units import LengthStyle

_STEP_MM = {Qt.KeyboardModifier.NoModifier: 1.0, Qt.KeyboardModifier.ShiftModifier: 10.0}
_SNAP_PX = 10.0
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}
_SMALL_TURN = 1.0
"""Degrees by which a part that may turn freely is turned at a key."""


class PlacementView(QWidget):
    """Shows the parts in the piece. Emits ``changed()`` when one is moved, turned or chosen.

    Drag a part, or move the one in hand with the arrow keys (1 mm; with Shift 10 mm); a dragged
    part snaps to the nearest place where it fits. R turns it as far as it may, comma and full stop
    by a degree where it may turn freely, Page Up and Page Down take another in hand. What is left
    is shaded and numbered. Emits ``refused(str)`` for a turn that is not allowed.
    """

    changed = Signal()
    refused = Signal(str)

    def __init__(self, plan: CutPlan, lengths: LengthStyle, previews: Previews) -> None:
        """Show ``plan`` to begin with, its first part in hand."""
        super().__init__()
        self.plan = plan
        self.active = 0
        self._home = plan
        self._trims: tuple[Placement | None, ...] = ()
        self._lengths, self._previews = lengths, previews
        self._grip: tuple[QPointF, Point] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(f"The parts lying in {plan.piece.code}")
        self.setAccessibleDescription(self.said())
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(GRID * 90, GRID * 80)
        self.setCursor(Qt.CursorShape.OpenHandCursor)
        previews.ready.connect(self._picture_ready)

    def _picture_ready(self, _code: str) -> None:
        self.update()

    @property
    def piece(self) -> StockPiece:
        """The piece shown."""
        return self.plan.piece

    @property
    def placement(self) -> Lying:
        """Where the part in hand lies."""
        return self.plan.laid[self.active].placement

    @property
    def lie(self) -> Lie:
        """How the part in hand lies."""
        return self.plan.lies[self.active]

    def said(self) -> str:
        """``Fits.`` or ``Does not fit here: over by 3 mm.``"""
        return plan_words(self.plan, self.active, self._lengths)

    def show_plan(self, plan: CutPlan, active: int | None = None) -> None:
        """Show another plan for the same piece, with this part in hand."""
        self.plan = plan
        wanted = self.active if active is None else active
        self.active = min(max(wanted, 0), len(plan.laid) - 1)
        self.setAccessibleDescription(self.said())
        self.update()
        self.changed.emit()

    def show_trims(self, trims: tuple[Placement | None, ...]) -> None:
        """Show where each remain would be trimmed square; nothing until that is known."""
        self._trims = trims
        self.update()

    def move_by(self, dx: float, dy: float, start: Point | None = None, snap: float = 0.0) -> None:
        """Move the part in hand by so many mm from ``start``, its own first corner."""
        x, y = start or self.placement.corners[0]
        self.show_plan(self.plan.moved(self.active, (x + dx, y + dy), snap=snap))

    def turn_by(self, degrees: float) -> None:
        """Turn the part in hand about its middle."""
        self._try(lambda: self.plan.turned(self.active, degrees))

    def next_turn(self) -> float | None:
        """The quarter turns counter-clockwise to the next way the part in hand may lie."""
        part, turn = self.plan.laid[self.active].part, self.placement.turn
        ways = (q for q in (90.0, 180.0, 270.0) if may_turn(part, self.piece.pattern, turn + q))
        return next(ways, None)

    def turn_on(self) -> None:
        """Turn the part in hand to the next way it may lie."""
        by = self.next_turn()
        if by is None:
            self.refused.emit("The part may lie no other way. Allow it in “Lies” at the part.")
        else:
            self.turn_by(by)

    def _try(self, change: Callable[[], CutPlan]) -> None:
        try:
            plan = change()
        except ShapeError as error:
            self.refused.emit(str(error))
            return
        self.show_plan(plan)

    # Where things are drawn

    def transform(self) -> QTransform:
        """From scene millimetres to the widget."""
        area = QRectF(self.rect()).adjusted(GRID * 6, GRID * 6, -GRID * 6, -GRID * 6)
        return fitted(bounds_rect(self.piece.outline), area)

    def to_widget(self, point: Point) -> QPointF:
        """Where a point of the piece (mm) is drawn."""
        return self.transform().map(QPointF(point[0], -point[1]))

    def _to_piece(self, spot: QPointF) -> Point:
        scene = self.transform().inverted()[0].map(spot)
        return scene.x(), -scene.y()

    def _under(self, spot: QPointF) -> int | None:
        """The part under the pointer; the one in hand first."""
        point = shapely.Point(self._to_piece(spot))
        order = [self.active, *range(len(self.plan.laid))]
        hit = (n for n in order if self.plan.laid[n].placement.polygon.covers(point))
        return next(hit, None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the part under the pointer."""
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        under = self._under(event.position())
        if under is not None:
            if under != self.active:
                self.show_plan(self.plan, under)
            self._grip = (event.position(), self.placement.corners[0])
            self.setCursor(Qt.CursorShape.ClosedHandCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the part along; near a place where it fits it snaps there."""
        if self._grip is not None:
            start, corner = self._grip
            scale = self.transform().m11()
            by = (event.position() - start) / scale
            self.move_by(by.x(), -by.y(), corner, _SNAP_PX / scale)

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go."""
        self._grip = None
        self.setCursor(Qt.CursorShape.OpenHandCursor)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move, turn, choose; Home lays everything back as it lay at first."""
        key = Qt.Key(event.key())
        if key in _ARROWS:
            step = _STEP_MM.get(event.modifiers() & Qt.KeyboardModifier.ShiftModifier, 1.0)
            dx, dy = _ARROWS[key]
            self.move_by(dx * step, dy * step)
        elif key in _KEYS:
            _KEYS[key](self)
        else:
            super().keyPressEvent(event)

    def lay_back(self) -> None:
        """Everything as it lay at first."""
        self.show_plan(self._home)

    def take_in_hand(self, step: int) -> None:
        """The next part, or the one before."""
        self.show_plan(self.plan, (self.active + step) % len(self.plan.laid))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The piece, its flaws, what is left, the parts, the warp."""
        painter = QPainter(self)
        scale = self.transform().m11() * self.devicePixelRatioF()
        image = self._previews.image(self.piece, scale)
        paint_plan(
            painter,
            QRectF(self.rect()),
            self.transform(),
            self.plan,
            self.active,
            image,
            self._lengths,
            self._trims,
        )


_KEYS: dict[Qt.Key, Callable[[PlacementView], None]] = {
    Qt.Key.Key_Home: PlacementView.lay_back,
    Qt.Key.Key_R: PlacementView.turn_on,
    Qt.Key.Key_Comma: lambda view: view.turn_by(_SMALL_TURN),
    Qt.Key.Key_Period: lambda view: view.turn_by(-_SMALL_TURN),
    Qt.Key.Key_PageDown: lambda view: view.take_in_hand(1),
    Qt.Key.Key_PageUp: lambda view: view.take_in_hand(-1),
}
