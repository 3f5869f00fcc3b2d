"""The sheet of the chosen piece: all that is known of it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.shelf.cautions import cautions
from bindery_stock.bench.shelf.piece_words import facts, gone_words, sort_of
from bindery_stock.bench.shelf.snapshot import SheetView, sheet
from bindery_stock.bench.shelf.usable_rectangles import SQUARE
from bindery_stock.clock import local_date
from bindery_stock.desktop.column import plain_label, section_head
from bindery_stock.desktop.evidence.caution_list import CautionList
from bindery_stock.desktop.evidence.fact_list import FactList
from bindery_stock.desktop.evidence.fit_for import FitFor
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.colour_section import ColourSection
from bindery_stock.desktop.shelf.family_line import FamilyLine
from bindery_stock.desktop.shelf.holds import Holds
from bindery_stock.desktop.shelf.photo_view import PhotoView
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.errors import NotFound
from bindery_stock.shape import is_sheet
from bindery_stock.stock import PieceState, Step, StockPiece
from bindery_stock.trade.day_counts import written

_LEAST_WIDTH = 336


class PieceSheet(EitherOr):
    """Shows one piece, on the shelf or gone. Knows the piece and its usable rectangle.

    Emits ``match_wanted()``, ``edit_wanted()``, ``move_wanted()`` and ``discard_wanted()``,
    ``beside_wanted()``, ``instrument_wanted()``, ``anew_wanted()`` and ``length_wanted()`` for the
    buttons,
    ``piece_wanted(code)`` for a relation.
    """

    match_wanted = Signal()
    edit_wanted = Signal()
    move_wanted = Signal()
    discard_wanted = Signal()
    beside_wanted = Signal()
    instrument_wanted = Signal()
    anew_wanted = Signal()
    length_wanted = Signal()
    piece_wanted = Signal(str)

    def __init__(self, session: Session) -> None:
        """Begin with no piece."""
        nothing = EmptyState("No piece chosen", "Choose a piece to see all about it here.", [])
        scroll = QScrollArea()
        super().__init__(nothing, scroll)
        self._session = session
        self._piece: StockPiece | None = None
        self._job: Job | None = None
        self._reading: Job | None = None
        self._told: SheetView | None = None
        """What was read about the piece in hand; None until then."""
        self.nothing, self.area = nothing, scroll
        scroll.setWidgetResizable(True)
        scroll.setAccessibleName("Sheet of the chosen piece")
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumWidth(_LEAST_WIDTH)
        self._build()

    def _build(self) -> None:
        self.code = plain_label(size=TypeSize.TITLE, bold=True)
        self.sort = plain_label()
        self.state = plain_label(bold=True)
        self.photo = PhotoView(self._session)
        self.caution_list = CautionList()
        self.colour = ColourSection()
        self.readings = self.colour.readings
        self.colour.beside_wanted.connect(self.beside_wanted)
        self.colour.instrument_wanted.connect(self.instrument_wanted)
        self.fact_list = FactList()
        self.holds = Holds(self._session)
        self.fit_for = FitFor(self._session)
        self.family = FamilyLine()
        self.family.piece_wanted.connect(self.piece_wanted)
        self.history = plain_label()
        for label in (self.code, self.sort, self.state, self.history):
            label.setMinimumWidth(1)  # a long word does not widen the sheet
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(GRID * 4, GRID * 3, GRID * 4, GRID * 4)
        column.setSpacing(GRID * 2)
        for widget in (self.code, self.sort, self.state, self.photo):
            column.addWidget(widget)
        column.addLayout(self._buttons())
        column.addWidget(self.caution_list)
        sections: tuple[tuple[str, QWidget], ...] = (
            ("Colour", self.colour),
            ("Facts", self.fact_list),
            ("", self.holds),
            ("Fit for", self.fit_for),
            ("", self.family),
            ("History", self.history),
        )
        for heading, section in sections:
            if heading:
                column.addWidget(section_head(heading))
            column.addWidget(section)
        column.addStretch(1)
        self.area.setWidget(body)

    def _buttons(self) -> QVBoxLayout:
        self.match_button = next_button("Find a match for this colour")
        self.match_button.clicked.connect(self.match_wanted)
        self.edit_button = QPushButton("Edit…")
        self.edit_button.clicked.connect(self.edit_wanted)
        self.move_button = QPushButton("Move…")
        self.move_button.clicked.connect(self.move_wanted)
        self.discard_button = QPushButton("Discard…")
        self.discard_button.clicked.connect(self.discard_wanted)
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        for button in (self.edit_button, self.move_button, self.discard_button):
            row.addWidget(button)
        row.addStretch(1)
        self.anew_button = QPushButton("Photograph anew…")
        self.anew_button.setToolTip("Replace outline, photograph and colours; the code stays.")
        self.anew_button.clicked.connect(self.anew_wanted)
        self.length_button = QPushButton("Cut a length off…")
        self.length_button.setToolTip("The rest stays one piece under its own code.")
        self.length_button.clicked.connect(self.length_wanted)
        second = QHBoxLayout()
        second.setSpacing(GRID * 2)
        second.addWidget(self.anew_button)
        second.addWidget(self.length_button)
        second.addStretch(1)
        column = QVBoxLayout()
        column.setSpacing(GRID)
        column.addWidget(self.match_button)
        column.addLayout(row)
        column.addLayout(second)
        return column

    @property
    def piece(self) -> StockPiece | None:
        """The piece shown."""
        return self._piece

    def show_piece(self, piece: StockPiece | None) -> None:
        """Show all that is known of a piece, or that none is chosen."""
        before, self._piece = self._piece, piece
        if piece is None:
            self._told = None
            if self._reading is not None:
                self._reading.stop()
                self._reading = None
            self.photo.show_piece(None)
            self.show_only(self.nothing)
            return
        another = before is None or before.id != piece.id
        if another:
            self._told = None
        self.code.setText(piece.code)
        self.sort.setText(sort_of(piece))
        self.state.setVisible(piece.state is not PieceState.ON_SHELF)
        self.photo.show_piece(piece)
        self.caution_list.show_cautions(cautions(piece, self._session.rules))
        self.fit_for.show_piece(piece)
        self._show_facts(piece)
        self.holds.show_piece(piece)
        self._set_buttons(piece)
        self._show_told(piece)
        self._read_more(piece)
        self.show_only(self.area)
        if another:
            self.area.verticalScrollBar().setValue(0)

    def _read_more(self, piece: StockPiece) -> None:
        """Read where it comes from and what happened with it; the last reading stays meanwhile."""
        if self._reading is not None:
            self._reading.stop()
        stockroom = self._session.stockroom

        def done(found: SheetView) -> None:
            self._reading = None
            self._told = found
            self._show_told(piece)

        self._reading = self._session.jobs.run(
            lambda _job: sheet(stockroom, piece.code), owner=self, done=done, failed=self._gone
        )

    def _gone(self, error: Exception) -> None:
        """The shelving of the piece was taken back while it was read about."""
        self._reading = None
        if not isinstance(error, NotFound):
            self._session.tell(error)

    def _show_told(self, piece: StockPiece) -> None:
        """Show the last reading about the piece; nothing where there is none yet."""
        told = self._told or SheetView()
        self.state.setText(gone_words(piece, told.family.children))
        self.family.show_family(told.family.ancestors, told.family.children)
        self.history.setText("\n".join(_step_words(step) for step in told.steps))
        seen = self._session.maps.known(piece)
        self.colour.show_piece(piece, told.held, seen, may_change=self._may_change(piece))

    def _may_change(self, piece: StockPiece) -> bool:
        return piece.state is PieceState.ON_SHELF and not self._session.stockroom.read_only

    def _set_buttons(self, piece: StockPiece) -> None:
        here = self._may_change(piece)
        for button in (self.edit_button, self.move_button, self.discard_button, self.anew_button):
            button.setEnabled(here)
        self.length_button.setVisible(is_sheet(piece.outline))
        self.length_button.setEnabled(here)
        self.match_button.setEnabled(piece.colour is not None)
        why = "" if piece.colour else "No colour was read from this piece."
        self.match_button.setToolTip(plain_tip(why))

    def _show_facts(self, piece: StockPiece) -> None:
        usable, lengths = self._session.usable, self._session.settings.lengths
        if usable.is_known(piece) and usable.is_known(piece, SQUARE):
            found, square = usable.known(piece), usable.known(piece, SQUARE)
            self.fact_list.show_facts(facts(piece, lengths, found, square, measured=True))
            return
        self.fact_list.show_facts(facts(piece, lengths, None, measured=False))
        if self._job is not None:
            self._job.stop()

        def work(_job: Job) -> None:
            usable.measure(piece)
            usable.measure(piece, SQUARE)

        def done(_nothing: None) -> None:
            self._job = None
            if self._piece is piece:
                self._show_facts(piece)

        self._job = self._session.jobs.run(work, owner=self, done=done)

    def forget(self) -> None:
        """Another stockroom: the piece shown is none of it."""
        self.show_piece(None)


def _step_words(step: Step) -> str:
    day = written(local_date(step.at))
    return f"{day}  {step.name}" + ("" if step.standing else " (taken back)")
