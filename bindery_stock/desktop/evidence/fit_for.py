"""What a piece is fit for: verdicts by use, wet work, its colour family, tests and results."""

from functools import partial

from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.adhesives.fitness import fitness_of
from bindery_stock.bench.adhesives.tests import wet_words
from bindery_stock.bench.photo_table.shelve import JUDGED_BY_EYE
from bindery_stock.bench.shelf.correct import correct
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.evidence.evidence_list import EvidenceList
from bindery_stock.desktop.evidence.lab_dialog import ask_lab_result
from bindery_stock.desktop.evidence.test_dialog import ask_test
from bindery_stock.desktop.evidence.verdict_list import VerdictList
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.session import Session
from bindery_stock.stock import PieceState, StockPiece

_NOT_JUDGED = "not judged"


class FitFor(QWidget):
    """A section of a piece's sheet."""

    def __init__(self, session: Session) -> None:
        """Begin with no piece."""
        super().__init__()
        self._session = session
        self._piece: StockPiece | None = None
        self.verdicts = VerdictList()
        self.wet = plain_label()
        self.wet.setAccessibleName("Wet work")
        self.family = QToolButton()
        self.family.setToolTip("Judged by eye where it is least faded: under a turn-in.")
        self.family.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.family.setMenu(QMenu(self.family))
        self.found = EvidenceList(session)
        self.test_button = QPushButton("Record a test…")
        self.test_button.clicked.connect(self._record_test)
        self.lab_button = QPushButton("Laboratory result…")
        self.lab_button.clicked.connect(self._record_result)
        self._lay_out()

    def _lay_out(self) -> None:
        label = QLabel("&Colour family")
        label.setBuddy(self.family)
        label.setProperty("role", "muted")
        family = QHBoxLayout()
        family.addWidget(label)
        family.addWidget(self.family)
        family.addStretch(1)
        self._family_row = QWidget()
        self._family_row.setLayout(family)
        family.setContentsMargins(0, 0, 0, 0)
        buttons = QHBoxLayout()
        buttons.setSpacing(GRID * 2)
        buttons.addWidget(self.test_button)
        buttons.addWidget(self.lab_button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(self.verdicts)
        column.addWidget(self.wet)
        column.addWidget(self._family_row)
        column.addWidget(self.found)
        column.addLayout(buttons)

    def show_piece(self, piece: StockPiece) -> None:
        """Show what this piece is fit for today."""
        stockroom, rules = self._session.stockroom, self._session.rules
        if self._piece is None or self._piece.id != piece.id:
            self.verdicts.forget_open()
        self._piece = piece
        self.verdicts.show_fitness(fitness_of(piece, stockroom.today, rules))
        self.wet.setText(wet_words(piece, rules))
        self.wet.setVisible(bool(self.wet.text()))
        self._offer_families(piece)
        self._family_row.setVisible(piece.kind in JUDGED_BY_EYE)
        self.found.show_records(piece.properties, rules.properties, piece.lab_results)
        here = piece.state is PieceState.ON_SHELF and not stockroom.read_only
        for widget in (self.family, self.test_button, self.lab_button):
            widget.setEnabled(here)

    def _offer_families(self, piece: StockPiece) -> None:
        judged = piece.colour_family or _NOT_JUDGED
        self.family.setText(f"{judged}   ")
        self.family.setAccessibleName(f"Colour family, judged by eye: {judged}")
        menu = self.family.menu()
        menu.clear()
        for key in ("", *self._session.rules.families):
            action = menu.addAction(key or _NOT_JUDGED)
            action.setCheckable(True)
            action.setChecked(key == piece.colour_family)
            action.triggered.connect(partial(self.tick_family, key))

    def tick_family(self, family: str, _checked: bool = True) -> None:
        """Say which colour it is where it is least faded; empty takes that back."""
        piece = self._piece
        if piece is not None and family != piece.colour_family:
            code = piece.code
            fields = {"colour_family": family}
            self._session.do(lambda room: correct(room, piece=code, fields=fields))

    def _record_test(self) -> None:
        if self._piece is not None:
            ask_test(self._piece, self._session, self)

    def _record_result(self) -> None:
        if self._piece is not None:
            ask_lab_result(self._piece, self._session, self)
