"""The list of candidates, with its own meaning of Space and Enter."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QListView

from bindery_stock.desktop.match.delegate import CandidateDelegate
from bindery_stock.desktop.match.model import AnswerModel
from bindery_stock.desktop.previews import Previews


class AnswerList(QListView):
    """Candidates in rank order.

    Emits ``over_wanted()`` for Space and ``reserve_wanted()`` for Enter.
    """

    over_wanted = Signal()
    reserve_wanted = Signal()

    def __init__(self, model: AnswerModel, previews: Previews) -> None:
        """Show the rows of ``model``."""
        super().__init__()
        self.setModel(model)
        self.setItemDelegate(CandidateDelegate(previews, self))
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setAccessibleName("Pieces that serve, closest first, then near misses")
        self.setFrameShape(QFrame.Shape.NoFrame)
        # Other words may need another height.
        model.dataChanged.connect(lambda *_: self.scheduleDelayedItemsLayout())
        previews.ready.connect(self._picture_ready)

    def _picture_ready(self, _code: str) -> None:
        self.viewport().update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space lays the candidate over the target, Enter reserves it."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            super().keyPressEvent(event)
        elif event.key() == Qt.Key.Key_Space:
            self.over_wanted.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.reserve_wanted.emit()
        else:
            super().keyPressEvent(event)
