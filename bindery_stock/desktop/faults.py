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
    """The report of a fault: versions and the trace, nothing personal."""
    lines = [
        f"Bindery Stock {__version__}, {at:%Y-%m-%d %H:%M} UTC",
        f"Python {platform.python_version()}, Qt {qVersion()}, {platform.system()}",
        "",
        *traceback.format_exception(error),
    ]
    return "\n".join(lines)


def _qt_message(kind: QtMsgType, _context: object, message: str) -> None:
    serious = kind not in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg)
    _LOG.log(logging.WARNING if serious else logging.INFO, "Qt: %s", message)
