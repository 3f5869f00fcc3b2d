"""The photo table: photographs come in, are marked in seven steps, and go onto the shelf."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtWidgets import (
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench import shelving
from bindery_stock.bench.findings import shelve_found
from bindery_stock.bench.marks import Facts, Marks, StepName
from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.drops import photo_paths
from bindery_stock.desktop.photo_table.canvas import PhotoCanvas
from bindery_stock.desktop.photo_table.canvas_bar import CanvasBar
from bindery_stock.desktop.photo_table.colour_step import ColourStep
from bindery_stock.desktop.photo_table.commands import table_commands
from bindery_stock.desktop.photo_table.draft import Draft
from bindery_stock.desktop.photo_table.facts_step import FactsStep
from bindery_stock.desktop.photo_table.flaws_step import FlawsStep
from bindery_stock.desktop.photo_table.outline_step import OutlineStep
from bindery_stock.desktop.photo_table.panel import StepPanel
from bindery_stock.desktop.photo_table.queue import WaitingPhotos
from bindery_stock.desktop.photo_table.refusals import Refusals
from bindery_stock.desktop.photo_table.ring_tool import RingTool
from bindery_stock.desktop.photo_table.scale_step import ScaleStep
from bindery_stock.desktop.photo_table.step import Step
from bindery_stock.desktop.photo_table.tray import Tray
from bindery_stock.desktop.photo_table.weave_step import WeaveStep
from bindery_stock.desktop.place import EitherOr, EmptyState, Place, next_button
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.stock import Changes, Stockroom

_FOLDER = "photo_table/folder"
_FILES = "Photographs (*.jpg *.jpeg *.png *.tif *.tiff *.heic *.heif);;All files (*)"


class PhotoTable(Place):
    """Shelves photographed scraps. Takes whatever the session's ``photos_offered`` brings."""

    title = "Photo table"
    icon = "photo_table"

    def __init__(self, session: Session) -> None:
        """Begin with an empty table."""
        super().__init__(session)
        self.waiting = WaitingPhotos(session)
        self.draft: Draft | None = None
        self._last_facts = Facts()
        self._shelving = False
        self.facts_step = FactsStep(session)
        self.colour_step = ColourStep(session)
        self.steps: list[Step] = [
            ScaleStep(session),
            OutlineStep(session),
            WeaveStep(session),
            self.colour_step,
            FlawsStep(session),
            self.facts_step,
        ]
        self._build()
        self._listen()

    def _build(self) -> None:
        self.canvas = PhotoCanvas()
        self.bar = CanvasBar(self.canvas)
        self.panel = StepPanel(self.steps)
        self.tray = Tray()
        self.refusals = Refusals()
        choose = next_button("Choose photographs…")
        choose.clicked.connect(self.choose)
        self.empty = EmptyState(
            "Photograph a scrap, then shelve it",
            "Lay the scrap flat on a plain sheet with a ruler beside it, in even light.\n"
            "Then drop the photographs anywhere on this window, paste one with Ctrl+V,\n"
            "or choose them here. Old cloth may be dusty, mouldy or dyed with arsenic or lead:\n"
            "handle what you do not know with gloves, and follow your local rules.",
            [choose],
        )
        left = QVBoxLayout()
        left.setContentsMargins(0, 0, 0, 0)
        left.setSpacing(0)
        for widget, stretch in (
            (self.bar, 0),
            (self.canvas, 1),
            (self.refusals, 0),
            (_rule(), 0),
            (self.tray, 0),
        ):
            left.addWidget(widget, stretch)
        self.work = QWidget()
        row = QHBoxLayout(self.work)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addLayout(left, 1)
        row.addWidget(self.panel)
        self._either = EitherOr(self.empty, self.work)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._either)

    def _listen(self) -> None:
        self.session.photos_offered.connect(self.offer)
        self.waiting.changed.connect(self._waiting_changed)
        self.waiting.refused.connect(self.refusals.add)
        self.tray.wanted.connect(self.put_on_table)
        self.tray.more_wanted.connect(self.choose)
        self.tray.aside_wanted.connect(self.set_aside)
        self.canvas.passed_on.connect(self.pass_on)
        self.canvas.step_wanted.connect(self.go_to_step)
        self.canvas.undo_wanted.connect(self.undo_mark)
        self.canvas.redo_wanted.connect(self.redo_mark)
        self.panel.chosen.connect(self.go_to_step)
        self.panel.passed_on.connect(self.pass_on)
        self.panel.shelve_wanted.connect(self.shelve)
        self.panel.another_wanted.connect(self.shelve_and_mark_another)
        self.colour_step.tool_changed.connect(self._use_tools)
        for step in self.steps:
            step.marked.connect(self._record)
            step.typed.connect(self._take_typed)

    # Photographs come in

    def offer(self, paths: list[Path]) -> None:
        """Take in files as waiting photographs."""
        self.waiting.offer(paths)

    def choose(self) -> None:
        """Let the user choose files."""
        dialog = QFileDialog(self, "Choose photographs", self.session.settings.text(_FOLDER))
        dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
        dialog.setNameFilters(_FILES.split(";;"))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.filesSelected.connect(self._files_chosen)
        dialog.open()

    def paste(self) -> None:
        """Take in files or a picture from the clipboard."""
        data = QGuiApplication.clipboard().mimeData()
        paths = photo_paths(data)
        if paths:
            self.offer(paths)
        elif data.hasImage():
            self.waiting.paste(QGuiApplication.clipboard().image())
        else:
            self.session.trouble.emit(
                "There is no photograph on the clipboard. Copy a picture or its file first."
            )

    def _files_chosen(self, files: list[str]) -> None:
        if files:
            self.session.settings.set_text(_FOLDER, str(Path(files[0]).parent))
            self.offer([Path(file) for file in files])

    def _waiting_changed(self) -> None:
        if self.draft not in self.waiting.drafts:
            self.draft = None
        # In the order they came, though a later one may have been read sooner.
        first = self.waiting.drafts[0] if self.waiting.drafts else None
        if self.draft is None and first is not None:
            self.canvas.show_photo(QImage(), QImage(), (0, 0))
            self.put_on_table(first)
        elif self.draft is not None:
            self.canvas.show_photo(self.draft.picture, self.draft.full, self.draft.size)
        if not self.waiting.drafts and not self.refusals.is_empty:
            self.empty.say("No photograph on the table", "\n".join(self.refusals.sentences))
        self._either.show_only(self.work if self.waiting.drafts else self.empty)
        self.tray.show_drafts(self.waiting.drafts, self.draft)

    # On the table

    def put_on_table(self, draft: Draft) -> None:
        """Show this photograph with its marks, at the step where it was left."""
        if not draft.is_ready:
            return
        self.draft = draft
        if draft.facts is None:
            draft.facts = self._last_facts
        self._forget_strokes()
        if self.session.is_open:
            self.facts_step.know_words()
        self.canvas.show_photo(draft.picture, draft.full, draft.size)
        self.bar.show_draft(draft)
        self.waiting.sharpen(draft)
        self._show_marks()
        self.go_to_step(draft.step)
        self.tray.show_drafts(self.waiting.drafts, draft)

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
        step = self.steps[self.draft.step]
        self.panel.open_step(self.draft.step)
        self._use_tools()
        if not step.begin():
            self.canvas.setFocus()

    def next_step(self) -> None:
        """Go to the step after, without agreeing to this one."""
        self.go_to_step(self.step + 1)

    def previous_step(self) -> None:
        """Go back a step."""
        self.go_to_step(self.step - 1)

    def pass_on(self) -> None:
        """Agree to what the step shows and go to the next; say why where that cannot be."""
        if self.draft is None:
            return
        if self.panel.shelve_button.hasFocus():
            self.shelve()
            return
        try:
            self.steps[self.step].accept()
        except BinderyError as error:
            self.panel.show_problem(self.step, str(error))
            return
        self.panel.show_problem(self.step, "")
        self.go_to_step(self.step + 1)

    def undo_mark(self) -> None:
        """Take back the last change to the marks of this photograph."""
        if self.draft is not None and self.draft.undo():
            self._show_marks()

    def redo_mark(self) -> None:
        """Make the change again that was taken back."""
        if self.draft is not None and self.draft.redo():
            self._show_marks()

    def set_aside(self) -> None:
        """Take the photograph off the table; its marks are kept."""
        draft = self._on_table()
        if draft is not None:
            self.waiting.set_aside(draft)
            self.session.said.emit(f"Set “{draft.name}” aside; nothing was shelved")

    def bring_back(self) -> None:
        """Put the photograph set aside last back in the queue."""
        if self.waiting.has_aside:
            self.waiting.bring_back()
        else:
            self.session.trouble.emit("No photograph was set aside, so none can be brought back.")

    def _on_table(self) -> Draft | None:
        """The photograph on the table; says so where there is none."""
        if self.draft is None:
            self.session.trouble.emit(
                "No photograph lies on the table. Drop, paste or choose one first."
            )
        return self.draft

    def _record(self, marks: Marks) -> None:
        if self.draft is not None:
            self.draft.record(marks)
            self.panel.show_problem(self.step, "")
            self._show_marks()

    def _take_typed(self, marks: Marks) -> None:
        """What is typed has its own way back, so it is not kept among the marks before."""
        if self.draft is not None:
            self.draft.marks = marks
            self._show_marks()
            self._use_tools()

    def _use_tools(self) -> None:
        """Give the pointer to the tool of the step; the marks of the others are seen."""
        tools = [tool for step in self.steps for tool in step.tools]
        self.canvas.use_tools(tools, self.steps[self.step].tool)

    def _show_marks(self) -> None:
        draft = self.draft
        if draft is None:
            return
        for step in self.steps:
            step.show_draft(draft)
        facts = draft.facts or Facts()
        findings = [step.finding(draft) for step in self.steps]
        self.panel.show_findings(findings, shelve_found(draft.marks, facts))
        self.canvas.keeps_undo = draft.has_history
        self.canvas.update()

    def _forget_strokes(self) -> None:
        for place, step in enumerate(self.steps):
            self.panel.show_problem(place, "")
            for tool in step.tools:
                if isinstance(tool, RingTool):
                    tool.forget()

    # Onto the shelf

    def shelve(self) -> None:
        """Shelve the scrap and bring the next photograph, or say what is missing."""
        self._shelve(another=False)

    def shelve_and_mark_another(self) -> None:
        """Shelve the scrap and keep the photograph, with its scale, for another."""
        self._shelve(another=True)

    def _shelve(self, *, another: bool) -> None:
        draft = self._on_table()
        if draft is None or self._shelving:
            return
        for step in (self.steps[self.step], self.facts_step):
            try:
                step.read()
            except EntryError as error:
                self._stop_at(self.steps.index(step), str(error))
                return
        facts = draft.facts or Facts()
        missing = shelving.wanting(draft.marks, facts)
        if missing is not None:
            self._stop_at(list(StepName).index(missing.step), missing.words)
            return
        marks, readings = draft.marks, dict(draft.readings)

        def verb(stockroom: Stockroom) -> Changes:
            return shelving.shelve(
                stockroom,
                draft.path,
                name=draft.name,
                size=draft.size,
                marks=marks,
                facts=facts,
                readings=readings,
            )

        self._set_shelving(under_way=True)
        self.session.do(
            verb,
            done=lambda _changes: self._shelved(draft, facts, another=another),
            failed=self._not_shelved,
        )

    def _stop_at(self, place: int, words: str) -> None:
        self.go_to_step(place)
        self.panel.show_problem(place, words)

    def _shelved(self, draft: Draft, facts: Facts, *, another: bool) -> None:
        self._set_shelving(under_way=False)
        self._last_facts = facts.for_the_next()
        following = self.waiting.after(draft)
        if another:
            draft.begin_again(Marks(scale=draft.marks.scale, warp=None))
            draft.facts = self._last_facts
            draft.step = list(StepName).index(StepName.OUTLINE)
            self.put_on_table(draft)
            self.facts_step.refill()
            return
        if following is not None and following.is_ready:
            self.put_on_table(following)
        self.waiting.drop(draft)

    def _not_shelved(self, error: Exception) -> None:
        self._set_shelving(under_way=False)
        if isinstance(error, EntryError) and error.field in set(StepName):
            self._stop_at(list(StepName).index(StepName(error.field)), str(error))
        self.session.tell(error)

    def _set_shelving(self, *, under_way: bool) -> None:
        self._shelving = under_way
        self.panel.shelve_button.setEnabled(not under_way)
        self.panel.another_button.setEnabled(not under_way)
        self.panel.shelve_button.setText("Shelving…" if under_way else "Shelve")

    # The place

    def commands(self) -> list[Command]:
        """What can be done here."""
        return table_commands(self)

    def stock_opened(self) -> None:
        """Photographs that wait go on waiting; the words of the other stockroom are offered."""
        self.facts_step.know_words()

    def came_forward(self) -> None:
        """The hand expects the photograph."""
        if self.draft is not None:
            self.go_to_step(self.step)
        else:
            self.empty.setFocus()


def _rule() -> QFrame:
    made = QFrame()
    made.setProperty("role", "rule")
    return made
