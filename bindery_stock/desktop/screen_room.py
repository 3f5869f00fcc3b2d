"""How large a window may open: whole on its screen, its frame and its foot included."""

from PySide6.QtCore import QMargins, QSize
from PySide6.QtGui import QMoveEvent
from PySide6.QtWidgets import QMainWindow, QStyle, QWidget


def opening_size(wanted: QSize, least: QSize, room: QSize, frame: QMargins) -> QSize:
    """The size inside the frame, px: what is wanted, cut to the room, but never below the least."""
    inner = QSize(
        room.width() - frame.left() - frame.right(), room.height() - frame.top() - frame.bottom()
    )
    return wanted.boundedTo(inner).expandedTo(least)


def frame_of(window: QWidget) -> QMargins:
    """The frame the desktop has drawn round a window, or about what it will be until it has."""
    handle = window.windowHandle()
    drawn = handle.frameMargins() if handle is not None else QMargins()
    if not drawn.isNull():
        return drawn
    title = window.style().pixelMetric(QStyle.PixelMetric.PM_TitleBarHeight, None, window)
    edge = window.style().pixelMetric(QStyle.PixelMetric.PM_MdiSubWindowFrameWidth, None, window)
    return QMargins(edge, title + edge, edge, edge)


class OpensWhole(QMainWindow):
    """A window that opens whole on its screen, as soon as it is known how thick its frame is."""

    _opened_at = QSize()
    """The size the program chose; invalid once the user or the last visit chose it."""

    def open_whole(self, wanted: QSize) -> None:
        """Open at this size if it has room. How thick the frame is is known only once drawn."""
        room = self.screen().availableSize()
        self._opened_at = opening_size(wanted, self.minimumSize(), room, frame_of(self))
        self.resize(self._opened_at)

    def moveEvent(self, event: QMoveEvent) -> None:
        """The frame has been drawn: give it the room it takes, unless a size was chosen since."""
        super().moveEvent(event)
        if self.size() == self._opened_at:
            self.open_whole(self._opened_at)
