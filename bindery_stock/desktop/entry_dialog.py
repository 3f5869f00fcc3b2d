"""A dialog in which something is entered: Esc over what would be lost is asked about, once."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QWidget

from bindery_stock.desktop.unkept import LEAVE_AGAIN, Unkept, all_entered


class EntryDialog(QDialog):
    """May be left by Esc at once where nothing was entered, else when asked again."""

    def __init__(self, parent: QWidget | None) -> None:
        """Begin with nothing entered."""
        super().__init__(parent)
        self._unkept = Unkept(self.at_stake)

    def at_stake(self) -> object:
        """What would be lost, as it stands now; everything in the dialog unless told otherwise."""
        return all_entered(self)

    def begin(self) -> None:
        """As it stands now it is nothing of the binder's, and may be left."""
        self._unkept.begin()

    def say_wrong(self, words: str, field: str = "") -> None:
        """Say what is wrong, beside the entry known by ``field`` where there is one."""
        raise NotImplementedError

    def showEvent(self, event: QShowEvent) -> None:
        """What it begins with is nothing of the binder's."""
        super().showEvent(event)
        if not event.spontaneous():
            self.begin()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leaves; where something was entered it says first that it is lost."""
        if event.key() == Qt.Key.Key_Escape and not self._unkept.may_leave():
            self.say_wrong(LEAVE_AGAIN)
            return
        super().keyPressEvent(event)
