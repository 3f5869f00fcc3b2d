"""The measurements of a volume as entries."""

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QLabel, QWidget

from bindery_stock.bench.books.survey_entries import survey_entries
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.trade import Covering, Hollow, Reback, Survey
from bindery_stock.units import LengthStyle

_CHOICES: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("reback", "Spine renewed by", tuple(Reback)),
    ("hollow", "Hollow", tuple(Hollow)),
    ("covering", "New case in", tuple(Covering)),
)
_TICKS = (
    ("old_spine", "The old spine is laid back", "Only the joints and caps are then seen."),
    ("over_linings", "Measured over its new linings", "Sizes are estimates until they are on."),
    ("folio", "Folio", "Takes longer."),
    ("brittle", "Brittle cloth", "Takes longer."),
)
_KINDS = {"reback": Reback, "hollow": Hollow, "covering": Covering}


class MeasuresForm(QWidget):
    """Lengths, habits and ticks of one volume. Emits ``changed()``."""

    changed = Signal()

    def __init__(self, lengths: LengthStyle) -> None:
        """Begin empty."""
        super().__init__()
        self.entries: dict[str, LengthEntry] = {}
        self.choices: dict[str, QComboBox] = {}
        self.ticks: dict[str, QCheckBox] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(GRID * 3)
        grid.setVerticalSpacing(GRID + 2)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        measured = survey_entries().lengths
        for place, asked in enumerate(measured):
            entry = LengthEntry(asked.words, lengths, allow_zero=asked.may_be_zero)
            entry.setWhatsThis(asked.how)
            entry.understood.connect(self.changed)
            self.entries[asked.field] = entry
            self._put(grid, place // 2, place % 2, asked.words, entry, asked.how)
        row = (len(measured) + 1) // 2
        for place, (name, words, options) in enumerate(_CHOICES):
            box = QComboBox()
            box.addItems([str(option) for option in options])
            box.setAccessibleName(words)
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            box.setMinimumContentsLength(10)
            box.currentIndexChanged.connect(self.changed)
            self.choices[name] = box
            label = QLabel(words)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setBuddy(box)
            grid.addWidget(label, row + place, 0)
            grid.addWidget(box, row + place, 1, 1, 3)
        row += len(_CHOICES)
        for place, (name, words, how) in enumerate(_TICKS):
            tick = QCheckBox(words)
            tick.setToolTip(plain_tip(how))
            tick.toggled.connect(self.changed)
            self.ticks[name] = tick
            grid.addWidget(tick, row + place // 2, (place % 2) * 2, 1, 2)

    def _put(
        self, grid: QGridLayout, row: int, side: int, words: str, entry: QWidget, how: str
    ) -> None:
        label = QLabel(words)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setBuddy(entry)
        label.setToolTip(plain_tip(how))
        entry.setMinimumWidth(GRID * 18)
        grid.addWidget(label, row, side * 2)
        grid.addWidget(entry, row, side * 2 + 1)

    def show_survey(self, survey: Survey) -> None:
        """Put a survey in."""
        for name, entry in self.entries.items():
            value = getattr(survey, name)
            entry.clear()
            if value is not None:
                entry.show_length(value)
            entry.check()
        for name, box in self.choices.items():
            box.setCurrentText(str(getattr(survey, name)))
        for name, tick in self.ticks.items():
            tick.setChecked(bool(getattr(survey, name)))

    def begin(self, shared: dict[str, Any]) -> None:
        """Begin a volume with what its set has in common."""
        for name, entry in self.entries.items():
            entry.clear()
            value = shared.get(name)
            if isinstance(value, int | float) and not isinstance(value, bool):
                entry.show_length(float(value))
            entry.check()
        for name, box in self.choices.items():
            box.setCurrentIndex(0)  # what was chosen for the volume before is not handed on
            if name in shared:
                box.setCurrentText(str(shared[name]))
        for name, tick in self.ticks.items():
            tick.setChecked(bool(shared.get(name, name == "old_spine")))

    def values(self) -> dict[str, Any]:
        """What stands in the entries. Raises ``EntryError`` naming the one that is wrong."""
        found: dict[str, Any] = {name: entry.value() for name, entry in self.entries.items()}
        if found["rise"] is None:
            del found["rise"]
        for name, box in self.choices.items():
            found[name] = _KINDS[name](box.currentText())
        for name, tick in self.ticks.items():
            found[name] = tick.isChecked()
        return found

    def restyle(self, lengths: LengthStyle) -> None:
        """Show the lengths in another unit."""
        for entry in self.entries.values():
            entry.restyle(lengths)
