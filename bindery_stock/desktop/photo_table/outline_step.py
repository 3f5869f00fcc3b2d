"""Outline: the true edge of the scrap, found by itself or drawn."""

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton

from bindery_stock.bench.photo_table.found import Found, Sureness, outline_found, scale_found
from bindery_stock.bench.photo_table.found_outline import FoundOutline, find_outline
from bindery_stock.bench.photo_table.marks import FlawMark, Marks, StepName
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.photo_canvas.outline_tool import OutlineTool
from bindery_stock.desktop.photo_canvas.tool import Tool
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.step import TableStep
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.shape import FlawKind, Point

_HINT = "Drag a rectangle over the scrap, or click its corners one by one and close with Enter."
_MORE = (
    "Drag a point to mend it. Double click a side to put a point in; Delete takes the chosen one "
    "out. Stay inside the fray."
)
_FOUND = (
    "Found by itself, in dashes: Enter takes it, once you have looked along every side. An edge "
    "that stands up towards a lamp high above is not told: press the scrap flat."
)
_DOUBTED = "In wide dots: where the edge is in doubt."
_LOOKING = "Looking for the outline…"
_POINTING = "Click on the scrap itself."


class OutlineStep(TableStep):
    """Finds the outline and lets it be mended, or has it drawn by hand."""

    name = StepName.OUTLINE

    def __init__(self, session: Session) -> None:
        """Look for the outline as soon as the step is reached."""
        super().__init__(session, _HINT)
        self.ring_tool = OutlineTool(_HINT)
        self.point_tool = PointTool()
        self.state = plain_label(muted=True)
        self.point_button = QPushButton("&Point at the scrap to find it")
        self.point_button.setCheckable(True)
        self.next_button = QPushButton()
        self._asked: FoundOutline | None = None
        more = plain_label(_MORE, muted=True)
        for widget in (more, self.state, self.next_button, self.point_button):
            self.column.addWidget(widget)
        self.next_button.hide()
        self.next_button.clicked.connect(self._take_next)
        self.ring_tool.marked.connect(self._drawn)
        self.ring_tool.moved.connect(self._say)
        self.point_tool.pointed.connect(self._pointed)
        self.point_button.toggled.connect(lambda _on: self._pointing_changed())

    @property
    def tool(self) -> Tool:  # type: ignore[override]
        """The ring, or the pointer while the scrap is to be pointed at."""
        return self.point_tool if self.point_button.isChecked() else self.ring_tool

    @property
    def tools(self) -> tuple[Tool, ...]:
        """Only the ring leaves a mark."""
        return (self.ring_tool,)

    def show_draft(self, draft: ScrapDraft) -> None:
        """Show the outline, or the one that was found."""
        if self.draft is not draft:
            self.point_button.setChecked(False)
        super().show_draft(draft)
        ring = draft.marks.outline
        self.ring_tool.show_rings((ring,) if ring else ())
        found = draft.found
        suggested = found if isinstance(found, FoundOutline) and not ring else None
        others = suggested.others if suggested else ()
        self.ring_tool.suggested = (suggested.ring, *suggested.holes) if suggested else ()
        self.ring_tool.doubtful = suggested.doubtful if suggested else ()
        self.ring_tool.others = tuple(other.ring for other in others)
        self.next_button.setText(f"&Next scrap: {len(others) + 1} lie in this photograph")
        self.next_button.setVisible(bool(others))
        self._say()
        self._say_found(draft)

    def finding(self, draft: ScrapDraft) -> Found:
        """Size and area, or that the sides cross."""
        found = outline_found(draft.marks, self.session.settings.lengths)
        if found.standing is Sureness.WANTED and isinstance(draft.found, FoundOutline):
            return Found(Sureness.WANTED, "Found by itself; not taken yet")
        return found

    def begin(self) -> bool:
        """Look for the outline, where the scale is known and none is drawn."""
        draft = self.draft
        if draft is not None and not draft.marks.outline and draft.found is None:
            self._find(draft, None)
        return False

    def accept(self) -> None:
        """Take what was found where nothing is drawn; pass on only with a simple outline."""
        if self.draft is None:
            return
        found = self.draft.found
        if not self.marks.outline and isinstance(found, FoundOutline):
            if found.question and self._asked is not found:
                self._asked = found
                raise EntryError(StepName.OUTLINE, f"Outline: {found.question}")
            holes = tuple(FlawMark(hole, FlawKind.HOLE) for hole in found.holes)
            flaws = (*self.marks.flaws, *holes)
            self.marked.emit(replace(self.marks, outline=found.ring, flaws=flaws))
        if not self.marks.outline and found == _LOOKING:
            raise EntryError(
                StepName.OUTLINE, "Outline: still being looked for. Wait a moment, or draw it."
            )
        now = self.finding(self.draft)
        if now.standing in (Sureness.WANTED, Sureness.WRONG):
            words = _HINT if now.standing is Sureness.WANTED else f"{now.words}."
            raise EntryError(StepName.OUTLINE, f"Outline: {words[0].lower()}{words[1:]}")

    def jobs_stopped(self) -> None:
        """Look again where the looking was cut short."""
        if self.draft is not None and self.draft.found == _LOOKING:
            self.draft.found = None

    def _find(self, draft: ScrapDraft, at: Point | None) -> None:
        marks = draft.marks
        if scale_found(marks).standing is not Sureness.FOUND:
            return
        draft.found = _LOOKING

        def done(found: FoundOutline) -> None:
            draft.found = found
            self.typed.emit(self.marks)

        def failed(error: Exception) -> None:
            draft.found = f"Not found by itself: {error}"
            if not isinstance(error, BinderyError):
                self.session.tell(error)
            self.typed.emit(self.marks)

        self.session.jobs.run(
            lambda _job: find_outline(draft.path, marks, at), owner=self, done=done, failed=failed
        )
        self._say_found(draft)

    def _take_next(self) -> None:
        """Suggest the next scrap of the photograph."""
        if self.draft is not None and isinstance(self.draft.found, FoundOutline):
            self.draft.found = self.draft.found.following
            self.typed.emit(self.marks)

    def _pointed(self, at: Point) -> None:
        self.point_button.setChecked(False)
        if self.draft is None:
            return
        if scale_found(self.marks).standing is not Sureness.FOUND:
            self.state.setText("Set the scale first: how far to stay inside the fray hangs on it.")
            return
        self.ring_tool.forget()
        self.marked.emit(replace(self.marks, outline=()))
        self._find(self.draft, at)

    def _pointing_changed(self) -> None:
        self.hint.setText(_POINTING if self.point_button.isChecked() else _HINT)
        self.tool_changed.emit()

    def _now(self) -> Marks:
        """The marks with the outline as it is being drawn."""
        rings = self.ring_tool.rings
        return replace(self.marks, outline=rings[0] if rings else ())

    def _say(self) -> None:
        """Beside the outline: its size while it is dragged, or that its sides cross."""
        found = outline_found(self._now(), self.session.settings.lengths)
        self.ring_tool.texts = (found.words if found.standing is not Sureness.ASSUMED else "",)

    def _say_found(self, draft: ScrapDraft) -> None:
        found = draft.found
        if draft.marks.outline:
            self.state.setText("")
        elif isinstance(found, FoundOutline):
            doubted = f" {_DOUBTED}" if found.doubtful else ""
            self.state.setText(f"{_FOUND}{doubted} {found.words}")
        else:
            self.state.setText(found or "")
        self.state.setVisible(bool(self.state.text()))

    def _drawn(self) -> None:
        self.marked.emit(self._now())


class PointTool(Tool):
    """Emits ``pointed(Point)`` when the photograph is clicked."""

    pointed = Signal(object)

    def press(self, at: Point, reach: float) -> None:  # noqa: ARG002 - a spot has no reach
        """Tell the spot."""
        self.pointed.emit(at)

    def key(self, key: Qt.Key, reach: float) -> bool:  # noqa: ARG002 - nothing to move
        """No key means anything here."""
        return False
