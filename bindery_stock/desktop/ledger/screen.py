"""The Ledger place: sentences, a search, and taking back."""

from PySide6.QtCore import QEvent, QModelIndex, Qt
from PySide6.QtGui import QFont, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.desktop.ledger.model import (
    STEP_ROLE,
    Index,
    LedgerColumn,
    LedgerModel,
    can_take_back,
    widest_words,
)
from bindery_stock.desktop.look import GRID, TypeSize, grey, greys, sized
from bindery_stock.desktop.screen import EitherOr, EmptyState, Screen
from bindery_stock.desktop.session import Session
from bindery_stock.errors import NotFound
from bindery_stock.stock import Changes, Step


class LedgerScreen(Screen):
    """All that happened, newest first."""

    title = "Ledger"
    icon = "ledger"

    def __init__(self, session: Session) -> None:
        """Build the list and its search."""
        super().__init__(session)
        self.model = LedgerModel(session, self)
        heading = QLabel("Ledger")
        sized(heading, TypeSize.TITLE)
        self.search = QLineEdit()
        self.search.setPlaceholderText("Find in the ledger: a code, a volume, a word")
        self.search.setAccessibleName("Find in the ledger")
        self.search.setClearButtonEnabled(True)
        self.search.setMaximumWidth(GRID * 100)
        self.search.textChanged.connect(self._searched)
        self.take_back = QPushButton("Take back this step")
        self.take_back.clicked.connect(self._take_back_chosen)
        self.table = self._build_table()
        self.empty = EmptyState(
            "Nothing has happened yet",
            "Every step made with the stock is written here, with its way back. "
            "Shelve a first scrap and it will be the first line.",
            [],
        )
        self.body = EitherOr(self.empty, self.table)
        top = QHBoxLayout()
        top.setSpacing(GRID * 4)
        top.addWidget(heading)
        top.addStretch(1)
        top.addWidget(self.search, 2)
        top.addWidget(self.take_back)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 3)
        column.setSpacing(GRID * 4)
        column.addLayout(top)
        column.addWidget(self.body, 1)
        self._fit_rows()
        self._show_state()

    def _fit_rows(self) -> None:
        """Every row one line of the type in use, every narrow column its longest words."""
        metrics = self.table.fontMetrics()
        rows = self.table.verticalHeader()
        rows.setMinimumSectionSize(metrics.height() + GRID * 2)
        rows.setDefaultSectionSize(metrics.height() + GRID * 3)
        for column, words in widest_words().items():
            needed = max(metrics.horizontalAdvance(text) for text in words)
            self.table.horizontalHeader().resizeSection(column, needed + GRID * 5)

    def changeEvent(self, event: QEvent) -> None:
        """Measure the rows anew where the type has changed."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "table"):
            self._fit_rows()

    def _build_table(self) -> QTableView:
        table = QTableView()
        table.setModel(self.model)
        table.setAccessibleName("Steps, newest first")
        table.setItemDelegate(_StepDelegate(table))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setShowGrid(False)
        table.setWordWrap(False)  # what does not go in is told by the tip
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        # Measured once, not row by row: a ledger grows by thousands of rows, and Qt would measure
        # them all again whenever the style changes or the table comes forward.
        table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header = table.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        for column in (LedgerColumn.DAY, LedgerColumn.TIME, LedgerColumn.WAY_BACK):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
        header.setSectionResizeMode(LedgerColumn.WHAT, QHeaderView.ResizeMode.Stretch)
        table.clicked.connect(self._clicked)
        table.activated.connect(self._activated)
        table.selectionModel().currentRowChanged.connect(lambda *_: self._show_state())
        return table

    def commands(self) -> list[Command]:
        """Find, and take back the chosen step."""
        return [
            Command(
                name="ledger.find",
                text="&Find in the ledger",
                tip="Type a code, a volume or a word to see only those steps.",
                menu=Menu.EDIT,
                keys=QKeySequence.StandardKey.Find,
                fallback="Ctrl+F",
                run=self.search.setFocus,
                begins_group=True,
            ),
            Command(
                name="ledger.take_back",
                text="Take &back this step",
                tip="Take back the chosen step, as long as nothing later rests on it.",
                menu=Menu.EDIT,
                keys="Ctrl+Backspace",
                run=self._take_back_chosen,
                enabled=self._may_take_back,
            ),
        ]

    def stock_opened(self) -> None:
        """Read the ledger from the start."""
        self.search.clear()
        self._reload()

    def stock_changed(self, _changes: Changes) -> None:
        """A step was added, and others may have been taken back by it."""
        self._reload()

    def came_forward(self) -> None:
        """Put the hand on the list."""
        self.table.setFocus()

    def chosen(self) -> Step | None:
        """The step in hand."""
        index = self.table.currentIndex()
        step = index.data(STEP_ROLE) if index.isValid() else None
        return step if isinstance(step, Step) else None

    def _reload(self) -> None:
        kept = self.chosen()
        self.model.reload()
        rows = range(self.model.rowCount())
        numbers = [self.model.index(row, 0).data(STEP_ROLE).number for row in rows]
        if kept is not None and kept.number in numbers:
            self.table.selectRow(numbers.index(kept.number))
        self._show_state()

    def _searched(self, words: str) -> None:
        self.model.search(words)
        self._show_state()

    def _show_state(self) -> None:
        if self.model.rowCount():
            self.body.show_only(self.table)
        else:
            if self.search.text().strip():
                self.empty.say("No step says that", "Clear the search to see the whole ledger.")
            else:
                self.empty.say(
                    "Nothing has happened yet",
                    "Every step made with the stock is written here, with its way back. "
                    "Shelve a first scrap and it will be the first line.",
                )
            self.body.show_only(self.empty)
        self.take_back.setEnabled(self._may_take_back())

    def _may_take_back(self) -> bool:
        step = self.chosen()
        return step is not None and can_take_back(step) and not self.session.stockroom.read_only

    def _clicked(self, index: QModelIndex) -> None:
        if index.column() == LedgerColumn.WAY_BACK:
            self._take_back_chosen()

    def _activated(self, index: QModelIndex) -> None:
        step = index.data(STEP_ROLE)
        if index.column() != LedgerColumn.WAY_BACK and step.codes:
            try:
                self.session.show_code(step.codes[0])
            except NotFound as error:  # what the step was about was taken back
                self.session.tell(error)

    def _take_back_chosen(self) -> None:
        step = self.chosen()
        if step is not None and self._may_take_back():
            number = step.number
            self.session.do(lambda stockroom: stockroom.ledger.undo(step=number))


class _StepDelegate(QStyledItemDelegate):
    """Steps that were taken back are struck through; the way back is underlined."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:  # noqa: N802
        super().initStyleOption(option, index)
        step = index.data(STEP_ROLE)
        font = QFont(option.font)
        if index.column() == LedgerColumn.WHAT:
            font.setStrikeOut(not step.standing)
        elif index.column() == LedgerColumn.WAY_BACK:
            font.setUnderline(can_take_back(step))
        option.font = font
        quiet = index.column() in (LedgerColumn.DAY, LedgerColumn.TIME) or not can_take_back(step)
        if quiet and index.column() != LedgerColumn.WHAT:
            option.palette.setColor(option.palette.ColorRole.Text, grey(greys().muted))
