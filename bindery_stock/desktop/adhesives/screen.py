"""The Adhesives place: what needs using up first, what each lot is fit for, what is wanted."""

from PySide6.QtCore import QAbstractListModel, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QListView,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.adhesives.morning import Low, morning
from bindery_stock.bench.adhesives.own_rules import own_rules_words
from bindery_stock.bench.adhesives.shelf_rows import LotRow, lot_rows
from bindery_stock.bench.adhesives.snapshot import ADHESIVES
from bindery_stock.desktop.adhesives.actions import AdhesiveActions
from bindery_stock.desktop.adhesives.commands import adhesive_commands
from bindery_stock.desktop.adhesives.finds_page import FindsPage
from bindery_stock.desktop.adhesives.head import Head
from bindery_stock.desktop.adhesives.lot_delegate import LotDelegate, LotModel
from bindery_stock.desktop.adhesives.lot_dialog import LotStart
from bindery_stock.desktop.adhesives.lot_sheet import LotSheet
from bindery_stock.desktop.adhesives.morning_panel import MorningPanel
from bindery_stock.desktop.adhesives.wanted_page import WantedPage
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.row_list import ROW_ROLE
from bindery_stock.desktop.screen import EitherOr, EmptyState, Screen, next_button
from bindery_stock.desktop.session import Session
from bindery_stock.stock import Changes

_SPLITTER = "adhesives/splitter"


