"""One step of shelving, as it stands at the right of the photograph."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bindery_stock.bench.photo_table.found import Found
from bindery_stock.bench.photo_table.marks import Facts, Marks, StepName
from bindery_stock.desktop.colours.found_strip import FoundStrip
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.tool import Tool
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.session import Session


class TableStep(QWidget):
    """The controls of one step.

    Emits ``marked(Marks)`` when a mark was made or changed here, ``typed(Marks)`` for what is typed
    and so has its own way back, and ``tool_changed()`` when another tool is to take the pointer.
    ``tool`` takes the pointer on the photograph while the step is the current one.
    """

    marked = Signal(object)
    typed = Signal(object)
    tool_changed = Signal()
    name: StepName
    tool: Tool | None = None
    strip: FoundStrip | None = None
    """What stands under the photograph while the step is the current one."""

    def __init__(self, session: Session, hint: str) -> None:
        """Say what to do, above the controls."""
        super().__init__()
        self.session = session
        self.draft: ScrapDraft | None = None
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(GRID * 2)
        self.hint = plain_label(hint, muted=True)
        self.column.addWidget(self.hint)

    @property
    def tools(self) -> tuple[Tool, ...]:
        """Every tool of the step, so that its marks are seen from the other steps as well."""
        return () if self.tool is None else (self.tool,)

    def show_draft(self, draft: ScrapDraft) -> None:
        """Show what is marked on this photograph."""
        self.draft = draft

    def finding(self, draft: ScrapDraft) -> Found:
        """What this step has found."""
        raise NotImplementedError

    def read(self) -> None:
        """Take in what is typed. Raises ``EntryError`` where it cannot be used."""

    def accept(self) -> None:
        """Take in what is typed and agree to what is suggested, before passing on."""
        self.read()

    def begin(self) -> bool:
        """The step is the current one: take the focus; False leaves it on the photograph."""
        return False

    def show_strip(self, *, current: bool) -> None:
        """Show or hide what stands under the photograph."""

    def answer(self, key: Qt.Key) -> bool:  # noqa: ARG002 - most steps ask nothing
        """Enter, Esc or another key answers what is asked under the photograph; whether it did."""
        return False

    def leave(self) -> None:
        """No photograph lies on the table any more."""

    def jobs_stopped(self) -> None:
        """Work under way in the background was stopped and will not be delivered."""

    @property
    def marks(self) -> Marks:
        """The marks of the photograph on the table."""
        return self.draft.marks if self.draft else Marks()

    @property
    def facts(self) -> Facts:
        """The facts of the piece on the table."""
        return (self.draft.facts if self.draft else None) or Facts()
