"""The shelf: the hoard to scale or as a table, and the sheet of the chosen piece."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout

from bindery_stock.bench.shelf.search import Catalogue, Order, arrange
from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.actions import ShelfActions
from bindery_stock.desktop.shelf.body import ShelfBody
from bindery_stock.desktop.shelf.choice import ChosenPieces
from bindery_stock.desktop.shelf.chosen_piece import ChosenPiece
from bindery_stock.desktop.shelf.commands import shelf_commands
from bindery_stock.desktop.shelf.finder import Finder
from bindery_stock.desktop.shelf.hoard_view import HoardView
from bindery_stock.desktop.shelf.readiness import MakingReady
from bindery_stock.desktop.shelf.search_bar import Search
from bindery_stock.desktop.shelf.sheet import PieceSheet
from bindery_stock.desktop.shelf.strip import ShelfStrip
from bindery_stock.desktop.shelf.table_model import PieceTableModel
from bindery_stock.desktop.shelf.table_view import PieceTable
from bindery_stock.desktop.shelf.thumbnails import Thumbnails
from bindery_stock.errors import BinderyError, NotFound
from bindery_stock.stock import Changes, PieceState, StockPiece, Stockroom

_SPLITTER = "shelf/splitter"
_ORDER = "shelf/order"
_VIEW = "shelf/view"
_TABLE = "table"


class ShelfScreen(ChosenPiece):
    """All pieces, what is found among them, and the sheet of the one chosen.

    Emits ``photo_table_wanted()`` and ``sample_wanted()`` from its empty state.
    """

    title = "Shelf"
    icon = "shelf"
    photo_table_wanted = Signal()
    sample_wanted = Signal()

    def __init__(self, session: Session, previews: Previews) -> None:
        """Build the place; it fills when a stockroom is opened."""
        super().__init__(session)
        self.choice = ChosenPieces(self)
        self.catalogue = Catalogue()
        self.search = Search(session, self.catalogue, self)
        self.finder = Finder(session.settings.lengths)
        self.strip = ShelfStrip()
        self.hoard = HoardView(session, previews, self.choice)
        self.making_ready = MakingReady(session, self.catalogue, self.hoard, self)
        self.thumbnails = Thumbnails(previews, self)
        self.model = PieceTableModel(session, self.thumbnails, self)
        self.table = PieceTable(session, self.model, self.choice)
        self.sheet = PieceSheet(session)
        self.tasks = ShelfActions(session, self)
        saved = session.settings.text(_ORDER, Order.COLOUR)
        self._order = Order(saved) if saved in set(Order) else Order.COLOUR
        self._as_table = session.settings.text(_VIEW) == _TABLE
        self._gone: StockPiece | None = None
        self._found: frozenset[int] = frozenset()
        self._nothing_answers = False
        self._stockroom: Stockroom | None = None
        self._build()
        self._listen()
        self._refresh()

    def _build(self) -> None:
        top = (self.finder, self.strip)
        laid = ShelfBody(top, (self.hoard, self.table), self.sheet)
        self.front, self.splitter, self.either = laid.front, laid.splitter, laid
        self.nothing_found, self.empty = laid.nothing_found, laid.empty
        self.coming, self.body = laid.coming, laid.body
        self.splitter.restoreState(self.session.settings.state(_SPLITTER))
        laid.clear_wanted.connect(self.finder.clear)
        laid.first_wanted.connect(self.photo_table_wanted)
        laid.sample_wanted.connect(self.sample_wanted)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(laid)

    def _listen(self) -> None:
        self.session.opening.connect(self._show_coming)
        self.finder.changed.connect(self._refresh)
        self.search.found_more.connect(self._refresh)
        self.making_ready.done.connect(self._made_ready)
        self.strip.order_chosen.connect(self.arrange_by)
        self.strip.table_wanted.connect(self.show_table)
        self.strip.stop_wanted.connect(self.search.stop)
        self.strip.zoom_in.connect(self.hoard.zoom_in)
        self.strip.zoom_out.connect(self.hoard.zoom_out)
        self.strip.whole.connect(self.hoard.show_whole)
        self.choice.changed.connect(self._show_sheet)
        self.hoard.sheet_wanted.connect(self.open_sheet)
        self.table.sheet_wanted.connect(self.open_sheet)
        self.sheet.match_wanted.connect(self.find_match)
        self.sheet.edit_wanted.connect(self.edit)
        self.sheet.move_wanted.connect(self.move_pieces)
        self.sheet.discard_wanted.connect(self.discard)
        self.sheet.anew_wanted.connect(self.photograph_anew)
        self.sheet.length_wanted.connect(self.cut_length)
        self.sheet.beside_wanted.connect(self.hold_beside)
        self.sheet.instrument_wanted.connect(self.add_reading)
        self.sheet.piece_wanted.connect(self.show_code)
        self.session.piece_wanted.connect(self.show_code)
        self.splitter.splitterMoved.connect(
            lambda: self.session.settings.set_state(_SPLITTER, self.splitter.saveState())
        )

    # What is shown

    @property
    def order(self) -> Order:
        """How the hoard is arranged."""
        return self._order

    @property
    def is_table(self) -> bool:
        """Whether the table is in front."""
        return self._as_table

    def stock_opened(self) -> None:
        """Show another stockroom from the start; the same one again in the unit now chosen."""
        self.finder.restyle(self.session.settings.lengths)
        self.model.restyle()
        if self._stockroom is self.session.stockroom:
            self._refresh()
            self._show_sheet()
            return
        self._stockroom = self.session.stockroom
        self._gone = None
        self._found = frozenset()
        self.hoard.forget()
        self.thumbnails.clear()
        self.search.forget()
        self.sheet.forget()
        self.choice.only(None)
        self.finder.clear()

    def stock_changed(self, changes: Changes) -> None:
        """Show the pieces a step touched as they are now; the choice stays where it can."""
        if "piece" not in changes.touched:
            return
        shown = self.sheet.piece
        self._refresh()
        if shown is not None:
            self._follow(shown.id)

    def _follow(self, shown: int) -> None:
        """Keep the sheet on a piece that was cut up or discarded: it says what became of it."""
        if any(piece.id == shown for piece in self.session.pieces):
            if self.choice.current is None:  # brought back
                self.choice.only(shown)
        elif self.choice.current is None:
            try:
                self._gone = self.session.stockroom.pieces.by_id(shown)
            except NotFound:  # its shelving was taken back
                self._gone = None
        self._show_sheet()

    def _refresh(self) -> None:
        pieces = self.session.pieces
        if self.making_ready.begins(pieces):
            if not self._found:
                self.either.show_only(self.coming)
            return
        self.either.show_only(self.body if pieces else self.empty)
        self.finder.offer(pieces, self.catalogue)
        looking = self.finder.looking
        found = self.search.find(pieces, looking)
        self._found = frozenset(piece.id for piece in found)
        self.strip.say(self.search.words, working=self.search.is_working)
        self.strip.show_order(self._order)
        self.strip.show_table(self._as_table)
        if self._as_table:
            self.table.show_pieces(found)
        else:
            self.hoard.show_groups(arrange(found, self._order, self.catalogue.family))
        self.choice.keep(piece.id for piece in pieces)
        self._show_answer(found, pieces)

    def _show_answer(self, found: list[StockPiece], pieces: list[StockPiece]) -> None:
        """What was found, or that nothing was: then no piece is in hand until the search is over.

        Which was chosen is remembered meanwhile.
        """
        nothing = bool(pieces) and not found and not self.search.is_working
        if nothing != self._nothing_answers:
            self._nothing_answers = nothing
            self._gone = None
            self._show_sheet()
        if not nothing:
            self.front.show_only(self.table if self._as_table else self.hoard)
        else:
            self.nothing_found.say(
                "Nothing here answers",
                f"None of the {len(pieces)} pieces on the shelf is what you look for.",
            )
            self.front.show_only(self.nothing_found)

    def _show_coming(self) -> None:
        self.either.show_only(self.coming)

    def _made_ready(self) -> None:
        self._refresh()
        self._show_sheet()

    def _show_sheet(self) -> None:
        current = self.choice.current
        if current is not None:
            self._gone = None
        self.sheet.show_piece(self.chosen_piece or self._gone)

    @property
    def chosen_piece(self) -> StockPiece | None:
        """The piece chosen last, as it is now; none while the search hides every piece."""
        current = None if self._nothing_answers else self.choice.current
        return next((piece for piece in self.session.pieces if piece.id == current), None)

    @property
    def chosen_pieces(self) -> list[StockPiece]:
        """All chosen pieces, in the order in which the table shows them."""
        if self._nothing_answers:
            return []
        pieces = {piece.id: piece for piece in self.session.pieces}
        order = self.table.shown() if self._as_table else sorted(self.choice.ids)
        return [pieces[n] for n in order if n in self.choice.ids and n in pieces]

    def show_code(self, code: str) -> None:
        """Choose a piece, clearing the search where it hides it; one that is gone has its sheet."""
        try:
            piece = self.session.piece(code)
        except BinderyError as error:
            self.session.tell(error)
            return
        if piece.state is PieceState.ON_SHELF:
            if piece.id not in self._found:
                self.finder.clear()
            self.choice.only(piece.id)
            self.hoard.reveal(piece.id)
        else:
            self.choice.only(None)
            self._gone = piece
            self._show_sheet()

    # What can be done

    def commands(self) -> list[Command]:
        """Everything that can be done here."""
        return shelf_commands(self)

    def arrange_by(self, order: Order) -> None:
        """Lay the hoard in another order."""
        self._order = order
        self.session.settings.set_text(_ORDER, order)
        self._refresh()

    def show_table(self, on: bool) -> None:
        """Bring the table or the hoard forward, and the focus with it."""
        self._as_table = on
        self.session.settings.set_text(_VIEW, _TABLE if on else "")
        self._refresh()
        self._focus_front()

    def find_words(self) -> None:
        """Go to the search line."""
        self.finder.words.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.finder.words.selectAll()

    def open_sheet(self) -> None:
        """Go to the sheet of the chosen piece."""
        self.sheet.photo.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def came_forward(self) -> None:
        """Take the focus."""
        self._focus_front()

    def _focus_front(self) -> None:
        (self.table if self._as_table else self.hoard).setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc goes back to the pieces."""
        if event.key() == Qt.Key.Key_Escape:
            self._focus_front()
        else:
            super().keyPressEvent(event)
