"""The photograph of a line-up with a tag at every outline, and the tool to draw one by hand."""

from functools import partial

from PySide6.QtCore import QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bindery_stock.bench.match.line_up_photo import LineUpPhoto
from bindery_stock.bench.match.line_up_reading import LineUpAnswer
from bindery_stock.bench.match.line_up_words import tag_lines, told_words
from bindery_stock.desktop.line_up.outline_marks import OutlineMarks
from bindery_stock.desktop.line_up.scrap_tag import ScrapTag
from bindery_stock.desktop.line_up.tag_places import tag_places
from bindery_stock.desktop.photo_canvas.canvas import PhotoCanvas
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_canvas.tool import polygon

DRAW = (
    "Click round one scrap corner by corner, or drag a rectangle over it, then press Enter. "
    "Esc leaves it."
)


class TaggedPhoto(QWidget):
    """Emits ``chosen(int)`` for the outline that comes into the hand and ``typed(str)`` with what
    is typed over its tag; an empty text asks for the choice.
    """

    chosen = Signal(int)
    typed = Signal(str)

    def __init__(self) -> None:
        """Begin with no outline."""
        super().__init__()
        self.canvas = PhotoCanvas()
        self.marks = OutlineMarks()
        self.ring_tool = RingTool(DRAW, single=True)
        self.tags: list[ScrapTag] = []
        self.is_drawing = False
        """Whether an outline is drawn by hand."""
        self._seen: LineUpPhoto | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.canvas)
        self.canvas.zoomed.connect(self._place)
        self.marks.pointed.connect(self._pointed)
        self.canvas.use_tools([self.marks], self.marks)

    @property
    def number(self) -> int | None:
        """Which outline is in the hand."""
        return self.marks.chosen

    def show_seen(self, seen: LineUpPhoto | None, answer: LineUpAnswer | None) -> None:
        """Show these outlines and what was read of them; nothing where nothing was seen."""
        self._seen = seen
        count = len(seen.scraps) if seen is not None else 0
        while len(self.tags) > count:
            tag = self.tags.pop()
            tag.hide()
            tag.deleteLater()
        while len(self.tags) < count:
            tag = ScrapTag(self.canvas)
            tag.taken.connect(partial(self.choose, len(self.tags)))
            tag.typed.connect(self.typed)
            self.tags.append(tag)
            tag.show()
        if seen is not None:
            for number, tag in enumerate(self.tags):
                tag.say(tag_lines(seen, answer, number), told_words(seen, answer, number))
        if self.number is not None and self.number >= count:
            self.marks.choose(None)
        self.marks.show_seen(seen)
        self._place()

    def choose(self, number: int) -> None:
        """Take this outline into the hand."""
        if number == self.number:
            return
        self.marks.choose(number)
        for n, tag in enumerate(self.tags):
            tag.setChecked(n == number)
        self.tags[number].raise_()
        self.chosen.emit(number)

    def begin_outline(self) -> None:
        """Draw the outline of one scrap by hand."""
        self.is_drawing = True
        self.ring_tool.show_rings(())
        self.ring_tool.forget()
        for tag in self.tags:
            tag.hide()
        self.canvas.use_tools([self.marks, self.ring_tool], self.ring_tool)
        self.canvas.setFocus()

    def end_outline(self) -> None:
        """Point at outlines again."""
        self.is_drawing = False
        self.ring_tool.show_rings(())
        self.ring_tool.forget()
        for tag in self.tags:
            tag.show()
        self.canvas.use_tools([self.marks], self.marks)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Bring the tags along."""
        super().resizeEvent(event)
        self._place()

    def _pointed(self, number: int) -> None:
        self.choose(number)
        self.tags[number].setFocus(Qt.FocusReason.OtherFocusReason)
        if self._seen is not None and number in self._seen.not_told:
            self.typed.emit("")

    def _place(self) -> None:
        if self._seen is None:
            return
        boxes = []
        for scrap in self._seen.scraps:
            box = polygon(scrap.ring).boundingRect()
            corners = (box.left(), box.top()), (box.right(), box.bottom())
            low, high = (self.canvas.to_widget(corner) for corner in corners)
            boxes.append(QRectF(low, high))
        room = QRectF(self.canvas.rect()).adjusted(4, 4, -4, -4)
        sizes = [QSizeF(tag.sizeHint()) for tag in self.tags]
        for tag, spot in zip(self.tags, tag_places(boxes, sizes, room), strict=True):
            tag.move(spot.toPoint())
