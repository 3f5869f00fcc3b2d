"""A photograph with the tools to mark cloth on it and the references that lie in it."""

from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from bindery_stock.desktop.colours.references import References
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.photo_canvas.canvas import PhotoCanvas
from bindery_stock.desktop.photo_canvas.either_tool import EitherTool
from bindery_stock.desktop.photo_canvas.read_photo import Shown, read_draft
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.session import Session


class PhotoDesk(QObject):
    """Puts the right tool into the hand: what the reference still wants, else that for the cloth.

    Emits ``loaded()`` when a photograph is shown, ``refused(Exception)`` where it cannot be,
    ``changed()`` when the references or their marks are others.
    """

    loaded = Signal()
    refused = Signal(object)
    changed = Signal()

    def __init__(
        self, session: Session, tools: tuple[RingTool, ...], parent: QObject, *, lending: bool
    ) -> None:
        """Begin without a photograph, the first tool in the hand."""
        super().__init__(parent)
        self._session = session
        self._job: Job | None = None
        self.path: Path | None = None
        self.name = ""
        self.size = (0, 0)
        self.canvas = PhotoCanvas()
        self.references = References(session, lending=lending)
        self._tools = tools
        self._hands = {
            tool: EitherTool(tool, *self.references.tools, *(t for t in tools if t is not tool))
            for tool in tools
        }
        self._hand = tools[0]
        self.references.changed.connect(self._references_changed)

    def load(self, path: Path, name: str = "") -> None:
        """Show a photograph as soon as a draft of it is decoded; its marks are begun afresh."""
        if self._job is not None:
            self._job.stop()

        def done(shown: Shown) -> None:
            self.path, self.name, self.size = path, name or path.name, shown.size
            for tool in (*self._tools, *self.references.tools):
                tool.show_rings(())
                tool.forget()
            self.canvas.show_photo(shown.picture, QImage(), shown.size)
            self.refresh()
            self.canvas.setFocus()
            self.loaded.emit()

        self._job = self._session.jobs.run(
            lambda _job: read_draft(path), owner=self, done=done, failed=self.refused.emit
        )

    def put_in_hand(self, tool: RingTool) -> None:
        """Mark with this tool from now on."""
        self._hand = tool
        self.refresh()

    @property
    def hint(self) -> str:
        """What to mark next."""
        return self.references.hint if self.references.is_wanted else self._hand.hint

    def refresh(self) -> None:
        """Give the pointer to the tool that is wanted."""
        wanted = self.references.is_wanted
        active = self.references.tool if wanted else self._hands[self._hand]
        self.canvas.use_tools([*self._tools, *self.references.tools], active)

    def _references_changed(self) -> None:
        self.refresh()
        self.changed.emit()
