"""The line-up: what to lay beside the book, one photograph of it, and what that says of each."""

from collections.abc import Callable, Container
from dataclasses import dataclass
from enum import Enum, auto
from pathlib import Path

from PySide6.QtCore import Qt, QTemporaryDir, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from bindery_stock.bench.match.confirm_line_up import confirm_line_up
from bindery_stock.bench.match.line_up import LineUpSheet
from bindery_stock.bench.match.line_up_photo import LineUpPhoto
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.drops import TakesPhotos
from bindery_stock.desktop.entry_dialog import EntryDialog
from bindery_stock.desktop.line_up.chosen_photo import NOTHING_COPIED, ask_photo, pasted_photo
from bindery_stock.desktop.line_up.lay_sheet import LaySheet
from bindery_stock.desktop.line_up.light_line import LightLine
from bindery_stock.desktop.line_up.look_desk import LookDesk
from bindery_stock.desktop.line_up.told_desk import ToldDesk
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import EitherOr, next_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.errors import BinderyError
from bindery_stock.stock import Changes


class _Stage(Enum):
    LAY = auto()
    SCALE = auto()
    WORK = auto()
    TOLD = auto()
    KEPT = auto()


@dataclass(frozen=True, slots=True)
class LineUpAsked:
    """What a line-up is for."""

    sheet: Callable[[int], LineUpSheet]
    """What to lay after so many that were laid before."""
    purpose: str
    serves: Container[str]
    """The codes of all that hold the part, and so can be cut."""


