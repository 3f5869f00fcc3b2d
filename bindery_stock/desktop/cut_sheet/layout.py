"""How the cut sheet is laid out: the piece at the left, what is decided at the right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.match.zones_seen import policy_words
from bindery_stock.bench.shelf.cautions import caution_line
from bindery_stock.desktop.column import hair_line, plain_label, scrolled
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.trade import Rules

if TYPE_CHECKING:
    from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet

_SIDE_WIDTH = GRID * 92
_BLADE = (
    "Mind the blade: cut away from the hand, against a safety rule, on the mat. Old cloth sheds "
    "dust; follow the rules of your own bench."
)
_HINT = (
    "Drag a part, or move it with the arrow keys (Shift: 10 mm, Home: back). R turns it, Page Down "
    "takes the next in hand."
)


def lay_out(sheet: CutSheet, rules: Rules) -> None:
    """Put the widgets of the sheet in their places."""
    row = QHBoxLayout(sheet)
    row.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
    row.setSpacing(GRID * 3)
    row.addWidget(sheet.view, 1)
    side = QVBoxLayout()
    side.setSpacing(GRID * 2)
    sized(sheet.state, TypeSize.HEAD)
    side.addWidget(sheet.state)
    side.addWidget(scrolled(_middle(sheet)), 1)
    caution = plain_label(caution_line(sheet.piece, rules))
    sized(caution, TypeSize.BODY, bold=True)
    if caution.text():
        side.addWidget(caution)
    side.addWidget(plain_label(_BLADE, muted=True))
    side.addWidget(sheet.length_button)
    buttons = QHBoxLayout()
    buttons.addWidget(sheet.cancel_button)
    buttons.addWidget(sheet.paper_button)
    buttons.addStretch(1)
    buttons.addWidget(sheet.cut_button)
    side.addLayout(buttons)
    panel = QWidget()
    panel.setLayout(side)
    side.setContentsMargins(0, 0, 0, 0)
    panel.setFixedWidth(_SIDE_WIDTH)
    row.addWidget(panel)


def _middle(sheet: CutSheet) -> QWidget:
    form = QFormLayout()
    form.setVerticalSpacing(GRID)
    form.addRow("&For", sheet.purpose)
    form.addRow(sheet.knife.field, sheet.knife)
    form.addRow(sheet.sliver.field, sheet.sliver)
    column = QVBoxLayout()
    column.setContentsMargins(0, 0, GRID * 2, 0)
    column.setSpacing(GRID * 2)
    column.addWidget(plain_label(_HINT, muted=True))
    column.addWidget(sheet.parts)
    column.addLayout(form)
    column.addWidget(sheet.by_shears)
    column.addWidget(sheet.cuts)
    column.addWidget(hair_line())
    heading = QLabel("Back on the shelf")
    sized(heading, TypeSize.HEAD)
    column.addWidget(heading)
    column.addWidget(sheet.remains)
    column.addWidget(sheet.waste)
    column.addWidget(sheet.more)
    if sheet.piece.flaws:
        column.addWidget(hair_line())
        column.addWidget(plain_label(policy_words(), muted=True))
    column.addStretch(1)
    inner = QWidget()
    inner.setLayout(column)
    return inner
