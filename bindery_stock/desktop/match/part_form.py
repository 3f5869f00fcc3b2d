"""What must be cut: shape, size, warp, margin, what of it is seen, tolerance, stuff."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.match.zones_seen import policy_words
from bindery_stock.desktop.entries import Entry, LengthEntry, NumberEntry
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.match.seen_form import SeenForm
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.matching import ANOTHER_COLOUR, Part
from bindery_stock.stock import Lab
from bindery_stock.trade.vocabulary import PATTERNS, Kind
from bindery_stock.units import LengthStyle

_LIES: tuple[tuple[str, tuple[float, ...], float], ...] = (
    ("Along the warp", (0, 180), 0),
    ("Along it, this end up", (0,), 0),
    ("Along or across it", (0, 90, 180, 270), 0),
    ("Along it, up to 5° askew", (0, 180), 5),
    ("Any way (a patch)", (0, 90, 180, 270), 180),
)
"""How a part may lie: in words, its turns, and how far it may be turned from them, in degrees."""
_ANY = "any"
_PLAIN = "plain cotton"
"""Offered beside the kinds: cloth that is no book cloth."""
_SHAPES = ("Rectangle", "Right-angled triangle, by its legs")


class PartForm(QWidget):
    """The part sought. Emits ``changed()`` when what is typed makes a different part."""

    changed = Signal()

    def __init__(self, lengths: LengthStyle) -> None:
        """Begin with a spine strip for an octavo: the commonest part."""
        super().__init__()
        self.purpose = QLineEdit()
        self.purpose.setPlaceholderText("spine strip, vol. 4")
        self.shape = QComboBox()
        self.shape.addItems(_SHAPES)
        self.along = LengthEntry("Along the warp", lengths)
        self.across = LengthEntry("Across the warp", lengths)
        self.margin = LengthEntry("Margin all round", lengths, allow_zero=True)
        self.tolerance = NumberEntry("Up to ΔE00", 0, 100)
        self.tolerance.setPlaceholderText(f"{ANOTHER_COLOUR:g}")
        self.tolerance.setToolTip(
            plain_tip(
                "Beyond this no piece serves. Where nothing is typed, a part that is seen takes no "
                f"cloth beyond ΔE00 {ANOTHER_COLOUR:g}, which is another colour (our proposal); a "
                "hidden one takes any shade."
            )
        )
        self.turns = QComboBox()
        self.turns.addItems([text for text, _, _ in _LIES])
        self.seen = SeenForm(lengths)
        self.kind = QComboBox()
        self.kind.addItem(_ANY, None)
        for kind in Kind:
            self.kind.addItem(kind.value, kind)
        self.kind.addItem(_PLAIN, Kind.CLOTH)
        self.kind.setCurrentText(Kind.CLOTH.value)
        self.pattern = QComboBox()
        self.pattern.addItems([_ANY, *PATTERNS])
        self.reserved = QCheckBox("Reserved pieces too")
        heading = QLabel("Part")
        sized(heading, TypeSize.HEAD)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(heading)
        column.addLayout(self._form())
        self._narrow()
        self._listen()
        self.along.offer(228)
        self.across.offer(58)
        self.margin.offer(2)

    def _narrow(self) -> None:
        """Let the boxes be as narrow as the column; the list opens as wide as it needs."""
        policy = QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        for box in (self.shape, self.turns, self.seen.how, self.kind, self.pattern):
            box.setSizeAdjustPolicy(policy)
            box.setMinimumContentsLength(8)
        for entry in (self.purpose, self.along, self.across, self.margin, self.tolerance):
            entry.setMinimumWidth(GRID * 12)

    def _form(self) -> QFormLayout:
        form = QFormLayout()
        form.setHorizontalSpacing(GRID * 3)
        form.setVerticalSpacing(GRID + 2)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.addRow("&For", self.purpose)
        self._rows = form
        form.addRow("S&hape", self.shape)
        # Width before height, as every size is written.
        size = _beside(self.across, QLabel("×"), self.along)
        form.addRow(_label("Ac&ross × along", self.across), size)
        between = _label("&Up to ΔE00", self.tolerance)
        form.addRow(_label("&Margin", self.margin), _beside(self.margin, between, self.tolerance))
        form.addRow("&Lies", self.turns)
        form.addRow("&Seen", self.seen.how)
        form.addRow(self.seen)
        form.addRow("&Of", self.kind)
        form.addRow("&Grain pattern", self.pattern)
        form.addRow("", self.reserved)
        self.seen.how.setToolTip(plain_tip(policy_words()))
        return form

    def _listen(self) -> None:
        for entry in (self.along, self.across, self.margin, self.tolerance):
            entry.understood.connect(self.changed)
        for box in (self.turns, self.kind, self.pattern):
            box.currentIndexChanged.connect(self.changed)
        self.shape.currentIndexChanged.connect(self._shape_chosen)
        self.seen.changed.connect(self.changed)
        self.reserved.toggled.connect(self.changed)

    def _shape_chosen(self, _index: int) -> None:
        self.seen.allow_bands(not self.is_triangular)
        self.changed.emit()

    @property
    def is_triangular(self) -> bool:
        """Whether a right-angled triangle is sought."""
        return self.shape.currentIndex() == 1

    def ask_purpose(self, wanted: bool) -> None:
        """Ask what the part is for, or leave that out where it is said elsewhere."""
        self._rows.setRowVisible(self.purpose, wanted)

    def restyle(self, lengths: LengthStyle) -> None:
        """Show the lengths in another unit."""
        for entry in (self.along, self.across, self.margin):
            entry.restyle(lengths)
        self.seen.restyle(lengths)

    def part(self, lab: Lab | None, u: float) -> Part | None:
        """The part as typed, or None while a size is missing. Raises one of our errors."""
        width, height = self.across.value(), self.along.value()
        if width is None or height is None:
            return None
        pattern = self.pattern.currentText()
        _words, turns, free = _LIES[self.turns.currentIndex()]
        return Part(
            width,
            height,
            lab,
            turns=turns,
            free=free,
            triangular=self.is_triangular,
            margin=self.margin.value() or 0.0,
            tolerance=self.tolerance.value(),
            shown=self.seen.is_shown,
            zones=self.seen.zones(width, height),
            name=self.purpose.text().strip(),
            kind=Kind(kind) if (kind := self.kind.currentData()) else None,
            pattern="" if pattern == _ANY else pattern,
            plain=self.kind.currentText() == _PLAIN,
            u=u,
        )

    def show_part(self, part: Part) -> None:
        """Put a part in that was worked out elsewhere, its zones as they are."""
        self.blockSignals(True)
        self.purpose.setText(part.name)
        self.shape.setCurrentIndex(int(part.triangular))
        self.along.show_length(part.height)
        self.across.show_length(part.width)
        self.margin.show_length(part.margin)
        ways = [(set(turns), free) for _words, turns, free in _LIES]
        wanted = (set(part.turns), part.free)
        self.turns.setCurrentIndex(ways.index(wanted) if wanted in ways else 0)
        self.seen.show_part(part)
        found = self.kind.findText(_PLAIN) if part.plain else self.kind.findData(part.kind)
        self.kind.setCurrentIndex(max(found, 0))
        self.pattern.setCurrentText(part.pattern or _ANY)
        if part.tolerance is None:
            self.tolerance.clear()
        else:
            self.tolerance.show_number(part.tolerance)
        self.blockSignals(False)
        self.changed.emit()


def _label(text: str, entry: Entry) -> QLabel:
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setBuddy(entry)
    return label


def _beside(first: LengthEntry, between: QLabel, second: Entry) -> QHBoxLayout:
    """Two entries on one line, of one width."""
    row = QHBoxLayout()
    row.setSpacing(GRID * 2)
    row.addWidget(first, 1)
    row.addWidget(between)
    row.addWidget(second, 1)
    return row
