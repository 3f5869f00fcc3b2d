"""How large a window may open: whole on its screen, its frame and its foot included."""

from PySide6.QtCore import QMargins, QSize
from PySide6.QtWidgets import QStyle, QWidget


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
