"""How the cut sheet is laid out: the piece at the left, what is decided at the right."""

from typing import Protocol

from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.match.cut_words import BLADE
from bindery_stock.bench.match.zones_seen import policy_words
from bindery_stock.bench.shelf.cautions import caution_line
from bindery_stock.desktop.column import hair_line, plain_label, scrolled
from bindery_stock.desktop.cut_sheet.parts_panel import PartsPanel
from bindery_stock.desktop.cut_sheet.placement_view import PlacementView
from bindery_stock.desktop.cut_sheet.remains_list import RemainsList
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.stock import StockPiece
from bindery_stock.trade import Rules

_SIDE_WIDTH = GRID * 92
_HINT = (
    "Drag a part, or move it with the arrow keys (Shift: 10 mm, Home: back). R turns it, Page Down "
    "takes the next in hand."
)


class CutWidgets(Protocol):
    """What a cut sheet shows."""

    @property
    def piece(self) -> StockPiece:
        """The piece to be cut."""

    @property
    def view(self) -> PlacementView:
        """Where the parts lie."""

    @property
    def parts(self) -> PartsPanel:
        """The parts of this sitting."""

    @property
    def purpose(self) -> QLineEdit:
        """What the part in hand is for."""

    @property
    def knife(self) -> LengthEntry:
        """What the knife takes."""

    @property
    def sliver(self) -> LengthEntry:
        """Below this nothing is kept."""

    @property
    def ways(self) -> QComboBox:
        """How far each cut is taken."""

    @property
    def cuts(self) -> QLabel:
        """The cuts in words."""

    @property
    def state(self) -> QLabel:
        """Whether the plan holds."""

    @property
    def ruling(self) -> QLabel:
        """What the rules say to it."""

    @property
    def more(self) -> QLabel:
        """What else could lie here."""

    @property
    def waste(self) -> QLabel:
        """What is lost."""

    @property
    def remains(self) -> RemainsList:
        """What goes back on the shelf."""

    @property
    def length_button(self) -> QPushButton:
        """Take a length off first."""

    @property
    def cut_button(self) -> QPushButton:
        """Give the word."""

    @property
    def paper_button(self) -> QPushButton:
        """The plan on paper."""

    @property
    def cancel_button(self) -> QPushButton:
        """Leave the piece whole."""

    def ask_reason_in(self, form: QFormLayout) -> None:
        """Give the line for a written reason its place."""


def laid_out(sheet: CutWidgets, rules: Rules) -> QHBoxLayout:
    """The widgets of the sheet in their places."""
    row = QHBoxLayout()
    row.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
    row.setSpacing(GRID * 3)
    row.addWidget(sheet.view, 1)
    side = QVBoxLayout()
    side.setSpacing(GRID * 2)
    sized(sheet.state, TypeSize.HEAD)
    side.addWidget(sheet.state)
    side.addWidget(sheet.ruling)
    reason = QFormLayout()
    sheet.ask_reason_in(reason)
    side.addLayout(reason)
    side.addWidget(scrolled(_middle(sheet)), 1)
    caution = plain_label(caution_line(sheet.piece, rules))
    sized(caution, TypeSize.BODY, bold=True)
    if caution.text():
        side.addWidget(caution)
    side.addWidget(plain_label(BLADE, muted=True))
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
    return row


def _middle(sheet: CutWidgets) -> QWidget:
    form = QFormLayout()
    form.setVerticalSpacing(GRID)
    form.addRow("&For", sheet.purpose)
    form.addRow("Cut&s", sheet.ways)
    form.addRow(sheet.knife.field, sheet.knife)
    form.addRow(sheet.sliver.field, sheet.sliver)
    column = QVBoxLayout()
    column.setContentsMargins(0, 0, GRID * 2, 0)
    column.setSpacing(GRID * 2)
    column.addWidget(plain_label(_HINT, muted=True))
    column.addWidget(sheet.parts)
    column.addLayout(form)
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
