"""A simple drawing of a book, on which a place is pressed: both boards beside the spine."""

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QMouseEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QSizePolicy, QWidget

from bindery_stock.desktop.look import GRID
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.glossary import shipped_glossary

_WIDE, _HIGH = 100.0, 76.0
"""The size of the drawing in its own units; the case above, what lies inside below."""


def _case() -> Iterable[tuple[BookPlace, QRectF]]:
    """The opened case from outside, head up: lower board at the left, upper at the right."""
    for side, left in (("lower", 2.0), ("upper", 58.0)):
        fore = left if side == "lower" else left + 37.0
        yield BookPlace(f"{side}-board"), QRectF(left, 2, 40, 44)
        yield BookPlace(f"{side}-head-edge"), QRectF(left, 2, 40, 3)
        yield BookPlace(f"{side}-tail-edge"), QRectF(left, 43, 40, 3)
        yield BookPlace(f"{side}-fore-edge"), QRectF(fore, 2, 3, 44)
        corner = left if side == "lower" else left + 33.0
        yield BookPlace(f"{side}-head-corner"), QRectF(corner, 2, 7, 7)
        yield BookPlace(f"{side}-tail-corner"), QRectF(corner, 39, 7, 7)
    yield BookPlace.LOWER_JOINT, QRectF(42, 2, 3, 44)
    yield BookPlace.UPPER_JOINT, QRectF(55, 2, 3, 44)
    yield BookPlace.SPINE, QRectF(45, 2, 10, 44)
    yield BookPlace.SPINE_HEAD, QRectF(45, 2, 10, 8)
    yield BookPlace.SPINE_TAIL, QRectF(45, 38, 10, 8)


_INSIDE = (
    (BookPlace.LOWER_ENDPAPERS, "lower endpapers", 2.0, 50.0, 21.0),
    (BookPlace.LOWER_HINGE, "lower hinge", 25.0, 50.0, 15.0),
    (BookPlace.BLOCK_SPINE, "back of block", 42.0, 50.0, 16.0),
    (BookPlace.UPPER_HINGE, "upper hinge", 60.0, 50.0, 15.0),
    (BookPlace.UPPER_ENDPAPERS, "upper endpapers", 77.0, 50.0, 21.0),
    (BookPlace.HEADBAND_HEAD, "headband, head", 2.0, 61.0, 21.0),
    (BookPlace.HEADBAND_TAIL, "headband, tail", 25.0, 61.0, 21.0),
    (BookPlace.LEAVES, "leaves", 48.0, 61.0, 24.0),
    (BookPlace.CASE, "whole case", 74.0, 61.0, 24.0),
)
SHAPES: dict[BookPlace, QRectF] = {
    **dict(_case()),
    **{place: QRectF(x, y, wide, 9) for place, _words, x, y, wide in _INSIDE},
}
"""Where each place lies on the drawing; of those that overlap the later is pressed."""


class BookDrawing(QWidget):
    """The places of a book. Emits ``pressed(object)`` with the ``BookPlace``."""

    pressed = Signal(object)

    def __init__(self) -> None:
        """Begin with no damage."""
        super().__init__()
        self._harmed: frozenset[BookPlace] = frozenset()
        self._at: BookPlace | None = None
        self.setAccessibleName("Drawing of the book")
        self.setMinimumSize(QSize(GRID * 88, GRID * 68))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_places(self, harmed: Iterable[BookPlace], at: BookPlace | None) -> None:
        """Mark the places that are damaged, and frame the one in hand."""
        self._harmed, self._at = frozenset(harmed), at
        self.update()

    @property
    def _scale(self) -> float:
        return min(self.width() / _WIDE, self.height() / _HIGH)

    def _drawn(self, shape: QRectF) -> QRectF:
        s = self._scale
        return QRectF(shape.x() * s, shape.y() * s, shape.width() * s, shape.height() * s)

    def middle_of(self, place: BookPlace) -> QPointF:
        """A point of the widget at which that place is pressed."""
        return self._drawn(SHAPES[place]).center()

    def place_at(self, point: QPointF) -> BookPlace | None:
        """The place at a point of the widget, the smallest where several overlap."""
        there = [place for place, shape in SHAPES.items() if self._drawn(shape).contains(point)]
        return there[-1] if there else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Tell which place was pressed."""
        place = self.place_at(event.position())
        if place is not None:
            self.pressed.emit(place)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Outlines in the text's own grey; damage hatched, the place in hand framed."""
        painter = QPainter(self)
        palette = self.palette()
        text = palette.color(QPalette.ColorRole.Text)
        for place, shape in SHAPES.items():
            box = self._drawn(shape)
            painter.fillRect(box, palette.color(QPalette.ColorRole.Base))
            if place in self._harmed:
                painter.fillRect(box, QBrush(text, Qt.BrushStyle.BDiagPattern))
            pen = painter.pen()
            pen.setColor(text)
            pen.setWidthF(3.0 if place is self._at else 1.0)
            painter.setPen(pen)
            painter.drawRect(box)
        for place, words, *_box in _INSIDE:
            flag = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(self._drawn(SHAPES[place]), flag, words)
        painter.end()


def place_words(place: BookPlace) -> str:
    """The place by its British word."""
    return shipped_glossary()[place].british.capitalize()
