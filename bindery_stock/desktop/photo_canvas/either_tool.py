"""Several tools at once: the hand goes to the one whose point it takes hold of."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_canvas.tool import Tool
from bindery_stock.shape import Point


class EitherTool(Tool):
    """Draws with the first tool, but drags the points of the others where they are taken hold of.

    ``hand`` is the tool in use; the keys go to it.
    """

    def __init__(self, first: RingTool, *others: RingTool) -> None:
        """Begin with the first."""
        super().__init__()
        self.hint = first.hint
        self.hand = first
        self._first = first
        self._others = others

    def press(self, at: Point, reach: float) -> None:
        """Take hold of the nearest point of another tool, or draw with the first."""
        held = (tool for tool in self._others if tool.has_point(at, reach))
        self.hand = self._first if self._first.is_open else next(held, self._first)
        self.hand.press(at, reach)

    def drag(self, at: Point) -> None:
        """Go on with the tool in hand."""
        self.hand.drag(at)

    def hover(self, at: Point) -> None:
        """Go on with the tool in hand."""
        self.hand.hover(at)

    def release(self) -> None:
        """Let go of the tool in hand."""
        self.hand.release()

    def double_click(self, at: Point, reach: float) -> None:
        """As the tool in hand has it."""
        self.hand.double_click(at, reach)

    def key(self, key: Qt.Key, reach: float) -> bool:
        """As the tool in hand has it."""
        return self.hand.key(key, reach)

    @property
    def is_open(self) -> bool:
        """As the tool in hand has it."""
        return self.hand.is_open

    def take_back(self) -> None:
        """As the tool in hand has it."""
        self.hand.take_back()

    def begin(self, area: QRectF) -> None:
        """Begin a mark of the first tool."""
        self.hand = self._first
        self.hand.begin(area)

    def paint(self, painter: QPainter, px: float, *, active: bool) -> None:
        """All of them, their points to be taken hold of."""
        for tool in (*self._others, self._first):
            tool.paint(painter, px, active=active)
