"""A candidate laid over the colour sought, as large as the window allows."""

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from bindery_stock.desktop.drawn_shapes import (
    bounds_rect,
    fitted,
    lab_colour,
    paint_scrap,
    surround,
)
from bindery_stock.desktop.look import GRID, SURROUND_L, TypeSize, grey, sized
from bindery_stock.desktop.match.model import CandidateRow
from bindery_stock.desktop.previews import Previews


class LayOver(QWidget):
    """The candidate's photograph on a ground of the colour sought, to see the step between them.

    Emits ``closed()`` when it is put away by Space, Escape or a click.
    """

    closed = Signal()

    def __init__(self, previews: Previews, parent: QWidget) -> None:
        """Lie hidden over ``parent``."""
        super().__init__(parent)
        self._previews = previews
        self._row: CandidateRow | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Candidate laid over the colour sought")
        sized(self, TypeSize.HEAD)
        previews.ready.connect(self._picture_ready)
        self.hide()

    def _picture_ready(self, _code: str) -> None:
        self.update()

    def show_row(self, row: CandidateRow) -> None:
        """Show a candidate."""
        self._row = row
        self.setAccessibleDescription(row.told)
        parent = self.parentWidget()
        if parent is not None:
            self.setGeometry(parent.rect())
        self.show()
        self.raise_()
        self.setFocus()

    def put_away(self) -> None:
        """Hide again."""
        self.hide()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space, Escape and Enter put it away."""
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Escape, Qt.Key.Key_Return):
            self.put_away()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, _event: QMouseEvent) -> None:
        """A click puts it away."""
        self.put_away()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Target as the ground, the piece upon it, the words in a strip below."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), surround())
        row = self._row
        if row is None or row.piece is None:
            return
        strip = GRID * 14
        ground = QRectF(self.rect()).adjusted(GRID * 8, GRID * 8, -GRID * 8, -strip - GRID * 4)
        if row.target is not None:
            painter.fillRect(ground, lab_colour(row.target))
        inset = ground.adjusted(
            ground.width() * 0.2, ground.height() * 0.12, -ground.width() * 0.2, 0
        )
        inset.setBottom(ground.bottom() - ground.height() * 0.12)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        transform = fitted(bounds_rect(row.piece.outline), inset)
        painter.setTransform(transform, True)
        paint_scrap(painter, row.piece, self._previews.image(row.piece, transform.m11()))
        painter.restore()
        painter.setPen(grey(98 if SURROUND_L <= 55 else 10))
        words = QRectF(self.rect()).adjusted(GRID * 8, self.height() - strip, -GRID * 8, 0)
        told = "   ".join(row.lines[:3]) + "   (Space puts it away; a screen is only a guide)"
        painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap), told)
