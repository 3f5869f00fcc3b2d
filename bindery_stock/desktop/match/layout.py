"""How the Match screen is laid out: the part at the left, what serves it at the right."""

from collections.abc import Sequence

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from bindery_stock.desktop.column import hair_line, scrolled
from bindery_stock.desktop.look import GRID

_LEFT_WIDTH = GRID * 84


def button_row(left: Sequence[QWidget], right: Sequence[QWidget]) -> QHBoxLayout:
    """Buttons at both ends of a row."""
    row = QHBoxLayout()
    for button in left:
        row.addWidget(button)
    row.addStretch(1)
    for button in right:
        row.addWidget(button)
    return row


def laid_out(
    part: Sequence[QWidget],
    drawing: QWidget,
    answer: Sequence[QWidget],
    body: QWidget,
    buttons: QHBoxLayout,
) -> QHBoxLayout:
    """Two columns; ``drawing`` and ``body`` take the room that is left in theirs."""
    inner = QWidget()
    left = QVBoxLayout(inner)
    left.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 4)
    left.setSpacing(GRID * 4)
    for widget in part:
        left.addWidget(widget, int(widget is drawing))
    scroll = scrolled(inner)
    scroll.setFixedWidth(_LEFT_WIDTH)
    right = QVBoxLayout()
    right.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 3)
    right.setSpacing(GRID * 3)
    for widget in answer:
        right.addWidget(widget, int(widget is body))
    right.addLayout(buttons)
    row = QHBoxLayout()
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(0)
    row.addWidget(scroll)
    row.addWidget(hair_line(upright=True))
    row.addLayout(right, 1)
    return row
