"""A code typed or scanned anywhere in the window goes to its piece.

A hand scanner is a keyboard that types fast and ends with Enter. Typed into an entry, a code stays
text; anywhere else the letters after the hyphen are kept from the widget beneath, so that a scan
neither moves a list nor gives a command.
"""

import re

from PySide6.QtCore import QCoreApplication, QElapsedTimer, QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
    QWidget,
)

_CODE = re.compile(r"[A-Z]-\d{1,7}")
_BEGUN = re.compile(r"[A-Z](-\d{0,7})?")
_PAUSE_MS = 1500
"""Longer between two keys, and what was typed before is forgotten."""
_ENTRIES = (QLineEdit, QPlainTextEdit, QTextEdit, QAbstractSpinBox)
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_PLAIN = Qt.KeyboardModifier.NoModifier
_HARMLESS = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier


class Scanner(QObject):
    """Watches the keys of the whole program. Emits ``scanned(str)`` with the code."""

    scanned = Signal(str)

    def __init__(self, app: QCoreApplication, parent: QObject) -> None:
        """Begin to watch, for as long as ``parent`` lives."""
        super().__init__(parent)
        self._typed = ""
        self._since = QElapsedTimer()
        app.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep to ourselves what belongs to a code."""
        kind = event.type()
        if kind not in (QEvent.Type.KeyPress, QEvent.Type.ShortcutOverride):
            return False
        # Only what a widget gets is looked at: the window under it sees the same key first.
        if not isinstance(event, QKeyEvent) or not isinstance(watched, QWidget):
            return False
        if QApplication.activeModalWidget() is not None or _takes_text(watched):
            self._typed = ""
            return False
        if kind is QEvent.Type.ShortcutOverride:
            return self._override(event)
        return self._press(event)

    def _override(self, event: QKeyEvent) -> bool:
        """A key of a code is no shortcut."""
        if self._is_ours(event):
            event.accept()
            return True
        return False

    def _is_ours(self, event: QKeyEvent) -> bool:
        if self._stale or event.modifiers() & ~_HARMLESS != _PLAIN:
            return False
        if event.key() in _ENTER:
            return _CODE.fullmatch(self._typed) is not None
        text = event.text().upper()
        return bool(self._typed and text and _BEGUN.fullmatch(self._typed + text))

    @property
    def _stale(self) -> bool:
        return not self._since.isValid() or self._since.elapsed() > _PAUSE_MS

    def _press(self, event: QKeyEvent) -> bool:
        if self._is_ours(event):
            if event.key() in _ENTER:
                code, self._typed = self._typed, ""
                self.scanned.emit(code)
            else:
                self._typed += event.text().upper()
                self._since.restart()
            return True
        text = event.text().upper()
        if text:  # a key that types nothing, such as Shift, does not interrupt a code
            plain = event.modifiers() & ~_HARMLESS == _PLAIN
            self._typed = text if plain and _BEGUN.fullmatch(text) else ""
            self._since.restart()
        return False


def _takes_text(widget: QWidget) -> bool:
    return isinstance(widget, _ENTRIES) or (isinstance(widget, QComboBox) and widget.isEditable())
