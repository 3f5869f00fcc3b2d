"""The target found in the photograph in the colour room: shown, kept or left out."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bindery_stock.bench.colour_room.found_reference import FoundReference
from bindery_stock.desktop.colours.found_strip import FoundStrip
from bindery_stock.desktop.colours.reference_search import ReferenceSearch
from bindery_stock.desktop.photo_canvas.canvas import PhotoCanvas
from bindery_stock.desktop.photo_canvas.target_tool import TargetTool
from bindery_stock.desktop.session import Session


class TargetStrip(QWidget):
    """Emits ``judged(TargetFit)`` for a target that stands, ``placed()`` where one was set or taken
    away by an answer.
    """

    judged = Signal(object)
    placed = Signal()

    def __init__(self, session: Session, canvas: PhotoCanvas, tool: TargetTool) -> None:
        """Stand under this canvas."""
        super().__init__()
        self._canvas, self._tool = canvas, tool
        self.open: FoundReference | None = None
        """What is not answered yet."""
        self.search = ReferenceSearch(session, card=False, parent=self)
        self.strip = FoundStrip()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.strip)
        self.search.found.connect(self._arrived)
        self.strip.kept.connect(self.keep)
        self.strip.left_out.connect(self.leave_out)
        canvas.passed_on.connect(self.keep)

    def keep(self) -> None:
        """It is the target: read it, where that was not done."""
        found = self.open
        self.show_found(None)
        self._canvas.setFocus()
        if found is not None and not found.stands:
            self._tool.show_rings((found.corners,))
            self.placed.emit()

    def leave_out(self) -> None:
        """It is none: the target is to be marked by hand."""
        self.show_found(None)
        self._canvas.setFocus()
        self._tool.show_rings(())
        self.placed.emit()

    def show_found(self, found: FoundReference | None) -> None:
        """Show what was found; None where there is nothing to answer."""
        self.open = found
        self._tool.asked = (found.corners,) if found is not None and not found.stands else ()
        self.strip.show_found(found)
        self._canvas.update()

    def _arrived(self, found: FoundReference | None) -> None:
        """Show it, unless the hand has begun to mark one."""
        if found is None or self._tool.corners or self._canvas.is_marking:
            return
        self.show_found(found)
        if found.fit is not None and found.stands:
            self._tool.show_rings((found.corners,))
            self.judged.emit(found.fit)
