"""What goes back on the shelf, each to be kept or thrown away."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QLabel, QVBoxLayout, QWidget

from bindery_stock.bench.match.cut_words import Prospect, Remain, rectangle_words, remain_words
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.units import LengthStyle


class RemainsList(QWidget):
    """One tick box for each remain, numbered as in the drawing; slivers stand unticked.

    Emits ``ticked()`` when one is to be kept, or no longer.
    """

    ticked = Signal()

    def __init__(self, lengths: LengthStyle) -> None:
        """Begin with none."""
        super().__init__()
        self._lengths = lengths
        self._shown: list[Remain] = []
        self.boxes: list[QCheckBox] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GRID)
        self._nothing = QLabel()
        self._nothing.setProperty("role", "muted")
        self._column.addWidget(self._nothing)

    @property
    def thrown_away(self) -> list[int]:
        """The numbers, from 0, of the remains not kept."""
        return [number for number, box in enumerate(self.boxes) if not box.isChecked()]

    def show_remains(self, remains: Sequence[Remain], sliver: str) -> bool:
        """Show what is left; False where it is what was shown before, ticks and all."""
        if list(remains) == self._shown:
            return False
        self._shown = list(remains)
        for box in self.boxes:
            self._column.removeWidget(box)
            box.deleteLater()
        self.boxes = []
        for number, remain in enumerate(remains):
            box = QCheckBox(self._words(number))
            box.setChecked(not remain.sliver)
            box.setToolTip(
                plain_tip(
                    f"A sliver, nowhere {sliver} wide; tick to keep it."
                    if remain.sliver
                    else "Untick to throw it away."
                )
            )
            box.toggled.connect(self.ticked)
            self._column.addWidget(box)
            self.boxes.append(box)
        self._nothing.setText("Nothing is left over.")
        self._nothing.setVisible(not remains)
        return True

    def show_waiting(self) -> None:
        """Nothing can be said while a part does not fit."""
        self.show_remains([], "")
        self._nothing.setText("Told once every part fits.")

    def show_prospect(self, found: Prospect) -> None:
        """Add the largest rectangle along the warp to each."""
        for number, (box, size) in enumerate(zip(self.boxes, found.rectangles, strict=False)):
            box.setText(f"{self._words(number)}\n{rectangle_words(size, self._lengths)}")

    def _words(self, number: int) -> str:
        remain = self._shown[number]
        sliver = " (a sliver)" if remain.sliver else ""
        return f"{number + 1}:  {remain_words(remain.outline, self._lengths)}{sliver}"
