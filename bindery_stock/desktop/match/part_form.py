"""What must be cut: size, warp, margin, shown or hidden, tolerance, stuff."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.entries import LengthEntry, NumberEntry
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.matching import Part
from bindery_stock.stock import Lab
from bindery_stock.trade.vocabulary import PATTERNS, Kind
from bindery_stock.units import LengthStyle

_TURNS: tuple[tuple[str, tuple[float, ...]], ...] = (
    ("Along the warp, either end up", (0, 180)),
    ("Along the warp, this end up", (0,)),
    ("Along or across the warp", (0, 90, 180, 270)),
)
_ANY = "any"


class PartForm(QWidget):
    """The part sought. Emits ``changed()`` when what is typed makes a different part."""

    changed = Signal()

    def __init__(self, lengths: LengthStyle) -> None:
        """Begin with a spine strip for an octavo: the commonest part."""
        super().__init__()
        heading = QLabel("Part")
        sized(heading, TypeSize.HEAD)
        self.purpose = QLineEdit()
        self.purpose.setPlaceholderText("spine strip, vol. 4")
        self.along = LengthEntry("Along the warp", lengths)
        self.across = LengthEntry("Across the warp", lengths)
        self.margin = LengthEntry("Margin all round", lengths, allow_zero=True)
        self.tolerance = NumberEntry("Up to ΔE00", 0, 100)
        self.tolerance.setPlaceholderText("any")
        self.turns = QComboBox()
        self.turns.addItems([text for text, _ in _TURNS])
        self.kind = QComboBox()
        self.kind.addItem(_ANY, None)
        for kind in Kind:
            self.kind.addItem(kind.value, kind)
        self.kind.setCurrentText(Kind.CLOTH.value)
        self.pattern = QComboBox()
        self.pattern.addItems([_ANY, *PATTERNS])
        self.shown = QRadioButton("Shown")
        self.hidden = QRadioButton("Hidden")
        self.hidden.setToolTip("A hidden lining takes the poorest cloth that serves.")
        self.shown.setChecked(True)
        group = QButtonGroup(self)
        group.addButton(self.shown)
        group.addButton(self.hidden)
        self.reserved = QCheckBox("Reserved pieces too")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(heading)
        column.addLayout(self._form())
        self._narrow()
        self._listen()
        self.along.show_length(228)
        self.across.show_length(58)
        self.margin.show_length(2)

    def _narrow(self) -> None:
        """Let the boxes be as narrow as the column; the list opens as wide as it needs."""
        policy = QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        for box in (self.turns, self.kind, self.pattern):
            box.setSizeAdjustPolicy(policy)
            box.setMinimumContentsLength(8)
        for entry in (self.purpose, self.along, self.across, self.margin, self.tolerance):
            entry.setMinimumWidth(GRID * 20)

    def _form(self) -> QFormLayout:
        where = QHBoxLayout()
        where.addWidget(self.shown)
        where.addWidget(self.hidden)
        where.addStretch(1)
        form = QFormLayout()
        form.setHorizontalSpacing(GRID * 3)
        form.setVerticalSpacing(GRID + 2)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.addRow("&For", self.purpose)
        for entry in (self.along, self.across, self.margin):
            form.addRow(entry.field, entry)
        form.addRow("&Lies", self.turns)
        form.addRow("Seen", where)
        form.addRow("&Of", self.kind)
        form.addRow("&Grain pattern", self.pattern)
        form.addRow(self.tolerance.field, self.tolerance)
        form.addRow("", self.reserved)
        return form

    def _listen(self) -> None:
        for entry in (self.along, self.across, self.margin, self.tolerance):
            entry.understood.connect(self.changed)
        for box in (self.turns, self.kind, self.pattern):
            box.currentIndexChanged.connect(self.changed)
        self.shown.toggled.connect(self.changed)
        self.reserved.toggled.connect(self.changed)

    def restyle(self, lengths: LengthStyle) -> None:
        """Show the lengths in another unit."""
        for entry in (self.along, self.across, self.margin):
            entry.restyle(lengths)

    def part(self, lab: Lab | None, u: float) -> Part | None:
        """The part as typed, or None while a size is missing. Raises one of our errors."""
        width, height = self.across.value(), self.along.value()
        if width is None or height is None:
            return None
        pattern = self.pattern.currentText()
        return Part(
            width,
            height,
            lab,
            turns=_TURNS[self.turns.currentIndex()][1],
            margin=self.margin.value() or 0.0,
            tolerance=self.tolerance.value(),
            shown=self.shown.isChecked(),
            name=self.purpose.text().strip(),
            kind=self.kind.currentData(),
            pattern="" if pattern == _ANY else pattern,
            u=u,
        )
