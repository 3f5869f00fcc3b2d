"""The cautions on a piece: a sign with a word and a sentence, opening to advice and source."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from bindery_stock.bench.cautions import at_length, headline
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.place import quiet_button
from bindery_stock.trade import Hazard, Level


class CautionList(QWidget):
    """Shows cautions at once and notes only by their names; all open with one button."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GRID)
        self.brief = _words()
        self.more = quiet_button("What to do, and why")
        self.more.setCheckable(True)
        self.full = _words()
        self.more.toggled.connect(self.full.setVisible)
        self._column.addWidget(self.brief)
        self._column.addWidget(self.more, alignment=Qt.AlignmentFlag.AlignLeft)
        self._column.addWidget(self.full)
        self.show_cautions(())

    def show_cautions(self, found: Sequence[Hazard]) -> None:
        """Show these, gravest first; nothing at all where there is none."""
        self.setVisible(bool(found))
        self.more.setChecked(False)
        self.full.hide()
        self.brief.setText("\n".join(_in_short(hazard) for hazard in found))
        told = [f"{headline(hazard)}\n{hazard.caution}\n{at_length(hazard)}" for hazard in found]
        self.full.setText("\n\n".join(told))


def _in_short(hazard: Hazard) -> str:
    if hazard.level is Level.INFO:
        return headline(hazard)
    return f"{headline(hazard)}\n{hazard.caution}"


def _words() -> QLabel:
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
