"""What stands typed in a form and is kept nowhere yet: leaving it is asked about, once."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QLineEdit,
    QListWidget,
    QPlainTextEdit,
    QWidget,
)

LEAVE_AGAIN = "What was entered here is not kept. Leave it once more to let it go."


def _nothing() -> object:
    return None


class Unkept:
    """Tells whether a form may be left: at once if nothing was entered, else when asked again."""

    def __init__(self, form: QWidget, besides: Callable[[], object] = _nothing) -> None:
        """Watch the entries of ``form``, and what ``besides`` tells of it."""
        self._form = form
        self._besides = besides
        self._begun: object = None
        self._asked: object = None

    def begin(self) -> None:
        """As it stands now it may be left."""
        self._begun = self._asked = self._entered()

    def may_leave(self) -> bool:
        """Whether nothing is lost, or it was asked about and nothing entered since."""
        now = self._entered()
        if now in (self._begun, self._asked):
            return True
        self._asked = now
        return False

    def _entered(self) -> object:
        form = self._form
        return (
            [entry.text() for entry in form.findChildren(QLineEdit)],
            [entry.toPlainText() for entry in form.findChildren(QPlainTextEdit)],
            [box.currentText() for box in form.findChildren(QComboBox)],
            [b.isChecked() for b in form.findChildren(QAbstractButton) if b.isCheckable()],
            [_ticked(ticks) for ticks in form.findChildren(QListWidget)],
            self._besides(),
        )


def _ticked(ticks: QListWidget) -> list[object]:
    """What is ticked of a list; nothing where its lines have no ticks."""
    lines = [ticks.item(row) for row in range(ticks.count())]
    states = [line.data(Qt.ItemDataRole.CheckStateRole) for line in lines]
    return [state for state in states if state is not None]
