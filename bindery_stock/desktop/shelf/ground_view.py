"""A millimetre ground that is zoomed and moved with the wheel, the keys and the hand."""

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QAbstractScrollArea, QFrame

_GREATEST = 16.0
"""Pixels per millimetre: the weave fills the view."""
_STEP = 1.25
_DRAG_PX = 5
_NOTCH = 120.0
_LINE_PX = 40


class GroundView(QAbstractScrollArea):
    """Knows its extent in mm, its zoom and what part of it is in view.

    Emits ``zoomed()`` when the zoom has changed, and ``pressed(QPointF, modifiers)`` when a point
    of the viewport was pressed and let go without dragging.
    """

    zoomed = Signal()
    pressed = Signal(QPointF, object)

    def __init__(self) -> None:
        """Begin with nothing, all of it in view."""
        super().__init__()
        self._extent = (0.0, 0.0)
        self._whole_scale = 1.0
        self._scale = 1.0
        self._foot = 0
        self._whole = True
        self._held: QPointF | None = None
        self._dragging = False
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.viewport().setMouseTracking(True)

    @property
    def scale(self) -> float:
        """Pixels per millimetre."""
        return self._scale

    @property
    def is_whole(self) -> bool:
        """Whether the whole is kept in view."""
        return self._whole

    def origin(self) -> QPointF:
        """Where 0, 0 mm lies in the viewport; what is smaller than the view stands in its middle.

        Whole pixels, so that what was painted once is copied as it is.
        """
        view = self.viewport().size()
        spare_x = max(0.0, (view.width() - self._extent[0] * self._scale) / 2)
        height = view.height() - self._foot
        spare_y = max(0.0, (height - self._extent[1] * self._scale) / 2)
        x, y = self.horizontalScrollBar().value(), self.verticalScrollBar().value()
        return QPointF(round(spare_x) - x, round(spare_y) - y)

    def anchor(self) -> QPointF:
        """The point of the viewport that stays where it is when the keys zoom."""
        return QRectF(self.viewport().rect()).center()

    def set_extent(self, width: float, height: float, whole_scale: float, *, foot: int) -> None:
        """The ground is this large in mm, and seen whole at ``whole_scale`` px/mm.

        ``foot`` is how many pixels at the foot of the view are kept free of it.
        """
        self._foot = foot
        self._extent = (width, height)
        self._whole_scale = whole_scale
        if self._whole:
            self._scale = whole_scale
        self.set_bars()
        self.viewport().update()

    def set_bars(self) -> None:
        """Let the scroll bars span the ground at the present zoom."""
        view = self.viewport().size()
        for bar, extent, page in (
            (self.horizontalScrollBar(), self._extent[0] * self._scale, view.width()),
            (self.verticalScrollBar(), self._extent[1] * self._scale + self._foot, view.height()),
        ):
            bar.setRange(0, 0 if self._whole else max(0, round(extent) - page))
            bar.setPageStep(page)
            bar.setSingleStep(_LINE_PX)

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Zoom about a point of the viewport, by default ``anchor``."""
        fixed = about if about is not None else self.anchor()
        at = (fixed - self.origin()) / self._scale
        least = min(self._whole_scale, 1.0)
        self._scale = min(max(self._scale * factor, least), _GREATEST)
        self._whole = self._scale <= least and least == self._whole_scale
        self.set_bars()
        moved = self.origin() + at * self._scale - fixed
        self.move_by(-moved)
        self.viewport().update()
        self.zoomed.emit()

    def zoom_in(self) -> None:
        """One step nearer."""
        self.zoom(_STEP)

    def zoom_out(self) -> None:
        """One step back."""
        self.zoom(1 / _STEP)

    def show_whole(self) -> None:
        """The whole ground as large as it can be."""
        self._whole = True
        self._scale = self._whole_scale
        self.set_bars()
        self.viewport().update()
        self.zoomed.emit()

    def move_by(self, shift: QPointF) -> None:
        """Move the ground under the view by so many pixels."""
        for bar, by in (
            (self.horizontalScrollBar(), shift.x()),
            (self.verticalScrollBar(), shift.y()),
        ):
            bar.setValue(bar.value() - round(by))

    def bring_into_view(self, box: QRectF) -> None:
        """Move as little as shows a box of the viewport."""
        view = self.viewport().rect()
        for bar, low, high, end in (
            (self.horizontalScrollBar(), box.left(), box.right(), view.width()),
            (self.verticalScrollBar(), box.top(), box.bottom(), view.height()),
        ):
            if low < 0 or high - low > end:
                bar.setValue(bar.value() + round(low))
            elif high > end:
                bar.setValue(bar.value() + round(high - end))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer; with Shift held, or two fingers on a pad, move."""
        fingers = event.pixelDelta()
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.move_by(QPointF(0, event.angleDelta().y() or event.angleDelta().x()))
        elif not fingers.isNull() and event.phase() is not Qt.ScrollPhase.NoScrollPhase:
            self.move_by(QPointF(fingers))
        else:
            self.zoom(_STEP ** (event.angleDelta().y() / _NOTCH), event.position())
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold: what follows is a press or a drag."""
        self._held = event.position()
        self._dragging = event.button() is Qt.MouseButton.MiddleButton

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the ground with the hand."""
        if self._held is None or not event.buttons():
            return
        moved = event.position() - self._held
        if self._dragging or moved.manhattanLength() > _DRAG_PX:
            self._dragging = True
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
            self._held = event.position()
            self.move_by(moved)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tell of a press that was no drag."""
        dragged, self._dragging, self._held = self._dragging, False, None
        self.viewport().unsetCursor()
        if not dragged and event.button() is Qt.MouseButton.LeftButton:
            self.pressed.emit(event.position(), event.modifiers())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Plus and minus zoom, nought shows the whole."""
        key = Qt.Key(event.key())
        if key in {Qt.Key.Key_Plus, Qt.Key.Key_Equal}:
            self.zoom_in()
        elif key is Qt.Key.Key_Minus:
            self.zoom_out()
        elif key is Qt.Key.Key_0:
            self.show_whole()
        else:
            event.ignore()
