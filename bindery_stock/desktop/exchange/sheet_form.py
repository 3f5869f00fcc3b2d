"""Measures of a label sheet of one's own."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QLineEdit, QPushButton, QSpinBox, QVBoxLayout, QWidget

from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.errors import EntryError
from bindery_stock.records.label_sheets import LabelSheet
from bindery_stock.units import LengthStyle

_LENGTHS = (
    ("paper_width", "Paper, width"),
    ("paper_height", "Paper, height"),
    ("label_width", "Label, width"),
    ("label_height", "Label, height"),
    ("left", "Left edge to first label"),
    ("top", "Upper edge to first label"),
    ("pitch_across", "Pitch across"),
    ("pitch_down", "Pitch down"),
)


class SheetForm(QWidget):
    """Emits ``changed()`` when a measure changes and ``kept()`` when the sheet is to be kept."""

    changed = Signal()
    kept = Signal()

    def __init__(self, lengths: LengthStyle) -> None:
        """Begin empty; ``show_sheet`` fills it."""
        super().__init__()
        self.name = QLineEdit()
        self.columns = QSpinBox()
        self.rows = QSpinBox()
        self.entries = {
            name: LengthEntry(words, lengths, allow_zero=True) for name, words in _LENGTHS
        }
        form = QFormLayout()
        form.setHorizontalSpacing(GRID * 2)
        form.addRow("&Name", self.name)
        for words, box in (("&Columns", self.columns), ("&Rows", self.rows)):
            box.setRange(1, 40)
            box.lineEdit().setTextMargins(GRID, 0, 0, 0)  # as far in as other entries
            box.valueChanged.connect(lambda _value: self.changed.emit())
            form.addRow(words, box)
        for entry in self.entries.values():
            entry.understood.connect(self.changed)
            form.addRow(entry.field, entry)
        self.keep = QPushButton("Keep this sheet")
        self.keep.clicked.connect(self.kept)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(form)
        column.addWidget(self.keep)

    def show_sheet(self, sheet: LabelSheet) -> None:
        """Fill the form from a sheet."""
        self.blockSignals(True)
        self.name.setText(sheet.name)
        self.columns.setValue(sheet.columns)
        self.rows.setValue(sheet.rows)
        for name, entry in self.entries.items():
            entry.show_length(getattr(sheet, name))
        self.blockSignals(False)

    def sheet(self) -> LabelSheet:
        """The sheet as it is written. Raises ``EntryError``."""
        name = self.name.text().strip()
        if not name:
            raise EntryError("Name", "Name: give the sheet a name to find it again.")
        measures: dict[str, float] = {}
        for key, entry in self.entries.items():
            value = entry.value()
            if value is None:
                raise EntryError(entry.field, f"{entry.field}: measure it on the sheet.")
            measures[key] = value
        return LabelSheet(
            name=name, columns=self.columns.value(), rows=self.rows.value(), **measures
        )
