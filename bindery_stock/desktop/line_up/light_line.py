"""The line of a line-up that asks for its light and for what the scraps are held against."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QWidget

from bindery_stock.bench.colour_room.sitting import LIGHTS
from bindery_stock.desktop.column import entry_name
from bindery_stock.desktop.look import GRID


class LightLine(QWidget):
    """Emits ``changed()``. A light nobody chose would be a guess, so none stands there."""

    changed = Signal()

    def __init__(self, purpose: str) -> None:
        """Begin with what the part is called, and no light."""
        super().__init__()
        self.light = QComboBox()
        self.light.setEditable(True)
        self.light.addItems(LIGHTS)
        self.light.setCurrentIndex(-1)
        self.light.setAccessibleName("Light")
        line = self.light.lineEdit()
        if line is not None:
            line.setPlaceholderText("overcast window, reading lamp …")
        self.purpose = QLineEdit(purpose)
        self.purpose.setPlaceholderText("spine strip, vol. 4")
        self.purpose.setAccessibleName("For")
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, 0, GRID * 3, 0)
        row.setSpacing(GRID * 2)
        for words, entry in (("&Light it was taken in", self.light), ("&For", self.purpose)):
            label = entry_name(words)
            label.setBuddy(entry)
            row.addWidget(label)
            row.addWidget(entry, 1)
        self.light.editTextChanged.connect(lambda _text: self.changed.emit())
        self.purpose.textChanged.connect(lambda _text: self.changed.emit())

    @property
    def said(self) -> dict[str, str]:
        """``light`` and ``purpose`` as they stand."""
        return {"light": self.light.currentText(), "purpose": self.purpose.text()}

    @property
    def missing(self) -> str:
        """What is still to be said; empty where nothing is."""
        if not self.light.currentText().strip():
            return "Say under which light it was taken."
        if not self.purpose.text().strip():
            return "Say what the scraps are for."
        return ""
