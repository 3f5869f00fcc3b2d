"""The hands of pytest-qt, with the patience a busy machine needs."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import SignalInstance
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.patience import PATIENCE

_PATIENCE_MS = round(PATIENCE * 1000)


class PatientBot(QtBot):
    """The hands of pytest-qt, which by themselves lose patience after five seconds."""

    def waitUntil(self, callback: Callable[[], bool | None]) -> None:  # noqa: N802 (pytest-qt's)
        """Wait until ``callback`` is true, or no longer fails an assertion."""
        super().waitUntil(callback, timeout=_PATIENCE_MS)

    def waitSignal(self, signal: SignalInstance, **more: Any) -> Any:  # noqa: N802
        """Wait, at the end of the ``with`` block, for a signal."""
        return super().waitSignal(signal, timeout=_PATIENCE_MS, **more)

    def waitSignals(self, signals: list[SignalInstance], **more: Any) -> Any:  # noqa: N802
        """Wait, at the end of the ``with`` block, for all these signals."""
        return super().waitSignals(signals, timeout=_PATIENCE_MS, **more)

    def waitExposed(self, widget: QWidget) -> Any:  # noqa: N802
        """Wait, at the end of the ``with`` block, for a window to be seen."""
        return super().waitExposed(widget, timeout=_PATIENCE_MS)

    def waitActive(self, widget: QWidget) -> Any:  # noqa: N802
        """Wait, at the end of the ``with`` block, for a window to have the keyboard."""
        return super().waitActive(widget, timeout=_PATIENCE_MS)

    def waitCallback(self, **more: Any) -> Any:  # noqa: N802
        """Wait, at the end of the ``with`` block, for a call."""
        return super().waitCallback(timeout=_PATIENCE_MS, **more)
