"""What of a part is seen on the finished book: all, joints and caps only, or nothing."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QWidget

from bindery_stock.bench.match.zones_seen import Seen, policy_words, strip_zones
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.matching import Part
from bindery_stock.shape import Zone
from bindery_stock.units import LengthStyle

_BANDS = Seen.BANDS.value
_PLANNED = "As planned for the volume"
_UNDER_MM, _JOINT_MM, _CAP_MM, _TURN_MM = 10.0, 8.0, 6.0, 15.0
"""Underlap, joint band, cap and turn-in to begin with: middling figures of common practice, no
source; the planner of a volume works them out from its survey."""


class SeenForm(QWidget):
    """The sizes of the bands, shown where they count; ``how`` is the choice itself, to be laid out
    beside it. Emits ``changed()``.
    """

    changed = Signal()

    def __init__(self, lengths: LengthStyle) -> None:
        """Begin with a part that is seen throughout."""
        super().__init__()
        self._planned: tuple[float, float, tuple[Zone, ...]] | None = None
        self.how = QComboBox()
        self.how.addItem(Seen.ALL.value, Seen.ALL)
        self.how.addItem(_BANDS, Seen.BANDS)
        self.how.addItem(Seen.NONE.value, Seen.NONE)
        self.joint = LengthEntry("Joint band", lengths, allow_zero=True)
        self.cap = LengthEntry("Cap", lengths, allow_zero=True)
        self.under = LengthEntry("Under old cloth", lengths, allow_zero=True)
        self.turn = LengthEntry("Turned in", lengths, allow_zero=True)
        form = QFormLayout(self)
        form.setContentsMargins(GRID * 4, 0, 0, 0)
        form.setVerticalSpacing(GRID)
        for entry, mm in zip(self.entries, (_JOINT_MM, _CAP_MM, _UNDER_MM, _TURN_MM), strict=True):
            entry.offer(mm)
            entry.understood.connect(self.changed)
            form.addRow(entry.field, entry)
        policy = QLabel(f"The old spine is laid back on it. {policy_words()}")
        policy.setTextFormat(Qt.TextFormat.PlainText)
        policy.setWordWrap(True)
        policy.setProperty("role", "muted")
        form.addRow(policy)
        self.how.currentIndexChanged.connect(self._chosen)
        self.hide()

    @property
    def entries(self) -> tuple[LengthEntry, ...]:
        """The sizes of the bands, in the order of the form."""
        return self.joint, self.cap, self.under, self.turn

    @property
    def is_shown(self) -> bool:
        """Whether any of the part is seen."""
        return bool(self.how.currentData() != Seen.NONE)

    def zones(self, width: float, height: float) -> tuple[Zone, ...]:
        """The zones of a part of this size, mm. Raises ``EntryError`` where they do not go in."""
        chosen = self.how.currentData()
        if chosen == Seen.BANDS:
            joint, cap, under, turn = (entry.value() or 0.0 for entry in self.entries)
            return strip_zones(width, height, under=under, joint=joint, cap=cap, turn=turn)
        if chosen is None and self._planned and self._planned[:2] == (width, height):
            return self._planned[2]
        return ()

    def show_part(self, part: Part) -> None:
        """Choose what a part says of itself; zones worked out elsewhere hold for its size."""
        self._planned = (part.width, part.height, part.zones) if part.zones else None
        if part.zones and self.how.findText(_PLANNED) < 0:
            self.how.addItem(_PLANNED, None)
        if part.zones:
            self.how.setCurrentText(_PLANNED)
        else:
            self.how.setCurrentText((Seen.ALL if part.shown else Seen.NONE).value)

    def allow_bands(self, allowed: bool) -> None:
        """A triangle has no joints: it is seen throughout or not at all."""
        if not allowed and self.how.currentData() not in (Seen.ALL, Seen.NONE):
            self.how.setCurrentText(Seen.ALL.value)
        model = self.how.model()
        item = model.item(self.how.findText(_BANDS)) if hasattr(model, "item") else None
        if item is not None:
            item.setEnabled(allowed)

    def restyle(self, lengths: LengthStyle) -> None:
        """Show the lengths in another unit."""
        for entry in self.entries:
            entry.restyle(lengths)

    def _chosen(self, _index: int) -> None:
        self.setVisible(self.how.currentData() == Seen.BANDS)
        self.changed.emit()
