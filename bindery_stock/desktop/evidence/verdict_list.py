"""Verdicts by use, each opening to its rules, reasons, sources and what would change them."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from bindery_stock.bench.adhesives.fitness import Fitness, next_test
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.tips import plain_tip


class VerdictList(QWidget):
    """One line a use: sign, short word, use, and a button that opens what stands behind it."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GRID * 3)
        self._grid.setVerticalSpacing(GRID)
        self._grid.setColumnStretch(1, 1)
        self._open: set[str] = set()
        self._shown: list[QWidget] = []
        self.buttons: dict[str, QPushButton] = {}
        self.lengthy: dict[str, QLabel] = {}
        self.test = plain_label(muted=True)

    def show_fitness(self, fitness: Sequence[Fitness]) -> None:
        """Show these verdicts; those that were open stay open."""
        for widget in self._shown:
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self._shown, self.buttons, self.lengthy = [], {}, {}
        for number, one in enumerate(fitness):
            self._add_row(number * 2, one)
        test = next_test(fitness)
        self.test.setText(f"To settle what cannot be told: {test}" if test else "")
        self._grid.addWidget(self.test, len(fitness) * 2, 0, 1, 3)
        self.test.setVisible(bool(test))  # not before it stands in the list: it would be a window

    def forget_open(self) -> None:
        """Another item: nothing is open."""
        self._open.clear()

    def _add_row(self, row: int, one: Fitness) -> None:
        use = one.use.value
        word = plain_label(one.short, bold=True)
        word.setWordWrap(False)
        name = plain_label(use)
        name.setToolTip(plain_tip(one.reason))
        button = QPushButton("Why")
        button.setProperty("role", "quiet")
        button.setCheckable(True)
        button.setAccessibleName(f"Why {use}: {one.verdict.grade}")
        full = plain_label(one.at_length)
        full.setAccessibleName(f"{use}: what stands behind it")
        full.setContentsMargins(GRID * 3, 0, 0, GRID * 2)
        button.setChecked(use in self._open)

        def toggled(on: bool) -> None:
            full.setVisible(on)
            (self._open.add if on else self._open.discard)(use)

        button.toggled.connect(toggled)
        top = Qt.AlignmentFlag.AlignVCenter
        self._grid.addWidget(word, row, 0, top)
        self._grid.addWidget(name, row, 1, top)
        self._grid.addWidget(button, row, 2, top)
        self._grid.addWidget(full, row + 1, 0, 1, 3)
        full.setVisible(use in self._open)  # not before it has a parent to stand in
        self._shown += [word, name, button, full]
        self.buttons[use], self.lengthy[use] = button, full
