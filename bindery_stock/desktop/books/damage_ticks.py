"""The damage of a volume, ticked in the trade's terms."""

from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QLineEdit, QWidget

from bindery_stock.bench.books.survey_entries import DamageAsked, survey_entries
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.entries import LengthEntry, NumberEntry
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.trade import Damage, Harm
from bindery_stock.units import LengthStyle

_MOST_PLACES = 200
_PLACED = (
    "The damage of this volume is kept by its places: change it under Damage… on its page. What "
    "is ticked here follows from it, or from the treatments chosen."
)


@dataclass(slots=True)
class _TickLine:
    """The widgets of one tick."""

    row: int
    tick: QCheckBox
    count: NumberEntry | None
    extent: LengthEntry | None
    across: LengthEntry | None

    @property
    def entries(self) -> list[QLineEdit]:
        """What may be typed beside the tick."""
        return [one for one in (self.count, self.extent, self.across) if one is not None]


class DamageTicks(QWidget):
    """One line for each harm, with how many places and how far. Emits ``changed()``."""

    changed = Signal()

    def __init__(self, lengths: LengthStyle) -> None:
        """Begin with nothing ticked."""
        super().__init__()
        self.lines: dict[Harm, _TickLine] = {}
        self._more: list[Damage] = []
        """Further ticks of a harm that has one already, kept as they are while it is ticked."""
        grid = self._grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(GRID * 2)
        grid.setVerticalSpacing(GRID)
        grid.setColumnStretch(0, 1)
        self._placed: tuple[Damage, ...] | None = None
        """The ticks that follow from places and treatments, and are not ticked by hand."""
        self.placed_line = plain_label(_PLACED, muted=True)
        grid.addWidget(self.placed_line, 0, 0, 1, 4)
        self.placed_line.hide()
        row = 1
        for heading, ticks in survey_entries().groups:
            words = QLabel(heading)
            words.setTextFormat(Qt.TextFormat.PlainText)
            sized(words, TypeSize.SMALL, bold=True)
            words.setProperty("role", "muted")
            grid.addWidget(words, row, 0, 1, 4)
            grid.setRowMinimumHeight(row, GRID * 7)
            row += 1
            for asked in ticks:
                self._add(grid, row, asked, lengths)
                row += 1

    def showEvent(self, event: QShowEvent) -> None:
        """Rows of one height, whether there is something to type in them or not."""
        super().showEvent(event)
        entries = [one for line in self.lines.values() for one in line.entries]
        tallest = max(entry.sizeHint().height() for entry in entries)
        for line in self.lines.values():
            self._grid.setRowMinimumHeight(line.row, tallest)

    def _add(self, grid: QGridLayout, row: int, asked: DamageAsked, lengths: LengthStyle) -> None:
        harm = asked.harm
        tick = QCheckBox(harm.value.capitalize())
        count = None
        if asked.counted:
            count = NumberEntry(f"{harm.value}: places", 1, _MOST_PLACES)
            count.setPlaceholderText("places")
            count.setMinimumWidth(GRID * 14)
            count.understood.connect(self.changed)
            grid.addWidget(count, row, 1)
        entries: list[LengthEntry | None] = []
        for column, words in enumerate((asked.along, asked.across), start=2):
            entry = None
            if words:
                entry = LengthEntry(f"{harm.value}: {words}", lengths)
                entry.setPlaceholderText(words)
                entry.setMinimumWidth(GRID * 22)
                entry.understood.connect(self.changed)
                grid.addWidget(entry, row, column)
            entries.append(entry)
        line = _TickLine(row, tick, count, entries[0], entries[1])
        self.lines[harm] = line
        grid.addWidget(tick, row, 0, Qt.AlignmentFlag.AlignVCenter)
        tick.toggled.connect(lambda on, one=line: self._ticked(one, on=on))
        self._show(line, on=False)

    def _ticked(self, line: _TickLine, *, on: bool) -> None:
        self._show(line, on=on)
        self.changed.emit()

    def _show(self, line: _TickLine, *, on: bool) -> None:
        for entry in line.entries:
            entry.setEnabled(on)
            # Kept in the layout, so that nothing jumps when a line is ticked.
            policy = entry.sizePolicy()
            policy.setRetainSizeWhenHidden(True)
            entry.setSizePolicy(policy)
            entry.setVisible(on)

    def show_damage(self, damage: tuple[Damage, ...], *, placed: bool = False) -> None:
        """Tick these; where they follow from what is placed they cannot be ticked by hand."""
        self._placed = damage if placed else None
        self.setEnabled(not placed)
        self.placed_line.setVisible(placed)
        by_harm = {one.harm: one for one in reversed(damage)}
        self._more = [one for one in damage if by_harm[one.harm] is not one]
        for harm, line in self.lines.items():
            one = by_harm.get(harm)
            line.tick.setChecked(one is not None)
            if line.count is not None:
                line.count.setText(str(one.count) if one else "")
                line.count.check()
            for entry, value in (
                (line.extent, one.extent if one else None),
                (line.across, one.across if one else None),
            ):
                if entry is not None:
                    entry.clear()
                    if value is not None:
                        entry.show_length(value)
                    entry.check()

    def damage(self) -> tuple[Damage, ...]:
        """What is ticked. Raises ``EntryError`` naming what must still be measured."""
        if self._placed is not None:
            return self._placed
        ticked = {harm: line for harm, line in self.lines.items() if line.tick.isChecked()}
        found = [
            Damage(
                harm,
                _places(line.count),
                line.extent.value() if line.extent is not None else None,
                line.across.value() if line.across is not None else None,
            )
            for harm, line in ticked.items()
        ]
        return (*found, *(one for one in self._more if one.harm in ticked))


def _places(entry: NumberEntry | None) -> int:
    """How many places a tick stands for: one where nothing is typed."""
    value = entry.value() if entry is not None else None
    return 1 if value is None else round(value)
