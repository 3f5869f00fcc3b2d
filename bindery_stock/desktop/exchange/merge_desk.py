"""Taking another stockroom in: chosen, looked at, shown, done."""

import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from bindery_stock.bench.exchange.take_in import merge
from bindery_stock.desktop.exchange.merge_dialog import Choices, MergeDialog
from bindery_stock.desktop.exchange.transfer import Transfer
from bindery_stock.desktop.jobs import Job, Pool
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.records.archive_in import unpack
from bindery_stock.stock import Changes, Stockroom
from bindery_stock.stock.exchange.comparison import MergePlan

T = TypeVar("T")


class Merging(QObject):
    """Opens the other stockroom for reading, from its folder or from an archive laid out aside."""

    def __init__(self, session: Session, parent: QObject) -> None:
        """Serve this session."""
        super().__init__(parent)
        self._session = session
        self.window: QWidget | None = None
        self.dialog: MergeDialog | None = None
        self.other: Stockroom | None = None
        self._aside: Path | None = None

    def ask(self) -> None:
        """Ask for the database or the archive of the other stockroom."""
        kinds = "Stockrooms (stock.sqlite *.zip)"
        dialog = QFileDialog(self.window, "Take in another stockroom", "", kinds)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda path: self.look_at(Path(path)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def look_at(self, path: Path) -> None:
        """Look through the other stockroom in the background, and show what it would bring."""
        stockroom = self._session.stockroom
        self._let_go()

        def work(job: Job) -> tuple[Stockroom, Path | None, MergePlan]:
            aside = None
            folder = path.parent
            if path.suffix.lower() == ".zip":
                aside = Path(tempfile.mkdtemp(prefix="bindery-stock-"))
                folder = unpack(path, aside / path.stem, tell=job.report, check=job.check).folder
            other = Stockroom.open(folder, read_only=True)
            return other, aside, stockroom.exchange.plan_merge(other.exchange)

        self._follow(f"Looking through {path.name}", work, self._show)

    def _show(self, found: tuple[Stockroom, Path | None, MergePlan]) -> None:
        self.other, self._aside, plan = found
        dialog = MergeDialog(plan, self.other.folder.name, self.window)
        dialog.merge_wanted.connect(self._merge)
        dialog.rejected.connect(self._let_go_when_it_rests)
        dialog.finished.connect(dialog.deleteLater)
        self.dialog = dialog
        dialog.open()

    def _merge(self, choices: Choices) -> None:
        other, dialog = self.other, self.dialog
        if other is None or dialog is None:
            return

        def taken(_changes: Changes) -> None:
            dialog.accept()
            self._let_go()

        def refused(error: Exception) -> None:
            if isinstance(error, BinderyError):
                dialog.say_wrong(str(error))
            else:
                self._session.tell(error)

        transfer = Transfer(f"Taking in {other.folder.name}", dialog)
        transfer.follow(
            self._session.follow(
                lambda room, job: merge(
                    room, other=other, choices=choices, tell=job.report, check=job.check
                ),
                done=transfer.ended(taken),
                failed=transfer.ended(refused),
                progress=transfer.tell,
            )
        )
        transfer.finished.connect(transfer.deleteLater)
        transfer.open()

    def _let_go_when_it_rests(self) -> None:
        """The other stockroom is read until the work that was stopped has come to its end."""
        self._session.jobs.run(
            lambda _job: None, owner=self, done=lambda _: self._let_go(), pool=Pool.STOCK
        )

    def _follow(
        self,
        what: str,
        work: Callable[[Job], T],
        done: Callable[[T], None],
    ) -> None:
        transfer = Transfer(what, self.window)
        transfer.follow(
            self._session.jobs.run(
                work,
                owner=transfer,
                done=transfer.ended(done),
                failed=transfer.ended(self._failed),
                progress=transfer.tell,
            )
        )
        transfer.finished.connect(transfer.deleteLater)
        transfer.open()

    def _failed(self, error: Exception) -> None:
        self._let_go()
        self._session.tell(error)

    def _let_go(self) -> None:
        """Close the other stockroom, and remove what was laid out aside."""
        if self.other is not None:
            self.other.close()
            self.other = None
        if self._aside is not None:
            shutil.rmtree(self._aside, ignore_errors=True)
            self._aside = None
