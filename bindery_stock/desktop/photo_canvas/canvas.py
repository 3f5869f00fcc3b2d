"""The photograph on the table: zoomed, moved about, and marked with the tool of the step."""

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from bindery_stock.desktop.drawn_shapes import surround
from bindery_stock.desktop.look import grey
from bindery_stock.desktop.photo_canvas.tool import Tool
from bindery_stock.desktop.photo_canvas.zoom import Zoom
from bindery_stock.desktop.screen import MarkTurns
from bindery_stock.shape import Point

_REACH = 8.0
"""How near a mark the pointer must come, in screen pixels."""
ZOOM_STEP = 1.25


class PhotoCanvas(QWidget):
    """Shows one photograph and hands the pointer and the keys to the active tool.

    Wheel zooms about the pointer, middle button or Space and drag move the photograph about.
    Emits ``passed_on()`` for Enter, ``step_wanted(int)`` for a number key, ``undo_wanted()`` and
    ``redo_wanted()`` for the standard keys while it has the focus, ``zoomed(float)`` with screen
    pixels to a pixel of the photograph, also when it was only moved about.
    """

    passed_on = Signal()
    step_wanted = Signal(int)
    undo_wanted = Signal()
    redo_wanted = Signal()
    taken_back = Signal()
    """A corner of a mark half drawn was taken back."""
    zoomed = Signal(float)

    def __init__(self) -> None:
        """Begin with no photograph."""
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName("The photograph")
        self.setMinimumSize(QSize(320, 240))
        self.keeps_undo = False
        """Whether the undo keys are meant for the marks."""
        self._draft = QImage()
        self._full = QImage()
        self._size = (0, 0)
        self._tools: list[Tool] = []
        self._active: Tool | None = None
        self._zoom = Zoom()
        self._panning: QPointF | None = None
        self._drawing = False
        self._space = False

    # What is shown

    def show_photo(self, draft: QImage, full: QImage, size: tuple[int, int]) -> None:
        """Put a photograph on the table; ``size`` is that of the whole upright photograph.

        All of it is seen, unless the view was zoomed.
        """
        self._draft, self._full, self._size = draft, full, size
        if self._zoom.fitted:
            self.fit()
        self.update()

    def use_tools(self, tools: list[Tool], active: Tool | None) -> None:
        """Show the marks of these tools; the active one takes the pointer."""
        for tool in self._tools:
            tool.moved.disconnect(self.update)
        self._tools = tools
        for tool in tools:
            tool.moved.connect(self.update)
        self._active = active
        pointer = Qt.CursorShape.CrossCursor if active else Qt.CursorShape.ArrowCursor
        self.setCursor(pointer)
        self.update()

    @property
    def zoom(self) -> float:
        """Screen pixels to a pixel of the photograph."""
        return self._zoom.scale

    def fit(self) -> None:
        """Show the whole photograph."""
        if self._zoom.fit(self._size, self.size()):
            self.zoomed.emit(self._zoom.scale)
        self.update()

    def zoom_by(self, factor: float, about: QPointF | None = None) -> None:
        """Zoom about a point of the widget, by default its middle."""
        if self._size[0]:
            self._zoom.by(factor, about, self._size, self.size())
            self.zoomed.emit(self._zoom.scale)
            self.update()

    def to_photo(self, spot: QPointF) -> Point:
        """The pixel of the photograph under a spot of the widget, kept inside the photograph."""
        return self._zoom.to_photo(spot, self._size)

    def to_widget(self, point: Point) -> QPointF:
        """Where a pixel of the photograph is shown."""
        return self._zoom.to_widget(point)

    @property
    def _reach(self) -> float:
        return _REACH / self._zoom.scale

    # Painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The neutral ground, the photograph, the marks, the active ones last."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), surround())
        if self._draft.isNull():
            painter.setPen(grey(98))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, "Reading the photograph…")
            return
        painter.setTransform(self._zoom.transform())
        sharp = not self._full.isNull() and self._zoom.scale * self._size[0] > self._draft.width()
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, self._zoom.scale < 2.0)
        whole = QRectF(0, 0, *self._size)
        painter.drawImage(whole, self._full if sharp else self._draft)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for tool in self._tools:
            if tool is not self._active:
                tool.paint(painter, 1 / self._zoom.scale, active=False)
        if self._active is not None:
            self._active.paint(painter, 1 / self._zoom.scale, active=True)
        if self.hasFocus():
            painter.resetTransform()
            painter.setPen(QColor(grey(98)))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -1.5, -1.5))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole photograph in view while it was."""
        if self._zoom.fitted:
            self.fit()
        super().resizeEvent(event)

    # The pointer

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer."""
        turns = event.angleDelta().y() / 120
        self.zoom_by(ZOOM_STEP**turns, event.position())
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a stroke of the tool, or take hold of the photograph."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        middle = event.button() == Qt.MouseButton.MiddleButton
        left = event.button() == Qt.MouseButton.LeftButton
        if middle or (left and self._space):
            self._panning = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif left and self._active is not None and self._size[0]:
            self._drawing = True
            self._active.press(self.to_photo(event.position()), self._reach)
            self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go on with the stroke, or move the photograph about."""
        if self._panning is not None:
            self._zoom.offset += event.position() - self._panning
            self._panning = event.position()
            self._zoom.fitted = False
            self.zoomed.emit(self._zoom.scale)
            self.update()
        elif self._active is not None and self._size[0]:
            at = self.to_photo(event.position())
            if self._drawing:
                self._active.drag(at)
            else:
                self._active.hover(at)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End the stroke."""
        if self._panning is not None:
            self._panning = None
            self.setCursor(Qt.CursorShape.CrossCursor)
        elif self._drawing and self._active is not None:
            self._drawing = False
            self._active.release()
            self.update()
        event.accept()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Close a ring, or put a point into a side."""
        if self._active is not None and event.button() == Qt.MouseButton.LeftButton:
            self._active.double_click(self.to_photo(event.position()), self._reach)
            self.update()

    # The keys

    @property
    def is_marking(self) -> bool:
        """Whether a mark is half drawn, or the button is down."""
        return self._drawing or (self._active is not None and self._active.is_open)

    def take_back(self) -> None:
        """Take back the last point of the mark that is half drawn."""
        if self._active is not None and not self._drawing:
            self._active.take_back()
            self.taken_back.emit()
            self.update()

    def marks(self) -> MarkTurns | None:
        """What Undo and Redo are about while a mark is half drawn."""
        if not self.is_marking:
            return None
        return MarkTurns(undo="" if self._drawing else "the last corner", take_back=self.take_back)

    def event(self, event: QEvent) -> bool:
        """Claim the undo keys before the menu does, while there are marks to take back."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            undoing = event.matches(QKeySequence.StandardKey.Undo)
            redoing = event.matches(QKeySequence.StandardKey.Redo)
            if (self.keeps_undo or self.is_marking) and (undoing or redoing):
                event.accept()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The tool's keys first, then those of the table."""
        undoing = event.matches(QKeySequence.StandardKey.Undo)
        redoing = event.matches(QKeySequence.StandardKey.Redo)
        if self.is_marking and (undoing or redoing):
            if undoing:
                self.take_back()
        elif undoing and self.keeps_undo:
            self.undo_wanted.emit()
        elif redoing and self.keeps_undo:
            self.redo_wanted.emit()
        elif event.modifiers() & ~(
            Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier
        ) or (not self._tool_key(event) and not self._table_key(event)):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let go of the photograph."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self.setCursor(Qt.CursorShape.CrossCursor)
        super().keyReleaseEvent(event)

    def _tool_key(self, event: QKeyEvent) -> bool:
        if self._active is None or not self._size[0]:
            return False
        shift = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        used = self._active.key(Qt.Key(event.key()), self._reach * (10 if shift else 1))
        if not used and event.key() == Qt.Key.Key_Insert:
            self._active.begin(self._seen())
            used = True
        self.update()
        return used

    def _table_key(self, event: QKeyEvent) -> bool:
        key = event.key()
        if key == Qt.Key.Key_Space:
            if not event.isAutoRepeat():
                self._space = True
                self.setCursor(Qt.CursorShape.OpenHandCursor)
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom_by(ZOOM_STEP)
        elif key == Qt.Key.Key_Minus:
            self.zoom_by(1 / ZOOM_STEP)
        elif key in (Qt.Key.Key_0, Qt.Key.Key_F):
            self.fit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.passed_on.emit()
        elif Qt.Key.Key_1 <= key <= Qt.Key.Key_9:
            self.step_wanted.emit(key - Qt.Key.Key_1)
        else:
            return False
        return True

    def _seen(self) -> QRectF:
        """The part of the photograph that is seen."""
        low = self.to_photo(QPointF(0, 0))
        high = self.to_photo(QPointF(self.width(), self.height()))
        return QRectF(QPointF(*low), QPointF(*high))
