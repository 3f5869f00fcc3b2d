"""Opening and making stockrooms, and what belongs to no single place."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox, QWidget

from bindery_stock import __version__
from bindery_stock.desktop.help import HelpWindow
from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.sample import fresh_copy, open_working_copy
from bindery_stock.desktop.screen import MarkTurns
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import data_folder, documents_folder
from bindery_stock.errors import BinderyError, NewerStockroom, NotAStockroom, StockroomInUse
from bindery_stock.stock import Stockroom
from bindery_stock.units import Unit

FIRST_NAME = "My stockroom"


def _no_marks() -> MarkTurns | None:
    """Nothing is being marked."""
    return None


class FrontDesk(QObject):
    """Opens, makes and changes stockrooms for the window."""

    def __init__(self, session: Session) -> None:
        """Serve this session; ``window`` is set once the window has been built."""
        super().__init__()
        self.session = session
        self.window: QWidget | None = None
        self.marks: Callable[[], MarkTurns | None] = _no_marks
        """What is being marked at the place in front; set once the window has been built."""
        self._help: HelpWindow | None = None

    # Opening

    def open_first(self, folder: Path | None, *, sample: bool) -> None:
        """Open what was asked for, else what was open last, else a first stockroom of one's own.

        The first one is made empty in the user's documents: nothing is asked at the first start,
        and the empty shelf says what to do, with the sample one click away.
        """
        last = self.session.settings.last_stockroom
        if sample:
            self.open_sample()
        elif folder is not None:
            self.open_folder(folder)
        elif last is not None and last.exists():
            self.open_folder(last)
        else:
            first = documents_folder() / FIRST_NAME
            if (first / "stock.sqlite").exists():
                self.open_folder(first)
            else:
                self.make(first)

    def open_folder(self, folder: Path) -> None:
        """Open a stock folder; for reading only where it cannot be written."""
        try:
            self.session.take(open_working_copy(folder, data_folder()))
        except (NewerStockroom, StockroomInUse) as refusal:
            self._open_for_reading(folder, refusal)
        except BinderyError as error:
            self.session.refuse(folder, error)

    def _open_for_reading(self, folder: Path, refusal: BinderyError) -> None:
        try:
            room = Stockroom.open(folder, read_only=True)
        except BinderyError as error:
            self.session.refuse(folder, error)
            return
        words = f"{refusal} It is open here for reading only."
        self.session.take(room, then=partial(self.session.trouble.emit, words))

    def open_sample(self) -> None:
        """Lay out the sample stockroom afresh and open it; where that fails, stay where we are."""
        before = self.session.stockroom.folder if self.session.is_open else None
        # It may be the working copy that is open, and about to be laid out afresh.
        self.session.close_stockroom()
        try:
            fresh = fresh_copy(data_folder())
        except BinderyError as error:
            if before is not None:
                self.open_folder(before)
            self.session.tell(error)
            return
        self.open_folder(fresh)

    def make(self, folder: Path) -> None:
        """Make a new stockroom in a folder and open it."""
        try:
            self.session.use(Stockroom.create(folder))
        except BinderyError as error:
            self.session.refuse(folder, error)

    # Asking for a folder

    def _ask(self, caption: str, chosen: Callable[[Path], None]) -> None:
        dialog = QFileDialog(self.window, caption)
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        last = self.session.settings.last_stockroom
        if last is not None:
            dialog.setDirectory(str(last.parent))
        dialog.fileSelected.connect(lambda path: chosen(Path(path)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def ask_open(self) -> None:
        """Choose a stock folder to open."""
        self._ask("Open a stock folder", self._open_or_explain)

    def _open_or_explain(self, folder: Path) -> None:
        if not (folder / "stock.sqlite").exists():
            self.session.tell(
                NotAStockroom(
                    f"{folder.name} holds no stockroom. Choose a folder with stock.sqlite in it, "
                    "or make a new stockroom there from the Stockroom menu."
                )
            )
            return
        self.open_folder(folder)

    def ask_make(self) -> None:
        """Choose an empty folder for a new stockroom."""
        self._ask("Choose an empty folder for the new stockroom", self.make)

    # The rest

    def set_scheme(self, scheme: Scheme) -> None:
        """Use the light or the dark palette, or follow the system."""
        self.session.settings.scheme = scheme
        app = QApplication.instance()
        if isinstance(app, QApplication):
            dress(app, scheme)

    def set_unit(self, unit: Unit) -> None:
        """Read and show lengths in millimetres or inches."""
        self.session.settings.unit = unit
        if self.session.is_open:
            self.session.opened.emit()

    def scheme_is(self, scheme: Scheme) -> bool:
        """Whether this palette is chosen."""
        return self.session.settings.scheme is scheme

    def unit_is(self, unit: Unit) -> bool:
        """Whether lengths are shown in this unit."""
        return self.session.settings.unit is unit

    def show_help(self) -> None:
        """Open the help pages."""
        if self._help is None:
            self._help = HelpWindow(self.window)
        self._help.show()
        self._help.raise_()

    def show_about(self) -> None:
        """Say what this is."""
        box = QMessageBox(self.window)
        box.setWindowTitle("About Bindery Stock")
        box.setText(f"Bindery Stock {__version__}")
        box.setInformativeText(
            "A stockroom for the repair of cloth-bound books. It uses no network: nothing leaves "
            "this machine. Free software under the MIT licence."
        )
        box.finished.connect(box.deleteLater)
        box.open()

    def close_window(self) -> None:
        """Close the window, and with it the program."""
        if self.window is not None:
            self.window.close()

    def undo(self) -> None:
        """Take back the last mark while something is being marked, else the last step."""
        marks = self.marks()
        if marks is not None:
            marks.take_back()
        else:
            self.session.undo()

    def redo(self) -> None:
        """Do the last mark again that was taken back, else the last step."""
        marks = self.marks()
        if marks is None:
            self.session.redo()
        elif marks.do_again is not None:
            marks.do_again()

    def may_undo(self) -> bool:
        """Whether there is a mark or a step to take back."""
        session = self.session
        marks = self.marks()
        if marks is not None:
            return bool(marks.undo)
        step = session.undoable
        return step is not None and not session.stockroom.read_only

    def may_redo(self) -> bool:
        """Whether there is a mark or a step to do again."""
        session = self.session
        marks = self.marks()
        if marks is not None:
            return bool(marks.redo)
        step = session.redoable
        return step is not None and not session.stockroom.read_only
