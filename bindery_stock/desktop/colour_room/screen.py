"""The Colour place: how far the colours of a photograph can be trusted."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from bindery_stock.bench.colour_room.sitting import KeptTarget, end_sitting, keep_target
from bindery_stock.bench.colour_room.snapshot import COLOUR_ROOM, ColourRoomView, snapshot
from bindery_stock.bench.colour_room.target_fit import TargetFit, judge
from bindery_stock.colour import PhotoVerdict
from bindery_stock.desktop.colour_room.commands import room_commands
from bindery_stock.desktop.colour_room.panel import ColourPanel
from bindery_stock.desktop.colour_room.target_strip import TargetStrip
from bindery_stock.desktop.colours.archive_picker import ArchivePicker
from bindery_stock.desktop.column import hair_line
from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.drops import PHOTO_FILTERS, TakesPhotos
from bindery_stock.desktop.jobs import Job, Pool
from bindery_stock.desktop.photo_canvas.canvas import PhotoCanvas
from bindery_stock.desktop.photo_canvas.canvas_bar import CanvasBar
from bindery_stock.desktop.photo_canvas.read_photo import Shown, read_draft, read_full
from bindery_stock.desktop.photo_canvas.target_tool import TargetTool
from bindery_stock.desktop.screen import EitherOr, EmptyState, MarkTurns, Screen, next_button
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError

_WHAT_FOR = (
    "A bare photograph is often off by ΔE00 10 or more. Lay a target of 24 known colours flat "
    "beside the cloth, in the same even light, and photograph it. It is looked for here, or you "
    "mark its four corners, and you see what the camera makes of colours, which of them can be put "
    "right, and what to change. Drop the photograph here, or choose it."
)


class ColourRoomScreen(TakesPhotos, Screen):
    """Judges the photograph of a target and keeps its correction for the sitting."""

    title = "Colour"
    icon = "colour"

    def __init__(self, session: Session) -> None:
        """Begin with no photograph."""
        super().__init__(session)
        self._snapshot = session.snapshot(COLOUR_ROOM)
        self._path: Path | None = None
        self._name = ""
        self._size = (0, 0)
        self._fit: TargetFit | None = None
        self._reading_job: Job | None = None
        self._judging: Job | None = None
        self._picker: ArchivePicker | None = None
        self.setAcceptDrops(True)
        self.tool = TargetTool()
        self.canvas = PhotoCanvas()
        self.bar = CanvasBar(self.canvas)
        self.found = TargetStrip(session, self.canvas, self.tool)
        self.panel = ColourPanel(session)
        choose, archive = next_button("Choose a photograph…"), QPushButton("From the archive…")
        choose.clicked.connect(self.choose)
        archive.clicked.connect(self.choose_archived)
        self.empty = EmptyState("How true are your photographs?", _WHAT_FOR, [choose, archive])
        self.body = EitherOr(self.empty, self._table())
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.body)
        self._listen()

    def _table(self) -> QWidget:
        self.table = QWidget()
        left = QVBoxLayout()
        left.addWidget(self.bar)
        left.addWidget(self.canvas, 1)
        left.addWidget(self.found)
        row = QHBoxLayout(self.table)
        row.addLayout(left, 3)
        row.addWidget(hair_line(upright=True))
        row.addWidget(self.panel, 2)
        for layout in (left, row):
            layout.setContentsMargins(0, 0, 0, 0)
            layout.setSpacing(0)
        return self.table

    def _listen(self) -> None:
        self.tool.marked.connect(self._marked)
        self.found.judged.connect(self._judged)
        self.found.placed.connect(self.judge)
        self.panel.editions.changed.connect(self.judge)
        self.panel.stop_wanted.connect(self.stop_judging)
        self.panel.choose_wanted.connect(self.choose)
        self.panel.archive_wanted.connect(self.choose_archived)
        self.panel.sitting.use_wanted.connect(self.use_for_sitting)
        self.panel.sitting.end_wanted.connect(self.end_sitting)

    # The photograph

    def choose(self) -> None:
        """Choose a file."""
        dialog = QFileDialog(self, "A photograph with a target of 24 patches")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters(PHOTO_FILTERS)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.fileSelected.connect(lambda path: self.look_at(Path(path)))
        dialog.open()

    def choose_archived(self) -> None:
        """Choose a photograph from the archive."""
        if not self.session.is_open:
            return
        picker = ArchivePicker(self.session, self.window())
        picker.picked.connect(self.look_at)
        picker.finished.connect(self._picker_closed)
        self._picker = picker
        picker.open()

    def _picker_closed(self) -> None:
        if self._picker is not None:
            self._picker.deleteLater()
        self._picker = None

    def look_at(self, path: Path, name: str = "") -> None:
        """Show a photograph, to have its target marked."""
        if self._reading_job is not None:
            self._reading_job.stop()
        self.found.search.stop()

        def done(shown: Shown) -> None:
            self._path, self._name, self._size = path, name or path.name, shown.size
            self._begin(shown)
            self._sharpen(path, shown)
            self.found.search.look(path, self.panel.editions.reference)

        self._reading_job = self.session.jobs.run(
            lambda _job: read_draft(path), owner=self, done=done
        )

    def _begin(self, shown: Shown) -> None:
        self.stop_judging()
        self._fit = None
        self.found.show_found(None)
        self.tool.show_rings(())
        self.tool.forget()
        self.tool.show_read((), frozenset())
        self.panel.show_waiting()
        self.panel.sitting.offer(can=False, why_not="Mark the target first.")
        width, height = shown.size
        self.bar.show_photo(self._name, (width, height))
        self.canvas.show_photo(shown.picture, QImage(), shown.size)
        self.canvas.use_tools([self.tool], self.tool)
        self.body.show_only(self.table)
        self.canvas.setFocus()

    def _sharpen(self, path: Path, draft: Shown) -> None:
        def done(full: Shown) -> None:
            if self._path == path:
                self.canvas.show_photo(draft.picture, full.picture, full.size)

        self._reading_job = self.session.jobs.run(
            lambda _job: read_full(path), owner=self, done=done
        )

    def _marked(self) -> None:
        """By hand: nothing is left to be asked."""
        self.found.search.lay_at(self.tool.corners)
        self.found.show_found(None)
        self.judge()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leaves out what was found."""
        if event.key() == Qt.Key.Key_Escape and self.found.open is not None:
            self.found.leave_out()
        else:
            super().keyPressEvent(event)

    # The judgement

    def judge(self) -> None:
        """Read the target in the background and say what it came to."""
        self.stop_judging()
        self.tool.show_read((), frozenset())
        corners, path, reference = self.tool.corners, self._path, self.panel.editions.reference
        if path is None or not corners:
            self.panel.show_waiting()
            return
        self.panel.show_judging()

        def failed(error: Exception) -> None:
            self._judging = None
            self.panel.show_trouble(str(error))
            if not isinstance(error, BinderyError):
                self.session.tell(error)

        self._judging = self.session.jobs.run(
            lambda _job: judge(path, corners, reference),
            owner=self,
            done=self._judged,
            failed=failed,
        )

    def _judged(self, fit: TargetFit) -> None:
        self._judging = None
        self._fit = fit
        report = fit.report
        dropped = frozenset(n for n, fault in enumerate(report.faults) if fault)
        self.tool.show_read(fit.squares, dropped)
        self.panel.show_report(report)
        retake = report.verdict is PhotoVerdict.RETAKE
        reading_only = self.session.is_open and self.session.stockroom.read_only
        why = "Retake the photograph first." if retake else ""
        why = "The stockroom is open for reading only." if reading_only else why
        self.panel.sitting.offer(can=self.session.is_open and not why, why_not=why)

    def stop_judging(self) -> None:
        """Wait no longer for the judgement."""
        if self._judging is not None:
            self._judging.stop()
            self._judging = None
            self.panel.show_waiting()
        self._fit = None
        self.panel.sitting.offer(can=False, why_not="Mark the target first.")

    # The sitting

    def use_for_sitting(self, light: str) -> None:
        """Keep this target; its correction is lent to photographs of the same sitting."""
        fit, path = self._fit, self._path
        if fit is None or path is None:
            return
        stockroom = self.session.stockroom
        name, size, corners = self._name, self._size, self.tool.corners
        reference = self.panel.editions.reference

        def work(_job: Job) -> tuple[KeptTarget, ColourRoomView]:
            kept = keep_target(
                stockroom,
                path,
                name=name,
                size=size,
                corners=corners,
                reference=reference,
                light=light,
                camera=fit.sitting.camera.name,
            )
            return kept, snapshot(stockroom)

        def done(found: tuple[KeptTarget, ColourRoomView]) -> None:
            kept, view = found
            self._snapshot.take(view)
            self.panel.sitting.show_kept(kept)
            self.session.said.emit(f"Kept for this sitting: {kept.words}")

        self.session.jobs.run(work, owner=self, done=done, pool=Pool.STOCK)

    def end_sitting(self) -> None:
        """Lend the kept correction no longer."""
        stockroom = self.session.stockroom

        def work(_job: Job) -> ColourRoomView:
            end_sitting(stockroom)
            return snapshot(stockroom)

        def done(view: ColourRoomView) -> None:
            self._snapshot.take(view)
            self.panel.sitting.show_kept(view.kept)

        self.session.jobs.run(work, owner=self, done=done, pool=Pool.STOCK)

    # The place

    def marks(self) -> MarkTurns | None:
        """The patch that is half drawn, if one is."""
        return self.canvas.marks()

    def commands(self) -> list[Command]:
        """What can be done here."""
        return room_commands(self)

    def stock_opened(self) -> None:
        """Show what this stockroom keeps."""
        self.panel.editions.refresh()
        self.panel.sitting.show_kept(self._snapshot.view.kept)

    def came_forward(self) -> None:
        """The hand expects the photograph."""
        (self.canvas if self._path is not None else self.empty).setFocus()

    def photos_dropped(self, paths: list[Path]) -> None:
        """Look at the first photograph dropped here."""
        self.look_at(paths[0])
