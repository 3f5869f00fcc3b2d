"""The cautions on a piece: a sign with a word and a sentence, opening to advice and source."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout

from bindery_stock.bench.shelf.cautions import at_length, headline
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.trade import Hazard, Level


class CautionList(QFrame):
    """Shows cautions at once and notes only by their names; all open with one button."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__()
        self.setProperty("role", "panel")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(GRID * 3, GRID * 2, GRID * 3, GRID * 3)
        self._column.setSpacing(GRID)
        self._lines: list[QLabel] = []
        self.more = QPushButton("What to do, and why")
        self.more.setCheckable(True)
        self.full = plain_label()
        self.more.toggled.connect(self.full.setVisible)
        self._column.addWidget(self.more, alignment=Qt.AlignmentFlag.AlignLeft)
        self._column.addWidget(self.full)
        self.show_cautions(())

    @property
    def brief(self) -> str:
        """What is said at once."""
        return "\n".join(line.text() for line in self._lines)

    def show_cautions(self, found: Sequence[Hazard]) -> None:
        """Show these, gravest first; nothing at all where there is none."""
        for line in self._lines:
            line.hide()
            line.deleteLater()
        self._lines = []
        for hazard in found:
            if hazard.level is not Level.INFO:
                self._say(headline(hazard), bold=True)
                self._say(hazard.caution)
        notes = "; ".join(hazard.name for hazard in found if hazard.level is Level.INFO)
        if notes:
            self._say(f"Note: {notes}")
        told = [f"{headline(hazard)}\n{hazard.caution}\n{at_length(hazard)}" for hazard in found]
        self.full.setText("\n\n".join(told))
        self.more.setChecked(False)
        self.full.hide()
        self.setVisible(bool(found))

    def _say(self, text: str, *, bold: bool = False) -> None:
        line = plain_label()
        line.setText(text)
        sized(line, TypeSize.BODY, bold=bold)
        self._column.insertWidget(len(self._lines), line)
        self._lines.append(line)
