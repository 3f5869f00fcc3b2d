"""The pieces as rows: one column a fact, in the order of one of them."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)

from bindery_stock.bench.shelf.piece_words import area_words, one_line
from bindery_stock.bench.shelf.search import SortKey, family_of, natural_key
from bindery_stock.colour import FAMILIES
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.thumbnails import Thumbnails
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import StockPiece
from bindery_stock.units import LengthStyle

Index = QModelIndex | QPersistentModelIndex
ID_ROLE = Qt.ItemDataRole.UserRole
PICTURE_ROLE = Qt.ItemDataRole.UserRole + 1
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class ShelfColumn(IntEnum):
    """The columns, in their order."""

    PICTURE = 0
    CODE = 1
    KIND = 2
    PATTERN = 3
    COLOUR = 4
    WIDTH = 5
    HEIGHT = 6
    PLACE = 7
    SOURCE = 8
    AREA = 9
    NOTE = 10


_COLUMN_COUNT = len(ShelfColumn)
_SINGLY = 200
"""Where more rows come and go than this, all are shown anew."""


@lru_cache(maxsize=20_000)
def _natural(text: str) -> SortKey:
    """A key kept ready: thousands of pieces share a few places and patterns."""
    return natural_key(text)


@dataclass(frozen=True, slots=True)
class _Told:
    heading: str
    text: Callable[[StockPiece, LengthStyle], str]
    key: Callable[[StockPiece], Any]
    figures: bool = False


def _colour_key(piece: StockPiece) -> tuple[int, float]:
    family = family_of(piece)
    return (FAMILIES.index(family), piece.colour.lab[0]) if piece.colour else (len(FAMILIES), 0.0)


def _colour_text(piece: StockPiece, _lengths: LengthStyle) -> str:
    if piece.colour is None:
        return "not read"
    return f"{family_of(piece)}, L* {piece.colour.lab[0]:.0f}"


_COLUMNS: dict[ShelfColumn, _Told] = {
    ShelfColumn.PICTURE: _Told("", lambda _p, _l: "", lambda p: p.id),
    ShelfColumn.CODE: _Told("Code", lambda p, _l: p.code, lambda p: _natural(p.code)),
    ShelfColumn.KIND: _Told("Kind", lambda p, _l: str(p.kind), lambda p: str(p.kind)),
    ShelfColumn.PATTERN: _Told("Grain", lambda p, _l: p.pattern, lambda p: _natural(p.pattern)),
    ShelfColumn.COLOUR: _Told("Colour", _colour_text, _colour_key),
    ShelfColumn.WIDTH: _Told(
        "Across warp",
        lambda p, s: s.show(p.outline.width, 0),
        lambda p: p.outline.width,
        figures=True,
    ),
    ShelfColumn.HEIGHT: _Told(
        "Along warp",
        lambda p, s: s.show(p.outline.height, 0),
        lambda p: p.outline.height,
        figures=True,
    ),
    ShelfColumn.AREA: _Told(
        "Area", lambda p, _l: area_words(p.outline.area), lambda p: p.outline.area, figures=True
    ),
    ShelfColumn.PLACE: _Told("Lies in", lambda p, _l: p.place, lambda p: _natural(p.place)),
    ShelfColumn.SOURCE: _Told("Came from", lambda p, _l: p.source, lambda p: _natural(p.source)),
    ShelfColumn.NOTE: _Told(
        "Note", lambda p, _l: " ".join(p.note.split()), lambda p: _natural(p.note)
    ),
}


class PieceTableModel(QAbstractTableModel):
    """The pieces found, as rows in the order of one column."""

    def __init__(self, session: Session, thumbnails: Thumbnails, parent: QObject) -> None:
        """Begin with no rows, in the order of codes."""
        super().__init__(parent)
        self._session = session
        self._thumbnails = thumbnails
        self._pieces: list[StockPiece] = []
        self._rows: dict[int, int] = {}
        self._column = ShelfColumn.CODE
        self._down = False
        thumbnails.ready.connect(self._picture_ready)

    def show(self, pieces: Iterable[StockPiece]) -> None:
        """Show these pieces and no others, in the order chosen; only what changed is touched."""
        self._become(self._in_order(pieces))

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Put the rows in the order of a column; alike ones go by their ids."""
        if column in set(ShelfColumn):
            self._column, self._down = ShelfColumn(column), order is Qt.SortOrder.DescendingOrder
            self._become(self._in_order(self._pieces))

    def _in_order(self, pieces: Iterable[StockPiece]) -> list[StockPiece]:
        key = _COLUMNS[self._column].key
        return sorted(pieces, key=lambda piece: (key(piece), piece.id), reverse=self._down)

    def _become(self, wanted: list[StockPiece]) -> None:
        gone = self._rows.keys() - {piece.id for piece in wanted}
        new = [piece for piece in wanted if piece.id not in self._rows]
        if len(gone) + len(new) > _SINGLY:
            self.beginResetModel()
            self._take(wanted)
            self.endResetModel()
            return
        self._remove(sorted(self._rows[number] for number in gone))
        self._reorder([piece for piece in wanted if piece.id in self._rows])
        self._insert(wanted, new)

    def _take(self, pieces: list[StockPiece]) -> None:
        self._pieces = pieces
        self._rows = {piece.id: row for row, piece in enumerate(pieces)}

    def _remove(self, rows: list[int]) -> None:
        while rows:
            last = first = rows.pop()
            while rows and rows[-1] == first - 1:
                first = rows.pop()
            self.beginRemoveRows(QModelIndex(), first, last)
            self._take(self._pieces[:first] + self._pieces[last + 1 :])
            self.endRemoveRows()

    def _reorder(self, wanted: list[StockPiece]) -> None:
        """The same pieces as they are now, in the order in which they are wanted."""
        before = self._pieces
        if [piece.id for piece in before] != [piece.id for piece in wanted]:
            self.layoutAboutToBeChanged.emit()
            held = self.persistentIndexList()
            ids = [before[index.row()].id for index in held]
            self._take(wanted)
            moved = [
                self.index(self._rows[number], index.column())
                for number, index in zip(ids, held, strict=True)
            ]
            self.changePersistentIndexList(held, moved)
            self.layoutChanged.emit()
        known = {piece.id: piece for piece in before}
        self._take(wanted)
        for row, piece in enumerate(wanted):
            if known[piece.id] is not piece:
                self.dataChanged.emit(self.index(row, 0), self.index(row, _COLUMN_COUNT - 1))

    def _insert(self, wanted: list[StockPiece], new: list[StockPiece]) -> None:
        """Put new pieces where they belong, in runs."""
        fresh = {piece.id for piece in new}
        row = 0
        while row < len(wanted):
            if wanted[row].id not in fresh:
                row += 1
                continue
            end = row
            while end < len(wanted) and wanted[end].id in fresh:
                end += 1
            self.beginInsertRows(QModelIndex(), row, end - 1)
            self._take(self._pieces[:row] + wanted[row:end] + self._pieces[row:])
            self.endInsertRows()
            row = end

    def _picture_ready(self, code: str) -> None:
        for row, piece in enumerate(self._pieces):
            if piece.code == code:
                cell = self.index(row, ShelfColumn.PICTURE)
                self.dataChanged.emit(cell, cell, [PICTURE_ROLE])

    def restyle(self) -> None:
        """Lengths are read in another unit now."""
        if self._pieces:
            last = self.index(len(self._pieces) - 1, len(ShelfColumn) - 1)
            self.dataChanged.emit(self.index(0, 0), last)

    @property
    def ids(self) -> list[int]:
        """The ids of the pieces, from top to bottom."""
        return [piece.id for piece in self._pieces]

    def row_of(self, piece: int) -> int | None:
        """The row of a piece by its id."""
        return self._rows.get(piece)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """How many pieces."""
        return 0 if parent.isValid() else len(self._pieces)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """How many facts."""
        return 0 if parent.isValid() else _COLUMN_COUNT

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """The heading of a column."""
        if orientation is Qt.Orientation.Vertical or not 0 <= section < len(ShelfColumn):
            return None
        told = _COLUMNS[ShelfColumn(section)]
        if role == Qt.ItemDataRole.DisplayRole:
            return told.heading
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return told.heading or "Picture"
        if role == Qt.ItemDataRole.TextAlignmentRole and told.figures:
            return _RIGHT
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What stands in a cell."""
        if not index.isValid() or index.row() >= len(self._pieces):
            return None
        piece, column = self._pieces[index.row()], ShelfColumn(index.column())
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return _COLUMNS[column].text(piece, self._session.settings.lengths)
            case Qt.ItemDataRole.TextAlignmentRole if _COLUMNS[column].figures:
                return _RIGHT
            case Qt.ItemDataRole.AccessibleTextRole if column is ShelfColumn.PICTURE:
                return one_line(piece, self._session.settings.lengths, self._session.rules)
            case _:
                return self._hidden_data(piece, column, role)

    def _hidden_data(self, piece: StockPiece, column: ShelfColumn, role: int) -> Any:
        if role == ID_ROLE:
            return piece.id
        if role == PICTURE_ROLE and column is ShelfColumn.PICTURE:
            return self._thumbnails.image(piece)
        if role == Qt.ItemDataRole.ToolTipRole:
            lengths = self._session.settings.lengths
            if column is ShelfColumn.WIDTH:
                return plain_tip(lengths.other(piece.outline.width))
            if column is ShelfColumn.HEIGHT:
                return plain_tip(lengths.other(piece.outline.height))
        return None
