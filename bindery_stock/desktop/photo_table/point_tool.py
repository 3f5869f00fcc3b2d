"""Pointing at one spot of the photograph."""

from PySide6.QtCore import Qt, Signal

from bindery_stock.desktop.photo_canvas.tool import Tool
from bindery_stock.shape import Point


class PointTool(Tool):
    """Emits ``pointed(Point)`` when the photograph is clicked."""

    pointed = Signal(object)

    def press(self, at: Point, reach: float) -> None:  # noqa: ARG002 - a spot has no reach
        """Tell the spot."""
        self.pointed.emit(at)

    def key(self, key: Qt.Key, reach: float) -> bool:  # noqa: ARG002 - nothing to move
        """No key means anything here."""
        return False
