"""What leaves the program and what comes back, as commands of the window."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QDialog, QFileDialog, QWidget

from bindery_stock.bench.exchange.copies import back_up, go_back
from bindery_stock.bench.exchange.import_table import Trial
from bindery_stock.bench.exchange.take_in import take_in_table
from bindery_stock.clock import system_clock
from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.exchange.backups_dialog import BackupsDialog
from bindery_stock.desktop.exchange.import_dialog import ImportDialog
from bindery_stock.desktop.exchange.inbox import Inbox
from bindery_stock.desktop.exchange.labels_dialog import LabelsDialog
from bindery_stock.desktop.exchange.lists_dialog import ListsDialog
from bindery_stock.desktop.exchange.merge_desk import Merging
from bindery_stock.desktop.exchange.record_dialog import RecordDialog
from bindery_stock.desktop.exchange.records_commands import records_commands
from bindery_stock.desktop.exchange.transfer import Transfer
from bindery_stock.desktop.jobs import Pool
from bindery_stock.desktop.news import Turn
from bindery_stock.desktop.printing.paper_panel import ask_save
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError, NotFound
from bindery_stock.records.archive_in import Unpacked, unpack
from bindery_stock.records.counted import counted
from bindery_stock.records.stock_archive import SUFFIX, Packed, pack
from bindery_stock.stock.keeping.salvage import Salvaged, salvage


class RecordsDesk(QObject):
    """Opens the dialogs of labels, lists, records, archives and backups.

    ``window`` is set once the window has been built; ``open_folder`` opens a stock folder, and
    ``chosen`` tells the codes chosen in the place in front.
    """

    def __init__(
        self,
        session: Session,
        open_folder: Callable[[Path], None],
        chosen: Callable[[], list[str]],
        offer: Callable[[list[Path]], None],
        volume: Callable[[], str] = str,
    ) -> None:
        """Serve this session.

        ``offer`` takes photographs that come in to the photo table; ``volume`` tells the code of
        the volume in front, or nothing.
        """
        super().__init__()
        self.session = session
        self.window: QWidget | None = None
        self.dialog: QDialog | None = None
        self._open_folder = open_folder
        self._chosen = chosen
        self._volume = volume
        self.inbox = Inbox(session, offer)
        self.inbox.setParent(self)
        self.merging = Merging(session, self)
        session.turn_began.connect(self._follow_turn)

    def show_code(self, code: str) -> None:
        """Go to the piece of a code that was typed or scanned."""
        try:
            self.session.show_code(code)
        except NotFound as error:
            self.session.tell(error)

    def _open(self, dialog: QDialog) -> None:
        self.dialog = dialog
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def labels(self) -> None:
        """Labels for what is chosen."""
        self._open(LabelsDialog(self.session, self._chosen(), self.window))

    def lists(self) -> None:
        """The lists."""
        self._open(ListsDialog(self.session, self.window))

    def record(self) -> None:
        """The treatment record of the volume in front, or of one to be chosen."""
        self._open(RecordDialog(self.session, self._volume(), self.window))

    # A table comes in

    def take_in(self) -> None:
        """Ask for a table of pieces or of adhesives."""
        kinds = "Tables (*.csv *.txt *.tsv *.xlsx)"
        dialog = QFileDialog(self.window, "Take in a table", "", kinds)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda path: self.take_in_from(Path(path)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def take_in_from(self, path: Path) -> None:
        """Show what a table holds and what taking it in would do."""
        try:
            dialog = ImportDialog(self.session, path, self.window)
        except BinderyError as error:
            self.session.tell(error)
            return
        dialog.taken_in.connect(lambda trial: self._shelve(dialog, trial, path.name))
        self._open(dialog)

    def _shelve(self, dialog: ImportDialog, trial: Trial, name: str) -> None:
        """Shelve what a table holds as one step, which one undo takes back."""

        def refused(error: Exception) -> None:
            if isinstance(error, BinderyError):
                dialog.say_wrong(str(error))
            else:
                self.session.tell(error)

        what = counted(trial.count, trial.subject.word)
        transfer = Transfer(f"Taking in {what}", dialog)
        transfer.follow(
            self.session.follow(
                lambda room, job: take_in_table(
                    room, trial=trial, source=name, tell=job.report, check=job.check
                ),
                done=transfer.ended(lambda _changes: dialog.accept()),
                failed=transfer.ended(refused),
                progress=transfer.tell,
            )
        )
        self._open(transfer)

    def _follow_turn(self, turn: Turn) -> None:
        """Show how far a long step has been taken back."""
        transfer = Transfer("Undo or redo of many things", self.window)
        if turn.job is not None:
            transfer.follow(turn.job)
        turn.progressed.connect(transfer.tell)
        turn.ended.connect(transfer.end)
        transfer.finished.connect(turn.deleteLater)
        self._open(transfer)

    # Backups

    def backups(self) -> None:
        """The copies of the stockroom in use, else of the one refused, else of the last one."""
        session = self.session
        if session.is_open:
            folder: Path | None = session.stockroom.folder
        else:
            folder = session.refused or session.settings.last_stockroom
        if folder is None:
            session.tell(NotFound("There is no stockroom yet, and so no copy of one."))
            return
        dialog = BackupsDialog(folder, self.window)
        dialog.make.setEnabled(session.is_open and not session.stockroom.read_only)
        dialog.save.setEnabled(not session.is_open)
        dialog.restore_wanted.connect(lambda copy: self._restore(dialog, copy))
        dialog.copy_wanted.connect(lambda: self._copy(dialog))
        dialog.salvage_wanted.connect(lambda: self._salvage(dialog))
        self._open(dialog)

    def _copy(self, dialog: BackupsDialog) -> None:
        stockroom = self.session.stockroom
        self.session.jobs.run(
            lambda _job: back_up(stockroom, reason="asked"),
            owner=dialog,
            done=lambda _path: dialog.refresh(),
            failed=lambda error: dialog.told.setText(str(error)),
            pool=Pool.STOCK,
        )

    def _restore(self, dialog: BackupsDialog, copy: Path) -> None:
        folder = dialog.folder
        self.session.close_stockroom()
        try:
            done = go_back(folder, copy=copy, at=system_clock())
        except BinderyError as error:
            dialog.told.setText(str(error))
            self._open_folder(folder)
            return
        dialog.accept()
        self._open_folder(folder)
        self.session.said.emit(
            f"Went back to the copy of {done.then.steps} steps; what was here is kept as "
            f"{done.kept.name}."
        )

    def _salvage(self, dialog: BackupsDialog) -> None:
        try:
            done: Salvaged = salvage(dialog.folder, system_clock())
        except BinderyError as error:
            dialog.told.setText(str(error))
            return
        dialog.refresh()
        dialog.told.setText(f"{done.words}\n\nGo back to this copy to use it.")

    # The whole stockroom

    def pack(self) -> None:
        """Ask where the whole stockroom goes as one file."""
        folder = self.session.stockroom.folder
        name = f"{folder.name} {self.session.stockroom.today.isoformat()}{SUFFIX}"
        over = self.window or QWidget()
        kinds = "Stockroom archive (*.zip)"
        ask_save(over, "Save the whole stockroom", folder.parent / name, kinds, self.pack_to)

    def pack_to(self, path: Path) -> None:
        """Write the whole stockroom to one file, in the background."""
        stockroom = self.session.stockroom

        def done(packed: Packed) -> None:
            self.session.said.emit(packed.words)

        transfer = Transfer(f"Saving {path.name}", self.window)
        transfer.follow(
            self.session.jobs.run(
                lambda job: pack(stockroom, path, system_clock(), tell=job.report, check=job.check),
                owner=transfer,
                done=transfer.ended(done),
                failed=transfer.ended(self.session.tell),
                progress=transfer.tell,
            )
        )
        self._open(transfer)

    def unpack(self) -> None:
        """Ask for an archive, then for the folder in which it is laid out."""
        dialog = QFileDialog(self.window, "Lay out a stockroom archive", "", "Archive (*.zip)")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda path: self._ask_folder(Path(path)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def merge(self) -> None:
        """Take another stockroom into this one."""
        self.merging.window = self.window
        self.merging.ask()

    def _ask_folder(self, path: Path) -> None:
        dialog = QFileDialog(self.window, "Choose an empty folder for the stockroom")
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        dialog.fileSelected.connect(lambda folder: self.unpack_to(path, Path(folder)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def unpack_to(self, path: Path, folder: Path) -> None:
        """Lay an archive out as a stock folder, in the background, and open it."""

        def done(unpacked: Unpacked) -> None:
            self._open_folder(unpacked.folder)
            self.session.said.emit(unpacked.words)

        transfer = Transfer(f"Laying out {path.name}", self.window)
        transfer.follow(
            self.session.jobs.run(
                lambda job: unpack(path, folder, tell=job.report, check=job.check),
                owner=transfer,
                done=transfer.ended(done),
                failed=transfer.ended(self.session.tell),
                progress=transfer.tell,
            )
        )
        self._open(transfer)

    # The phone folder

    def watch_phone(self) -> None:
        """Ask for the folder in which the phone lays its photographs."""
        dialog = QFileDialog(self.window, "The folder in which the phone lays its photographs")
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        dialog.fileSelected.connect(lambda folder: self.inbox.watch(Path(folder)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    # Commands

    def commands(self) -> list[Command]:
        """Everything that leaves and comes back."""
        return records_commands(self)
