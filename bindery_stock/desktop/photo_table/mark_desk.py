"""One photograph on the table: the picture, the steps beside it, and what passes between them."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from bindery_stock.bench.photo_table.found import shelve_found
from bindery_stock.bench.photo_table.marks import Facts, Marks, StepName
from bindery_stock.desktop.photo_canvas.canvas import PhotoCanvas
from bindery_stock.desktop.photo_canvas.canvas_bar import CanvasBar
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_table.colour_step import ColourStep
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.facts_step import FactsStep
from bindery_stock.desktop.photo_table.flaws_step import FlawsStep
from bindery_stock.desktop.photo_table.outline_step import OutlineStep
from bindery_stock.desktop.photo_table.panel import StepPanel
from bindery_stock.desktop.photo_table.scale_step import ScaleStep
from bindery_stock.desktop.photo_table.step import TableStep
from bindery_stock.desktop.photo_table.weave_step import WeaveStep
from bindery_stock.desktop.screen import MarkTurns
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError, EntryError


class Marking(QWidget):
    """Marks one photograph, step by step.

    Emits ``shelve_wanted(bool)`` when the piece is to be shelved; true where another piece is to
    be marked in the same photograph. Emits ``edited()`` when a mark, a fact or the step changed.
    """

    shelve_wanted = Signal(bool)
    edited = Signal()

    def __init__(self, session: Session, below: Sequence[QWidget]) -> None:
        """Lay out the picture with the widgets ``below`` it, and the steps at the right."""
        super().__init__()
        self.draft: ScrapDraft | None = None
        self._begun = False
        """Whether corners were taken back here: one Undo too many is not about the stock."""
        self.facts_step = FactsStep(session)
        self.steps: list[TableStep] = [
            ScaleStep(session),
            OutlineStep(session),
            WeaveStep(session),
            ColourStep(session),
            FlawsStep(session),
            self.facts_step,
        ]
        self.canvas = PhotoCanvas()
        self.bar = CanvasBar(self.canvas)
        self.panel = StepPanel(self.steps)
        left = QVBoxLayout()
        left.addWidget(self.bar)
        left.addWidget(self.canvas, 1)
        for widget in (*(step.strip for step in self.steps if step.strip), *below):
            left.addWidget(widget)
        row = QHBoxLayout(self)
        row.addLayout(left, 1)
        row.addWidget(self.panel)
        for layout in (left, row):
            layout.setContentsMargins(0, 0, 0, 0)
            layout.setSpacing(0)
        self._listen()

    def _listen(self) -> None:
        self.canvas.passed_on.connect(self.enter)
        self.canvas.step_wanted.connect(self.go_to_step)
        self.canvas.taken_back.connect(self._corner_taken_back)
        self.canvas.undo_wanted.connect(self.undo_mark)
        self.canvas.redo_wanted.connect(self.redo_mark)
        self.panel.chosen.connect(self.go_to_step)
        self.panel.passed_on.connect(self.pass_on)
        self.panel.entered.connect(self.enter)
        self.panel.shelve_wanted.connect(lambda: self.shelve_wanted.emit(False))
        self.panel.another_wanted.connect(lambda: self.shelve_wanted.emit(True))
        for strip in (step.strip for step in self.steps if step.strip):
            strip.kept.connect(self.canvas.setFocus)
            strip.left_out.connect(self.canvas.setFocus)
        for place, step in enumerate(self.steps):
            step.tool_changed.connect(self._use_tools)
            step.marked.connect(self._record)
            step.typed.connect(partial(self._take_typed, place))

    def put(self, draft: ScrapDraft) -> None:
        """Show this photograph with its marks, at the step where it was left."""
        self.draft = draft
        self._begun = False
        for place, step in enumerate(self.steps):
            self.panel.show_problem(place, "")
            for tool in step.tools:
                if isinstance(tool, RingTool):
                    tool.forget()
        self.show_picture()
        self.canvas.fit()
        anew = f"{draft.anew} anew:   " if draft.anew else ""
        self.bar.show_photo(f"{anew}{draft.name}", draft.size, str(draft.path))
        self.panel.show_anew(draft.anew)
        self._show_marks()
        self.go_to_step(draft.step)

    def clear(self) -> None:
        """No photograph lies on the table."""
        self.draft = None
        for step in self.steps:
            step.leave()
            step.show_strip(current=False)
        self.canvas.show_photo(QImage(), QImage(), (0, 0))

    def show_picture(self) -> None:
        """Show the picture as sharp as it has been read by now."""
        if self.draft is not None:
            self.canvas.show_photo(self.draft.at_hand, self.draft.full, self.draft.size)

    @property
    def step(self) -> int:
        """The number of the current step, from 0."""
        return self.draft.step if self.draft else 0

    def go_to_step(self, place: int) -> None:
        """Make a step the current one; past the last stands Shelve."""
        if self.draft is None:
            return
        if place >= len(self.steps):
            self.panel.shelve_button.setFocus()
            return
        self.draft.step = max(place, 0)
        self.panel.open_step(self.draft.step)
        self._use_tools()
        self._show_strips()
        if not self.steps[self.draft.step].begin():
            self.canvas.setFocus()

    def next_step(self) -> None:
        """Go to the step after, without agreeing to this one."""
        self.go_to_step(self.step + 1)

    def previous_step(self) -> None:
        """Go back a step."""
        self.go_to_step(self.step - 1)

    def enter(self) -> None:
        """Enter answers what is asked under the photograph, else it passes on."""
        if self.panel.shelve_button.hasFocus() or not self._answer(Qt.Key.Key_Return):
            self.pass_on()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The other keys that answer; Enter on a button of the strip is no answer."""
        key = Qt.Key(event.key())
        enter = key in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter or event.modifiers() or not self._answer(key):
            super().keyPressEvent(event)

    def _answer(self, key: Qt.Key) -> bool:
        return self.draft is not None and self.steps[self.step].answer(key)

    def pass_on(self) -> None:
        """Agree to what the step shows and go to the next; say why where that cannot be."""
        if self.draft is None:
            return
        if self.panel.shelve_button.hasFocus():
            self.shelve_wanted.emit(False)
            return
        try:
            self.steps[self.step].accept()
        except BinderyError as error:
            self.panel.show_problem(self.step, str(error))
            return
        self.panel.show_problem(self.step, "")
        self.go_to_step(self.step + 1)

    def stop_at(self, name: StepName, words: str) -> None:
        """Go to a step and say there what is missing or wrong."""
        place = list(StepName).index(name)
        self.go_to_step(place)
        self.panel.show_problem(place, words)

    def read_entries(self) -> bool:
        """Take in what is typed; False where it cannot be used, which is said at its step."""
        for step in (self.steps[self.step], self.facts_step):
            try:
                step.read()
            except EntryError as error:
                self.stop_at(step.name, str(error))
                return False
        return True

    def undo_mark(self) -> None:
        """Take back the last change to the marks of this photograph."""
        if self.draft is not None and self.draft.undo():
            self._show_marks()

    def redo_mark(self) -> None:
        """Make the change again that was taken back."""
        if self.draft is not None and self.draft.redo():
            self._show_marks()

    def turns(self) -> MarkTurns | None:
        """What Undo and Redo are about once something was marked in this photograph."""
        draft = self.draft
        half_drawn = self.canvas.marks()
        if draft is None or half_drawn is not None:
            return half_drawn
        if not draft.has_history and not self._begun:
            return None
        name = f"the last mark in “{draft.name}”"
        undo, redo = (name if may else "" for may in (draft.may_undo, draft.may_redo))
        return MarkTurns(undo, self.undo_mark, redo, self.redo_mark)

    def _corner_taken_back(self) -> None:
        self._begun = True

    def jobs_stopped(self) -> None:
        """What was being worked out was stopped: begin it again."""
        for step in self.steps:
            step.jobs_stopped()
        self._show_marks()

    def _record(self, marks: Marks) -> None:
        if self.draft is not None:
            self.draft.record(marks)
            self.panel.show_problem(self.step, "")
            self._show_marks()
            self._use_tools()

    def _take_typed(self, place: int, marks: Marks) -> None:
        """What is typed has its own way back, so it is not kept among the marks before."""
        if self.draft is not None:
            self.draft.marks = marks
            self.panel.show_problem(place, "")  # it was told of what stood there before
            self._show_marks()

    def _use_tools(self) -> None:
        """Give the pointer to the tool of the step; the marks of the others are seen."""
        tools = [tool for step in self.steps for tool in step.tools]
        self.canvas.use_tools(tools, self.steps[self.step].tool)

    def _show_strips(self) -> None:
        """Not while something is being drawn: the photograph would move under the hand."""
        if not self.canvas.is_marking:
            for place, step in enumerate(self.steps):
                step.show_strip(current=place == self.step)

    def _show_marks(self) -> None:
        draft = self.draft
        if draft is None:
            return
        for step in self.steps:
            step.show_draft(draft)
        findings = [step.finding(draft) for step in self.steps]
        self.panel.show_findings(findings, shelve_found(draft.marks, draft.facts or Facts()))
        self.canvas.keeps_undo = draft.has_history
        self._show_strips()
        self.canvas.update()
        self.edited.emit()
