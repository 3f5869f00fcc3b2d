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


class Unkept:
    """Tells whether a form may be left: at once if nothing was entered, else when asked again."""

    def __init__(self, entered: Callable[[], object]) -> None:
        """Watch what ``entered`` tells of the form: whatever would be lost with it."""
        self._entered = entered
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


def all_entered(form: QWidget) -> tuple[object, ...]:
    """Everything typed, chosen and ticked in a form."""
    return (
        [entry.text() for entry in form.findChildren(QLineEdit)],
        [entry.toPlainText() for entry in form.findChildren(QPlainTextEdit)],
        [box.currentText() for box in form.findChildren(QComboBox)],
        [b.isChecked() for b in form.findChildren(QAbstractButton) if b.isCheckable()],
        [_ticked(ticks) for ticks in form.findChildren(QListWidget)],
    )


def _ticked(ticks: QListWidget) -> list[object]:
    """What is ticked of a list; nothing where its lines have no ticks."""
    lines = [ticks.item(row) for row in range(ticks.count())]
    states = [line.data(Qt.ItemDataRole.CheckStateRole) for line in lines]
    return [state for state in states if state is not None]
