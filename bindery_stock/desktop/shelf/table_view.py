"""The same pieces as a table that sorts by any column."""

from collections.abc import Sequence

from PySide6.QtCore import (
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    Qt,
    Signal,
)
from PySide6.QtGui import QImage, QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)

from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.choice import ChosenPieces
from bindery_stock.desktop.shelf.table_model import (
    ID_ROLE,
    PICTURE_ROLE,
    Index,
    PieceTableModel,
    ShelfColumn,
)
from bindery_stock.desktop.shelf.thumbnails import SIZE
from bindery_stock.stock import StockPiece

_STATE = "shelf/columns"
_CHARACTERS = {
    ShelfColumn.CODE: 9, ShelfColumn.KIND: 8, ShelfColumn.PATTERN: 12, ShelfColumn.COLOUR: 13,
    ShelfColumn.WIDTH: 12, ShelfColumn.HEIGHT: 12, ShelfColumn.PLACE: 20, ShelfColumn.SOURCE: 24,
    ShelfColumn.AREA: 10, ShelfColumn.NOTE: 30,
}  # fmt: skip


class PieceTable(QTableView):
    """Shows what was found as rows. Emits ``sheet_wanted()`` when Enter asks for the sheet."""

    sheet_wanted = Signal()

    def __init__(self, session: Session, model: PieceTableModel, choice: ChosenPieces) -> None:
        """Show the rows of the model."""
        super().__init__()
        self._session = session
        self._choice = choice
        self._model = model
        self._taking = False
        self.setModel(model)
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
        self.setItemDelegateForColumn(ShelfColumn.PICTURE, PictureDelegate(PICTURE_ROLE, self))
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
        self.sortByColumn(ShelfColumn.CODE, Qt.SortOrder.AscendingOrder)
        unit = self.fontMetrics().averageCharWidth()
        self.setColumnWidth(ShelfColumn.PICTURE, SIZE.width() + 8)
        for column, characters in _CHARACTERS.items():
            self.setColumnWidth(column, unit * characters + 12)
        header.restoreState(self._session.settings.state(_STATE))
        header.sectionResized.connect(self._remember)
        header.sectionMoved.connect(self._remember)
        header.sortIndicatorChanged.connect(self._remember)

    def _remember(self) -> None:
        self._session.settings.set_state(_STATE, self.horizontalHeader().saveState())

    def show_pieces(self, pieces: Sequence[StockPiece]) -> None:
        """Show these pieces; the choice stays."""
        self._taking = True
        self._model.show(pieces)
        self._taking = False
        self._take()

    def shown(self) -> list[int]:
        """The ids of the pieces shown, from top to bottom."""
        return self._model.ids

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
        return self._model.index(-1 if row is None else row, ShelfColumn.CODE)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens the sheet; the rest is as in every table."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.sheet_wanted.emit()
        else:
            super().keyPressEvent(event)


class PictureDelegate(QStyledItemDelegate):
    """Paints the row's ground as the style does, and the picture as it is."""

    def __init__(self, role: int, parent: QObject) -> None:
        """Take the picture from this role; as a decoration the style would tint it."""
        super().__init__(parent)
        self._role = role

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """The ground, then the picture in its middle."""
        super().paint(painter, option, index)
        image = index.data(self._role)
        if isinstance(image, QImage):
            size = image.deviceIndependentSize()
            middle = QPointF(option.rect.center())
            painter.drawImage(middle - QPointF(size.width() / 2, size.height() / 2), image)