class AdhesivesScreen(Screen):
    """Lots of adhesive, the wanted list, and what is met in old books."""

    title = "Adhesives"
    icon = "adhesives"

    def __init__(self, session: Session) -> None:
        """Build the place; it fills when a stockroom is opened."""
        super().__init__(session)
        self.model = LotModel(self)
        self.list = _lot_list(self.model)
        self.head = Head()
        self.morning = MorningPanel()
        self.sheet = LotSheet(session)
        self.wanted = WantedPage()
        self.finds = FindsPage()
        self.tasks = AdhesiveActions(session, self)
        self._chosen = ""
        self._stale = False
        """Whether something changed while another place was in front."""
        self._snapshot = session.snapshot(ADHESIVES)
        self._build()
        self._listen()

    # Laying it out

    def _build(self) -> None:
        self.rules_line = plain_label(muted=True)
        self.rules_line.setContentsMargins(GRID * 4, GRID * 2, GRID * 4, GRID * 2)
        self.rules_line.hide()
        first = next_button("Enter a lot")
        first.clicked.connect(lambda: self.tasks.enter(LotStart.BOUGHT))
        self.empty = EmptyState(
            "No adhesive is on the shelf",
            "Every tin, jar and batch stands here with the time it still keeps and what it may be "
            "used for. Enter the first one: what it is, and the day it was bought or made.",
            [first],
        )
        self.splitter = QSplitter(Qt.Orientation.Horizontal)
        self.splitter.addWidget(self.list)
        self.splitter.addWidget(self.sheet)
        self.splitter.setStretchFactor(0, 1)
        self.splitter.setChildrenCollapsible(False)
        self.splitter.setSizes([GRID * 170, GRID * 100])
        self.splitter.restoreState(self.session.settings.state(_SPLITTER))
        self.lots_page = QWidget()
        lots = QVBoxLayout(self.lots_page)
        lots.setContentsMargins(0, 0, 0, 0)
        lots.setSpacing(0)
        lots.addWidget(self.morning)
        lots.addWidget(self.splitter, 1)
        self.body = EitherOr(self.empty, self.lots_page, self.wanted, self.finds)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self.rules_line)
        column.addWidget(self.body, 1)

    def _listen(self) -> None:
        self.head.page_chosen.connect(lambda _page: self._show_page())
        self.head.lot_wanted.connect(self.tasks.enter)
        self.list.selectionModel().currentChanged.connect(lambda *_: self._choice_made())
        self.list.activated.connect(lambda _index: self.use())
        self.morning.lot_chosen.connect(self.show_lot)
        self.morning.low_chosen.connect(self._want_low)
        self.session.lot_wanted.connect(self.show_lot)
        self.sheet.use_wanted.connect(self.use)
        self.sheet.open_wanted.connect(self.unseal)
        self.sheet.edit_wanted.connect(self.edit)
        self.sheet.test_wanted.connect(self.test)
        self.sheet.mix_wanted.connect(self.mix)
        self.sheet.finish_wanted.connect(self.finish)
        self.wanted.want_wanted.connect(self.tasks.want)
        self.wanted.close_wanted.connect(self.tasks.close_want)
        self.wanted.reorder_wanted.connect(self.tasks.set_reorder_point)
        self.splitter.splitterMoved.connect(
            lambda *_: self.session.settings.set_state(_SPLITTER, self.splitter.saveState())
        )

    # What is shown

    def stock_opened(self) -> None:
        """Another stockroom: show it from the start."""
        self._chosen = ""
        self._show_rules()
        self.sheet.heard()
        self._reload()

    def _show_rules(self) -> None:
        stockroom = self.session.stockroom
        trouble = stockroom.rules_trouble
        own = own_rules_words(stockroom.rules, stockroom.own_rules)
        self.rules_line.setText(f"△ Your own rules are not in use. {trouble}" if trouble else own)
        self.rules_line.setVisible(bool(self.rules_line.text()))
        self.finds.show_finds(list(stockroom.rules.finds.values()))

    def read_rules(self) -> None:
        """Read the binder's own rules file again and judge everything anew."""
        self.session.stockroom.read_rules()
        self.session.opened.emit()
        own = self.rules_line.text() or "There is no rules.toml in the stock folder."
        self.session.said.emit(own)

    def stock_changed(self, changes: Changes) -> None:
        """Read again what was touched; while another place is in front, only when it is wanted."""
        lots = self._snapshot.bears_on(changes)
        if lots:
            self.sheet.heard()
        elif "piece" not in changes.touched:
            return
        if not self.isVisible():
            self._stale = True
        elif lots:
            self._reload()
        else:
            self._show_lists()

    def came_forward(self) -> None:
        """Judge anew, since another day may have begun, and put the hand on the list."""
        if self.session.is_open:
            self._reload()
        self.list.setFocus()

    def _reload(self) -> None:
        stockroom, rules = self.session.stockroom, self.session.rules
        kept = self._chosen
        self._stale = False
        self.model.show_rows(lot_rows(self._snapshot.view.lots, stockroom.today, rules))
        self._show_lists()
        self.head.new_button.setEnabled(not stockroom.read_only)
        self._choose(kept)
        self._show_page()

    def _show_lists(self) -> None:
        stockroom, rules = self.session.stockroom, self.session.rules
        view = self._snapshot.view
        points = view.points
        seen = morning(self.model.rows, self.session.pieces, points, rules)
        self.morning.show_morning(seen)
        self.wanted.show_lists(
            view.wants,
            points,
            rules,
            self.session.settings.lengths,
            writable=not stockroom.read_only,
        )

    def _choose(self, code: str) -> None:
        place = self.model.place_of(code)
        if place is None:
            place = 0 if self.model.rowCount() else None
        if place is not None:
            index = self.model.index(place)
            self.list.setCurrentIndex(index)
            self.list.scrollTo(index)
        self._choice_made()

    def _choice_made(self) -> None:
        row = self.chosen()
        if row is not None:
            self._chosen = row.lot.code
        self.sheet.show_row(row)

    def _show_page(self) -> None:
        page = self.head.page
        shelf = self.lots_page if self.model.rowCount() else self.empty
        self.body.show_only((shelf, self.wanted, self.finds)[page])

    def chosen(self) -> LotRow | None:
        """The lot in hand."""
        found = self.list.currentIndex().data(ROW_ROLE)
        return found if isinstance(found, LotRow) else None

    def show_page(self, page: int) -> None:
        """Show the lots, the wanted list or the old finds."""
        self.head.choose(page)
        self._show_page()

    def show_lot(self, code: str) -> None:
        """Show the lot or the want with this code; one that is finished has its sheet."""
        if self._stale:
            self._reload()
        if code.startswith("W-"):
            self.show_page(1)
            self.wanted.choose(code)
            return
        self.show_page(0)
        if self.model.place_of(code) is not None:
            self._choose(code)
            return
        lot = self._snapshot.view.lot(code)
        if lot is None:  # its entry was taken back
            return
        (row,) = lot_rows([lot], self.session.stockroom.today, self.session.rules)
        self.sheet.show_row(row)
        self.session.noticed.emit(f"{code}, {lot.name}, is finished: {lot.fate or 'used up'}.")

    def _want_low(self, low: Low) -> None:
        self.tasks.want(low.name)

    # What can be done

    def commands(self) -> list[Command]:
        """Everything that can be done here."""
        return adhesive_commands(self)

    def writable(self) -> bool:
        """Whether something can be done with the lot in hand."""
        return self.chosen() is not None and not self.session.stockroom.read_only

    def use(self) -> None:
        """Take something from the chosen lot."""
        row = self.chosen()
        if row is not None and self.writable():
            self.tasks.use(row)

    def unseal(self) -> None:
        """Say that the chosen lot was opened today."""
        row = self.chosen()
        if row is not None:
            self.tasks.unseal(row.lot)

    def edit(self) -> None:
        """Put right the facts of the chosen lot."""
        row = self.chosen()
        if row is not None:
            self.tasks.correct(row.lot)

    def test(self) -> None:
        """Record a test of the chosen lot."""
        row = self.chosen()
        if row is not None:
            self.tasks.test(row.lot)

    def mix(self) -> None:
        """Mix or dilute the chosen lot into a new one."""
        row = self.chosen()
        if row is not None:
            self.tasks.enter(LotStart.MIXED, (row.lot.code,))

    def finish(self) -> None:
        """Take the chosen lot off the shelf."""
        row = self.chosen()
        if row is not None:
            self.tasks.finish(row.lot)


def _lot_list(model: QAbstractListModel) -> QListView:
    view = QListView()
    view.setModel(model)
    view.setItemDelegate(LotDelegate(view))
    view.setAccessibleName("Lots of adhesive, what needs using up first at the top")
    view.setFrameShape(QFrame.Shape.NoFrame)
    view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
    view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    view.setResizeMode(QListView.ResizeMode.Adjust)
    view.setMinimumWidth(GRID * 110)
    return view
