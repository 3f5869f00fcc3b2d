"""Mistakes of the program: written down, shown once, and never left half said.

PySide goes on after an exception in a slot, so the hook here is what the user would see of it.
"""

import faulthandler
import logging
import platform
import sys
import traceback
from datetime import datetime
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QObject, QtMsgType, Signal, qInstallMessageHandler, qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QMessageBox, QWidget

from bindery_stock import __version__
from bindery_stock.clock import system_clock

_LOG = logging.getLogger("bindery_stock")
_LOG_BYTES = 500_000
_HOUSE = Path(__file__).resolve().parents[2]
_OF_THE_PROGRAM = (
    AttributeError,
    ImportError,
    NameError,
    NotImplementedError,
    RecursionError,
    TypeError,
)
"""Errors whose words name what stands in the program."""


class Faults(QObject):
    """Keeps the log and shows a fault to the user, one box at a time.

    Emits ``found(str)`` with the report, on the GUI thread whatever thread the fault was on.
    """

    found = Signal(str)

    def __init__(self, folder: Path, parent: QObject | None = None) -> None:
        """Write to ``folder``; take over the hooks for uncaught exceptions and native crashes."""
        super().__init__(parent)
        folder.mkdir(parents=True, exist_ok=True)
        self._box: QMessageBox | None = None
        handler = RotatingFileHandler(
            folder / "bindery-stock.log", maxBytes=_LOG_BYTES, backupCount=3, encoding="utf-8"
        )
        handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
        _LOG.addHandler(handler)
        _LOG.setLevel(logging.INFO)
        self._crash_file = (folder / "crash.log").open("a", encoding="utf-8")
        faulthandler.enable(self._crash_file)
        sys.excepthook = self._uncaught
        qInstallMessageHandler(_qt_message)

    def _uncaught(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        if issubclass(kind, KeyboardInterrupt):
            QGuiApplication.quit()
            return
        self.report(error.with_traceback(trace))

    def report(self, error: BaseException) -> None:
        """Write a fault down and tell the user."""
        text = fault_text(error, system_clock())
        _LOG.error("%s", text)
        self.found.emit(text)

    def show(self, text: str, parent: QWidget | None) -> None:
        """Show one fault; a second one while the box is open is only written down."""
        if self._box is not None:
            return
        box = QMessageBox(parent)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("A fault of the program")
        box.setText("Something went wrong that is not your doing. Your stock is as it was.")
        box.setInformativeText("The report below is in the log; nothing has been sent anywhere.")
        box.setDetailedText(text)
        copy = box.addButton("Copy the report", QMessageBox.ButtonRole.ActionRole)
        box.addButton(QMessageBox.StandardButton.Close)
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(text))
        box.finished.connect(self._closed)
        self._box = box
        box.open()

    def _closed(self) -> None:
        if self._box is not None:
            self._box.deleteLater()
        self._box = None


def fault_text(error: BaseException, at: datetime) -> str:
    """The report of a fault: versions and the trace, nothing personal.

    Files are named from the program's own folder on, and an error's words are kept only where they
    speak of the program: others may hold what was typed, or the path of a file.
    """
    lines = [
        f"Bindery Stock {__version__}, {at:%Y-%m-%d %H:%M} UTC",
        f"Python {platform.python_version()}, Qt {qVersion()}, {platform.system()}",
        "",
        *_trace(error),
    ]
    return "\n".join(lines)


def _trace(error: BaseException) -> list[str]:
    """The trace of an error, after that of the error it came from."""
    before = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    lines = [] if before is None else [*_trace(before), "", "from which came", ""]
    for frame in traceback.extract_tb(error.__traceback__):
        lines.append(f"  {_place(Path(frame.filename))}, line {frame.lineno}, in {frame.name}")
        lines += [f"    {line.strip()}" for line in [frame.line] if line]
    return [*lines, f"{type(error).__module__}.{type(error).__qualname__}: {_words(error)}"]


def _place(file: Path) -> str:
    """Where a file of the program or of a library lies, without the way to it."""
    if file.is_relative_to(_HOUSE):
        return file.relative_to(_HOUSE).as_posix()
    parts = file.parts
    if "site-packages" in parts:
        return "/".join(parts[parts.index("site-packages") + 1 :])
    return "/".join(parts[-2:]) if len(parts) > 2 else file.name


def _words(error: BaseException) -> str:
    """An error's own words where they cannot hold anything of the user's."""
    if isinstance(error, OSError):
        return f"{error.errno} {error.strerror}"
    # The database's own refusal names tables and columns; its parameters are hidden at the engine.
    by_database = hasattr(getattr(error, "orig", error), "sqlite_errorcode")
    if by_database or isinstance(error, _OF_THE_PROGRAM):
        return str(error)
    return "(its words are left out: they may hold yours)"


def _qt_message(kind: QtMsgType, _context: object, message: str) -> None:
    serious = kind not in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg)
    _LOG.log(logging.WARNING if serious else logging.INFO, "Qt: %s", message)
