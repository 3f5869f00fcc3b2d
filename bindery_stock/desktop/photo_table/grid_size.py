"""How large a grid is whose four corners are marked: its squares counted, and their pitch."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QWidget

from bindery_stock.desktop.entries import LengthEntry, NumberEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError

_MOST = 1000  # squares one way
_PITCH, _ACROSS, _DOWN = (f"photo_table/grid_{name}" for name in ("pitch", "across", "down"))


class GridSize(QWidget):
    """Emits ``typed()`` when a count or the pitch changes. What was used last stands ready."""

    typed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with the grid used last."""
        super().__init__()
        self._settings = session.settings
        self.across = NumberEntry("Squares across", 1.0, _MOST)
        self.down = NumberEntry("Squares down", 1.0, _MOST)
        self.pitch = LengthEntry("Pitch", session.settings.lengths)
        self._kept = {_ACROSS: self.across, _DOWN: self.down, _PITCH: self.pitch}
        for name, entry in self._kept.items():
            entry.setText(session.settings.text(name, "10 mm" if name == _PITCH else ""))
            entry.textEdited.connect(lambda _text: self.typed.emit())
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setSpacing(GRID)
        form.addRow("S&quares across", self.across)
        form.addRow("Squares dow&n", self.down)
        form.addRow("&Pitch", self.pitch)

    def measures(self) -> tuple[float | None, float | None]:
        """Width and height in mm, ``None`` where not typed yet. Raises ``EntryError``."""
        pitch = self.pitch.value()
        across, down = (_whole(entry) for entry in (self.across, self.down))
        if pitch is None:
            return None, None
        return (None if across is None else across * pitch, None if down is None else down * pitch)

    def keep(self) -> None:
        """What is typed stands ready for the next photograph."""
        for name, entry in self._kept.items():
            self._settings.set_text(name, entry.text())

    def makes(self, width: float | None, height: float | None) -> bool:
        """Whether the grid that stands here has that width and height in mm."""
        try:
            return width is not None and self.measures() == (width, height)
        except EntryError:
            return False


def _whole(entry: NumberEntry) -> int | None:
    count = entry.value()
    if count is not None and not count.is_integer():
        raise EntryError(entry.field, f"{entry.field}: count whole squares only.")
    return None if count is None else int(count)
