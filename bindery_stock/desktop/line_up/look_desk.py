"""The photograph of a line-up comes in, gets its scale, and everything in it is outlined."""

from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from bindery_stock.bench.match.line_up_photo import LineUpPhoto, look_at_line_up
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.line_up.scale_strip import ScaleStrip
from bindery_stock.desktop.line_up.work_strip import WorkStrip
from bindery_stock.desktop.photo_canvas.canvas import PhotoCanvas
from bindery_stock.desktop.photo_canvas.read_photo import Shown, read_draft
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError


class LookDesk(QObject):
    """Emits ``loaded()`` when a photograph is shown, ``looking()`` while it is read,
    ``looked(LineUpPhoto)`` when it has been, ``refused(Exception)`` where it cannot be.
    """

    loaded = Signal()
    looking = Signal()
    looked = Signal(object)
    refused = Signal(object)

    def __init__(self, session: Session, canvas: PhotoCanvas, parent: QObject) -> None:
        """Begin without a photograph."""
        super().__init__(parent)
        self._session, self._canvas = session, canvas
        self._job: Job | None = None
        self._photo: tuple[Path, str, tuple[int, int]] | None = None
        self.scale_strip = ScaleStrip(session)
        self.work_strip = WorkStrip()
        self.scale_strip.tool_changed.connect(self.take_tool)

    def load(self, path: Path) -> None:
        """Show a photograph, its marks begun afresh."""
        self.stop()

        def done(shown: Shown) -> None:
            self._job = None
            self._photo = (path, path.name, shown.size)
            self._canvas.show_photo(shown.picture, QImage(), shown.size)
            self.scale_strip.forget()
            self.loaded.emit()

        self._job = self._session.jobs.run(
            lambda _job: read_draft(path), owner=self, done=done, failed=self._failed
        )

    def take_tool(self) -> None:
        """Draw the scale."""
        tool = self.scale_strip.tool
        self._canvas.use_tools([tool], tool)
        self._canvas.setFocus()

    @property
    def missing(self) -> str:
        """What the scale still wants; empty where nothing."""
        try:
            self.scale_strip.scale()
        except BinderyError as error:
            return str(error)
        return ""

    def look(self, laid: tuple[str, ...]) -> None:
        """Outline and tell everything in the photograph, in the background."""
        if self._photo is None:
            return
        photo, scale = self._photo, self.scale_strip.scale()
        self.scale_strip.keep()
        shelf = {piece.code: piece.outline for piece in self._session.pieces}

        def work(job: Job) -> LineUpPhoto:
            def tell(share: float, words: str) -> None:
                job.check()
                job.report(share, words)

            return look_at_line_up(*photo, scale, shelf, laid, tell)

        self.work_strip.tell(0.0, "Reading the photograph…")
        self.looking.emit()
        self._job = self._session.jobs.run(
            work,
            owner=self,
            done=self._done,
            failed=self._failed,
            progress=self.work_strip.tell,
        )

    def stop(self) -> None:
        """Wait no longer for what is being read."""
        if self._job is not None:
            self._job.stop()
            self._job = None

    def _done(self, seen: LineUpPhoto) -> None:
        self._job = None
        self.looked.emit(seen)

    def _failed(self, error: Exception) -> None:
        self._job = None
        self.refused.emit(error)
