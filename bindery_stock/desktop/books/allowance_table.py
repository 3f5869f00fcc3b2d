"""The allowances of a volume, a set or all work: changed here, with their range and source."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.column import scrolled
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.trade import Allowance, Allowances
from bindery_stock.units import LengthStyle

_COUNTS = frozenset({"kraft-layers"})
_SAME_MM = 0.02


class AllowanceTable(StockDialog):
    """Every allowance with an entry for this level. Emits ``changed(dict)`` with those that
    differ: names to mm, or None where one is set free again.
    """

    changed = Signal(dict)

    def __init__(
        self,
        whose: str,
        in_force: Allowances,
        own: Mapping[str, float],
        lengths: LengthStyle,
        parent: QWidget,
    ) -> None:
        """Show what is in force, and what is set at this level (``own``)."""
        super().__init__(parent)
        self._own = dict(own)
        self._lengths = lengths
        self.setWindowTitle(f"Allowances for {whose}")
        self.resize(GRID * 200, GRID * 160)
        self.entries: dict[str, LengthEntry] = {}
        self.habits: dict[str, QComboBox] = {}
        words = QLabel(
            f"What is set here counts for {whose}; an empty entry takes the level above. "
            "Each keeps its source, and a value outside the usual range is said to be so."
        )
        words.setTextFormat(Qt.TextFormat.PlainText)
        words.setWordWrap(True)
        inner = QWidget()
        grid = QGridLayout(inner)
        grid.setHorizontalSpacing(GRID * 4)
        grid.setVerticalSpacing(GRID)
        grid.setColumnStretch(3, 1)
        for column, text in enumerate(("Allowance", "In force", "Set here", "Where it comes from")):
            head = QLabel(text)
            head.setTextFormat(Qt.TextFormat.PlainText)
            head.setProperty("role", "muted")
            sized(head, TypeSize.SMALL)
            grid.addWidget(head, 0, column)
        known = [a for key, a in in_force.by_key.items() if key not in _COUNTS]
        for row, allowance in enumerate(known, start=1):
            self._add(grid, row, allowance)
        self.keep_button = next_button("Keep")
        self.act_on(self.keep_button)
        column_box = QVBoxLayout(self)
        column_box.setSpacing(GRID * 3)
        column_box.addWidget(words)
        column_box.addWidget(scrolled(inner), 1)
        column_box.addWidget(DialogFoot(self, self.keep_button, between=self.wrong))

    def _add(self, grid: QGridLayout, row: int, allowance: Allowance) -> None:
        name = QLabel(f"{allowance.words} ({allowance.symbol})")
        name.setTextFormat(Qt.TextFormat.PlainText)
        name.setWordWrap(True)
        name.setMinimumWidth(GRID * 60)
        if allowance.choices:
            self._add_habit(grid, row, allowance, name)
            return
        entry = LengthEntry(allowance.words.capitalize(), self._lengths, allow_zero=True)
        entry.setMaximumWidth(GRID * 26)
        if allowance.key in self._own:
            entry.show_length(self._own[allowance.key])
        name.setBuddy(entry)
        show = self._lengths.show
        force = QLabel(show(allowance.value) + (" △ unusual" if allowance.unusual else ""))
        force.setTextFormat(Qt.TextFormat.PlainText)
        force.setToolTip(plain_tip(f"Usual: {show(allowance.low)} to {show(allowance.high)}"))
        source = QLabel(
            f"{show(allowance.low)} to {show(allowance.high)}; {allowance.provenance.words}"
        )
        source.setTextFormat(Qt.TextFormat.PlainText)
        source.setWordWrap(True)
        source.setProperty("role", "muted")
        sized(source, TypeSize.SMALL)
        self.entries[allowance.key] = entry
        self.name_field(entry, entry.field, allowance.key, allowance.words)
        for column, widget in enumerate((name, force, entry, source)):
            grid.addWidget(widget, row, column, Qt.AlignmentFlag.AlignTop)

    def _add_habit(self, grid: QGridLayout, row: int, allowance: Allowance, name: QLabel) -> None:
        """A habit is chosen among words; the first line takes the level above."""
        name.setText(allowance.words)
        box = QComboBox()
        box.setAccessibleName(allowance.words.capitalize())
        box.addItem("–", None)
        for number, words in enumerate(allowance.choices):
            box.addItem(words, float(number))
        box.setCurrentIndex(max(box.findData(self._own.get(allowance.key)), 0))
        name.setBuddy(box)
        force, source = QLabel(allowance.chosen), QLabel(allowance.provenance.words)
        for label in (force, source):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        source.setProperty("role", "muted")
        sized(source, TypeSize.SMALL)
        self.habits[allowance.key] = box
        for column, widget in enumerate((name, force, box, source)):
            grid.addWidget(widget, row, column, Qt.AlignmentFlag.AlignTop)

    def take(self) -> None:
        """Tell what differs. Raises ``EntryError``."""
        values: dict[str, float | None] = {}
        for key, entry in self.entries.items():
            value = entry.value()
            was = self._own.get(key)
            if value is None and was is not None:
                values[key] = None
            elif value is not None and (was is None or abs(value - was) > _SAME_MM):
                values[key] = value
        for key, box in self.habits.items():
            if box.currentData() != self._own.get(key):
                values[key] = box.currentData()
        if values:
            self.changed.emit(values)
