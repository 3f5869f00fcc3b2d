"""A dialog over one photograph: cloth is marked on it, and what that comes to is worked out."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QLayout, QPushButton, QVBoxLayout, QWidget

from bindery_stock.bench.photo_table.marks import Grey, Patches
from bindery_stock.desktop.colours.photo_desk import PhotoDesk
from bindery_stock.desktop.column import plain_label, scrolled
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.entry_dialog import EntryDialog
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError

_SIDE_WIDTH = GRID * 98


class PhotoDialog(EntryDialog):
    """The photograph at the left, what is asked and found at the right.

    Who builds on it says what to read in ``refresh``, and shows trouble in ``say_trouble``.
    """

    def __init__(
        self, session: Session, tools: tuple[RingTool, ...], parent: QWidget, *, lending: bool
    ) -> None:
        """Begin without a photograph, the first tool in the hand."""
        super().__init__(parent)
        self._session = session
        self._job: Job | None = None
        self._tools = tools
        self.desk = PhotoDesk(session, tools, self, lending=lending)
        self.hint = plain_label(tools[0].hint, muted=True)
        self.desk.loaded.connect(self.show_hint)
        self.desk.changed.connect(self.refresh)

    def lay_out(
        self, photograph: QWidget, panel: Sequence[QWidget | QLayout | None], go: QPushButton
    ) -> None:
        """Stand the photograph beside the panel; None in the panel gives the room that is left."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        for part in panel:
            if isinstance(part, QWidget):
                column.addWidget(part)
            elif isinstance(part, QLayout):
                column.addLayout(part)
            else:
                column.addStretch(1)
        side = QWidget()
        side.setFixedWidth(_SIDE_WIDTH)
        right = QVBoxLayout(side)
        right.setContentsMargins(GRID, 0, 0, 0)
        right.setSpacing(GRID * 3)
        right.addWidget(scrolled(inside), 1)
        right.addWidget(DialogFoot(self, go))
        row = QHBoxLayout(self)
        row.setSpacing(GRID * 3)
        row.addWidget(photograph, 1)
        row.addWidget(side)

    def at_stake(self) -> object:
        """What is marked on the photograph; the photograph itself can be chosen again."""
        return tuple(tuple(tool.rings) for tool in self._tools)

    def say_wrong(self, words: str, field: str = "") -> None:  # noqa: ARG002 - no entry is at fault
        """Say it where it is said what to do next."""
        self.hint.setText(f"△ {words}")

    def refresh(self) -> None:
        """Read the marks again."""
        raise NotImplementedError

    def say_trouble(self, words: str) -> None:
        """Say why nothing can be read."""
        raise NotImplementedError

    def show_hint(self) -> None:
        """Say what to mark next."""
        self.hint.setText(self.desk.hint)

    def stop_reading(self) -> None:
        """Wait no longer for what was being read."""
        if self._job is not None:
            self._job.stop()
            self._job = None

    def reading_with(
        self,
        work: Callable[[Grey | Patches | None], Any],
        done: Callable[[Any], None],
        failed: Callable[[Exception], None],
    ) -> bool:
        """Read in the background by the reference marked; False where that cannot be used."""
        try:
            reference = self.desk.references.reference()
        except EntryError as error:
            self.say_trouble(str(error))
            return False
        self._job = self._session.jobs.run(
            lambda _job: work(reference), owner=self, done=done, failed=failed
        )
        return True
