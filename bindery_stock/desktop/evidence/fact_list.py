"""Labelled lines, one a fact."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from bindery_stock.bench.shelf.piece_words import Fact
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.tips import plain_tip


class FactList(QWidget):
    """Shows facts; keeps its labels and only changes their words."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GRID * 3)
        self._grid.setVerticalSpacing(GRID)
        self._grid.setColumnStretch(1, 1)
        self._rows: list[tuple[QLabel, QLabel]] = []

    def show_facts(self, facts: Sequence[Fact]) -> None:
        """Show these and no others."""
        while len(self._rows) < len(facts):
            self._rows.append(self._new_row(len(self._rows)))
        for number, (name, words) in enumerate(self._rows):
            for label in (name, words):
                label.setVisible(number < len(facts))
            if number < len(facts):
                fact = facts[number]
                name.setText(fact.label)
                words.setText(fact.words)
                words.setToolTip(plain_tip(fact.tip))

    def _new_row(self, number: int) -> tuple[QLabel, QLabel]:
        name, words = QLabel(), QLabel()
        name.setProperty("role", "muted")
        name.setTextFormat(Qt.TextFormat.PlainText)
        words.setTextFormat(Qt.TextFormat.PlainText)
        words.setWordWrap(True)
        words.setMinimumWidth(1)  # one word that cannot be broken must not widen the whole sheet
        words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        top = Qt.AlignmentFlag.AlignTop
        self._grid.addWidget(name, number, 0, top)
        self._grid.addWidget(words, number, 1, top)
        return name, words

    def words_of(self, label: str) -> str:
        """What is shown for a label; empty where it is not shown."""
        shown = {n.text(): w.text() for n, w in self._rows if not n.isHidden()}
        return shown.get(label, "")