class LineUpDialog(TakesPhotos, EntryDialog):
    """Keeps what one photograph says of every scrap that is told. Emits ``cut_wanted(str)`` with
    the code of the piece to go on with.
    """

    cut_wanted = Signal(str)

    def __init__(
        self, session: Session, previews: Previews, asked: LineUpAsked, parent: QWidget
    ) -> None:
        """Begin with what to lay."""
        super().__init__(parent)
        self._session, self._asked = session, asked
        self._stage = _Stage.LAY
        self._after = 0
        self._scratch = QTemporaryDir()
        self.setWindowTitle("Line-up")
        self.setAcceptDrops(True)
        self.lay_sheet = LaySheet(session, previews)
        self.told = ToldDesk(session, self)
        self.look = LookDesk(session, self.told.photo.canvas, self)
        self.light_line = LightLine(asked.purpose)
        self.wrong = plain_label()
        self.wrong.setAccessibleName("What is wrong")
        self.wrong.hide()
        self.another = QPushButton("Another photograph…")
        self.another.setAutoDefault(False)
        self.go = next_button("Open the photograph…")
        self._lay_out()
        self._listen()
        self._show_laid()
        room = parent.window().size()
        self.resize(max(GRID * 290, room.width() * 9 // 10), max(GRID * 180, room.height() - 60))

    def _lay_out(self) -> None:
        self.body = EitherOr(self.lay_sheet, self.told.photo)
        self._strips = (self.look.scale_strip, self.look.work_strip, self.told.strip)
        said = QWidget()
        row = QHBoxLayout(said)
        row.setContentsMargins(GRID, 0, 0, 0)
        row.addWidget(self.wrong, 1)
        row.addStretch()
        row.addWidget(self.another)
        foot = DialogFoot(self, self.go, between=said)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 2)
        column.addWidget(self.body, 1)
        for widget in (*self._strips, self.light_line, foot):
            column.addWidget(widget)

    def _listen(self) -> None:
        self.go.clicked.connect(self._go_on)
        self.another.clicked.connect(self.ask_for_photo)
        self.lay_sheet.more_button.clicked.connect(self._lay_next)
        self.told.photo.canvas.passed_on.connect(self._entered)
        self.told.changed.connect(self._refresh)
        self.told.refused.connect(self._refused)
        self.told.all_told.connect(self.light_line.light.setFocus)
        self.look.loaded.connect(self._ask_scale)
        self.look.looking.connect(lambda: self._go_to(_Stage.WORK))
        self.look.looked.connect(self._looked)
        self.look.refused.connect(self._not_looked)
        self.look.scale_strip.changed.connect(self._refresh)
        self.look.work_strip.stopped.connect(self.stop)
        self.light_line.changed.connect(self._refresh)

    # What to lay

    def _show_laid(self) -> None:
        self._sheet = self._asked.sheet(self._after)
        self.lay_sheet.show_sheet(self._sheet)
        further = self._asked.sheet(self._after + len(self._sheet.scraps)).scraps
        self.lay_sheet.more_button.setVisible(bool(further))
        self._go_to(_Stage.LAY)

    def _lay_next(self) -> None:
        self._after += len(self._sheet.scraps)
        self._show_laid()

    # The photograph

    def ask_for_photo(self) -> None:
        """Choose a file."""
        if self._may_load:
            ask_photo(self, "A photograph of the line-up", self.look.load)

    def paste(self) -> None:
        """Take the photograph on the clipboard."""
        path = pasted_photo(QGuiApplication.clipboard(), self._scratch)
        if path is None:
            self.say_wrong(NOTHING_COPIED)
        elif self._may_load:
            self.look.load(path)

    def photos_dropped(self, paths: list[Path]) -> None:
        """Take the photograph dropped here."""
        if self._may_load:
            self.look.load(paths[0])

    @property
    def _may_load(self) -> bool:
        return self._stage not in (_Stage.WORK, _Stage.KEPT)

    def _ask_scale(self) -> None:
        self.told.forget()
        self._go_to(_Stage.SCALE)
        self.look.take_tool()

    def stop(self) -> None:
        """Wait no longer for the photograph that is being read."""
        self.look.stop()
        self._go_to(_Stage.SCALE)
        self.look.take_tool()

    def _looked(self, seen: LineUpPhoto) -> None:
        self._go_to(_Stage.TOLD)
        self.told.begin(seen, self._sheet.codes)

    def _not_looked(self, error: Exception) -> None:
        if self._stage is _Stage.WORK:
            self.stop()
        self._refused(error)

    # What is kept

    def _keep(self) -> None:
        seen, answer = self.told.seen, self.told.answer
        if seen is None or answer is None:
            return
        said = self.light_line.said
        self.go.setEnabled(False)
        self._session.do(
            lambda room: confirm_line_up(room, seen=seen, answer=answer, **said),
            done=self._kept,
            failed=self._not_kept,
        )

    def _kept(self, changes: Changes) -> None:
        self._go_to(_Stage.KEPT)
        self.told.keep(f"{changes.step.name}. One undo takes it back.")
        self.begin()
        self.go.setFocus()

    def _not_kept(self, error: Exception) -> None:
        self._refused(error)
        self._refresh()

    # The dialog

    def at_stake(self) -> object:
        """The marks, what was told of them and what was typed."""
        return self.told.scraps, self.look.scale_strip.marked, self.light_line.said

    def say_wrong(self, words: str, field: str = "") -> None:  # noqa: ARG002 - said in one line
        """Say it over the foot."""
        self.wrong.setText(f"△ {words}" if words else "")
        self.wrong.setVisible(bool(words))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc first ends what is under way; Enter that can do nothing yet says why."""
        escape = event.key() == Qt.Key.Key_Escape
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if escape and self.told.photo.is_drawing:
            self.told.end_outline(taken=False)
        elif escape and self._stage is _Stage.WORK:
            self.stop()
        elif event.matches(QKeySequence.StandardKey.Open):
            self.ask_for_photo()
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.paste()
        elif enter and not self.go.isEnabled():
            self.say_wrong(self._missing())
        else:
            super().keyPressEvent(event)

    def _refused(self, error: Exception) -> None:
        self.say_wrong(str(error))
        if not isinstance(error, BinderyError):
            self._session.tell(error)

    def _entered(self) -> None:
        """Enter on the photograph: the outline drawn is taken, else it is gone on."""
        if self.told.photo.is_drawing:
            self.told.end_outline(taken=True)
        elif self.go.isEnabled():
            self._go_on()
        else:
            self.say_wrong(self._missing())

    def _go_on(self) -> None:
        self.say_wrong("")
        if self._stage is _Stage.LAY:
            self.ask_for_photo()
        elif self._stage is _Stage.SCALE:
            self.look.look(self._sheet.codes)
        elif self._stage is _Stage.TOLD:
            self._keep()
        elif self._stage is _Stage.KEPT:
            self.cut_wanted.emit(self.told.chosen)
            self.accept()

    def _go_to(self, stage: _Stage) -> None:
        self._stage = stage
        self.say_wrong("")
        self.body.show_only(self.lay_sheet if stage is _Stage.LAY else self.told.photo)
        shown = {
            _Stage.SCALE: self.look.scale_strip,
            _Stage.WORK: self.look.work_strip,
            _Stage.TOLD: self.told.strip,
            _Stage.KEPT: self.told.strip,
        }.get(stage)
        for strip in self._strips:
            strip.setVisible(strip is shown)
        self.light_line.setVisible(stage in (_Stage.TOLD, _Stage.KEPT))
        self.light_line.setEnabled(stage is _Stage.TOLD)
        self.another.setVisible(stage in (_Stage.SCALE, _Stage.TOLD))
        self._refresh()

    def _missing(self) -> str:
        """Why it cannot be gone on with; empty where it can."""
        if self._stage is _Stage.SCALE:
            return self.look.missing
        if self._stage is _Stage.WORK:
            return "The photograph is still being read."
        if self._stage is _Stage.TOLD:
            locked = self._session.stockroom.read_only
            said = "The stockroom is open for reading only." if locked else ""
            return self.told.missing or said or self.light_line.missing
        if self._stage is _Stage.KEPT:
            code = self.told.chosen
            if not code:
                return "Choose one of the closest first: this photograph cannot tell which is."
            return "" if code in self._asked.serves else f"The part does not fit on {code}."
        return ""

    def _refresh(self) -> None:
        """Say on the button what comes next, and on its tip why it cannot be done yet."""
        kept = len(self.told.answer.kept) if self.told.answer is not None else 0
        words = {
            _Stage.LAY: "Open the photograph…",
            _Stage.TOLD: f"Keep what is said of {kept}" if kept else "Keep what is said",
            _Stage.KEPT: f"Cut {self.told.chosen}…" if self.told.chosen else "Cut…",
        }
        missing = self._missing()
        self.go.setText(words.get(self._stage, "Find the scraps"))
        self.go.setEnabled(not missing)
        self.go.setToolTip(plain_tip(missing))
