"""The same pieces as a table that sorts by any column."""

from collections.abc import Sequence

from PySide6.QtCore import (
    QItemSelection,
    QItemSelectionModel,
    QObject,
    QSortFilterProxyModel,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.choice import Choice
from bindery_stock.desktop.shelf.picture_delegate import PictureDelegate
from bindery_stock.desktop.shelf.table_model import (
    ID_ROLE,
    PICTURE_ROLE,
    Column,
    Index,
    PieceTableModel,
)
from bindery_stock.desktop.shelf.thumbnails import SIZE
from bindery_stock.stock import Piece

_STATE = "shelf/table"
_CHARACTERS = {
    Column.CODE: 10, Column.KIND: 8, Column.PATTERN: 14, Column.COLOUR: 14, Column.WIDTH: 14,
    Column.HEIGHT: 14, Column.AREA: 10, Column.PLACE: 18, Column.SOURCE: 24, Column.NOTE: 30,
}  # fmt: skip


class _Found(QSortFilterProxyModel):
    """Shows the rows of the pieces found, in the order of a column's ranks."""

    def __init__(self, model: PieceTableModel, parent: QObject) -> None:
        super().__init__(parent)
        self._model = model
        self._found: frozenset[int] = frozenset()
        self.setSourceModel(model)
        self.setDynamicSortFilter(True)

    def show_only(self, found: frozenset[int]) -> None:
        if found == self._found:
            return
        if hasattr(self, "endFilterChange"):
            self.beginFilterChange()
            self._found = found
            self.endFilterChange(QSortFilterProxyModel.Direction.Rows)
        else:  # before Qt 6.10
            self._found = found
            self.invalidateRowsFilter()

    def filterAcceptsRow(self, row: int, _parent: Index) -> bool:
        return self._model.id_at(row) in self._found

    def lessThan(self, left: Index, right: Index) -> bool:
        ranks = self._model.ranks(left.column())
        return ranks[left.row()] < ranks[right.row()]


class PieceTable(QTableView):
    """Shows what was found as rows. Emits ``sheet_wanted()`` when Enter asks for the sheet."""

    sheet_wanted = Signal()

    def __init__(self, session: Session, model: PieceTableModel, choice: Choice) -> None:
        """Show the model through its own sorting and filter."""
        super().__init__()
        self._session = session
        self._choice = choice
        self._model = model
        self._taking = False
        self.found = _Found(model, self)
        self.setModel(self.found)
        self.setAccessibleName("The pieces as a table")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setShowGrid(False)
        self.setAlternatingRowColors(True)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(SIZE.height() + 4)
        self.setItemDelegateForColumn(Column.PICTURE, PictureDelegate(PICTURE_ROLE, self))
        self._set_up_header()
        self.selectionModel().selectionChanged.connect(self._tell)
        self.selectionModel().currentChanged.connect(self._tell)
        choice.changed.connect(self._take)

    def _set_up_header(self) -> None:
        header = self.horizontalHeader()
        header.setSectionsMovable(True)
        header.setStretchLastSection(True)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        self.setSortingEnabled(True)
        self.sortByColumn(Column.CODE, Qt.SortOrder.AscendingOrder)
        unit = self.fontMetrics().averageCharWidth()
        self.setColumnWidth(Column.PICTURE, SIZE.width() + 8)
        for column, characters in _CHARACTERS.items():
            self.setColumnWidth(column, unit * characters + 12)
        header.restoreState(self._session.settings.state(_STATE))
        header.sectionResized.connect(self._remember)
        header.sectionMoved.connect(self._remember)
        header.sortIndicatorChanged.connect(self._remember)

    def _remember(self) -> None:
        self._session.settings.set_state(_STATE, self.horizontalHeader().saveState())

    def show_only(self, pieces: Sequence[Piece]) -> None:
        """Show the rows of these pieces."""
        self._taking = True
        self.found.show_only(frozenset(piece.id for piece in pieces))
        self._taking = False
        self._take()

    def shown(self) -> list[int]:
        """The ids of the pieces shown, from top to bottom."""
        return [self.found.index(row, 0).data(ID_ROLE) for row in range(self.found.rowCount())]

    def _tell(self) -> None:
        if self._taking:
            return
        ids = {index.data(ID_ROLE) for index in self.selectionModel().selectedRows()}
        current = self.currentIndex().data(ID_ROLE)
        self._choice.set(ids, current if current in ids else next(iter(ids), None))

    def _take(self) -> None:
        """Show the choice made elsewhere."""
        if self._taking:
            return
        self._taking = True
        selection = QItemSelection()
        for piece in self._choice.ids:
            index = self._index_of(piece)
            if index.isValid():
                selection.select(index, index)
        flags = QItemSelectionModel.SelectionFlag
        self.selectionModel().select(selection, flags.ClearAndSelect | flags.Rows)
        current = self._choice.current
        if current is not None and self._index_of(current).isValid():
            index = self._index_of(current)
            self.selectionModel().setCurrentIndex(index, flags.NoUpdate)
            self.scrollTo(index)
        self._taking = False

    def _index_of(self, piece: int) -> Index:
        row = self._model.row_of(piece)
        source = self._model.index(-1 if row is None else row, Column.CODE)
        return self.found.mapFromSource(source)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens the sheet; the rest is as in every table."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.sheet_wanted.emit()
        else:
            super().keyPressEvent(event)
