"""The colour family of a scrap, judged by eye where no colour is measured."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QWidget

from bindery_stock.bench.shelf.cautions import families_by_care
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.session import Session

_BY_EYE = (
    "Judged by eye where it is least faded. Where two words fit, take the upper one: its caution "
    "is the graver."
)


class FamilyBox(QWidget):
    """Emits ``chosen(str)`` with the family, or with nothing where it is not judged."""

    chosen = Signal(str)

    def __init__(self, session: Session) -> None:
        """Begin hidden."""
        super().__init__()
        self._session = session
        self.box = QComboBox()
        self.box.setAccessibleName("Colour family, judged by eye")
        self.box.activated.connect(lambda _index: self.chosen.emit(str(self.box.currentData())))
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.addRow("Colour fa&mily", self.box)
        form.addRow(plain_label(_BY_EYE, muted=True))
        self.hide()

    def show_family(self, family: str) -> None:
        """Show this family among all, the gravest caution first."""
        words = ("", *families_by_care(self._session.rules))
        if self.box.count() != len(words):
            self.box.clear()
            for word in words:
                self.box.addItem(word or "not judged yet", word)
        self.box.setCurrentIndex(max(0, self.box.findData(family)))
