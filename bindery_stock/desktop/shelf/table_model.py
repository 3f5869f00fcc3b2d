"""The pieces as rows: one column a fact, kept up to date by id."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)

from bindery_stock.bench.looking import family_of, natural_key
from bindery_stock.bench.telling import area_words, one_line
from bindery_stock.colour import FAMILIES
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.thumbnails import Thumbnails
from bindery_stock.stock import Piece
from bindery_stock.units import LengthStyle

Index = QModelIndex | QPersistentModelIndex
ID_ROLE = Qt.ItemDataRole.UserRole
PICTURE_ROLE = Qt.ItemDataRole.UserRole + 1
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class Column(IntEnum):
    """The columns, in their order."""

    PICTURE = 0
    CODE = 1
    KIND = 2
    PATTERN = 3
    COLOUR = 4
    WIDTH = 5
    HEIGHT = 6
    AREA = 7
    PLACE = 8
    SOURCE = 9
    NOTE = 10


_COLUMN_COUNT = len(Column)


@dataclass(frozen=True, slots=True)
class _Told:
    heading: str
    text: Callable[[Piece, LengthStyle], str]
    key: Callable[[Piece], Any]
    figures: bool = False


def _colour_key(piece: Piece) -> tuple[int, float]:
    family = family_of(piece)
    return (FAMILIES.index(family), piece.colour.lab[0]) if piece.colour else (len(FAMILIES), 0.0)


def _colour_text(piece: Piece, _lengths: LengthStyle) -> str:
    if piece.colour is None:
        return "not read"
    return f"{family_of(piece)}, L* {piece.colour.lab[0]:.0f}"


_COLUMNS: dict[Column, _Told] = {
    Column.PICTURE: _Told("", lambda _p, _l: "", lambda p: p.id),
    Column.CODE: _Told("Code", lambda p, _l: p.code, lambda p: natural_key(p.code)),
    Column.KIND: _Told("Kind", lambda p, _l: str(p.kind), lambda p: str(p.kind)),
    Column.PATTERN: _Told(
        "Grain pattern", lambda p, _l: p.pattern, lambda p: natural_key(p.pattern)
    ),
    Column.COLOUR: _Told("Colour", _colour_text, _colour_key),
    Column.WIDTH: _Told(
        "Across warp",
        lambda p, s: s.show(p.outline.width, 0),
        lambda p: p.outline.width,
        figures=True,
    ),
    Column.HEIGHT: _Told(
        "Along warp",
        lambda p, s: s.show(p.outline.height, 0),
        lambda p: p.outline.height,
        figures=True,
    ),
    Column.AREA: _Told(
        "Area", lambda p, _l: area_words(p.outline.area), lambda p: p.outline.area, figures=True
    ),
    Column.PLACE: _Told("Lies in", lambda p, _l: p.place, lambda p: natural_key(p.place)),
    Column.SOURCE: _Told("Came from", lambda p, _l: p.source, lambda p: natural_key(p.source)),
    Column.NOTE: _Told(
        "Note", lambda p, _l: " ".join(p.note.split()), lambda p: natural_key(p.note)
    ),
}


class PieceTableModel(QAbstractTableModel):
    """All pieces on the shelf. Knows them in order of shelving; sorting is the proxy's."""

    def __init__(self, session: Session, thumbnails: Thumbnails, parent: QObject) -> None:
        """Begin with no rows."""
        super().__init__(parent)
        self._session = session
        self._thumbnails = thumbnails
        self._pieces: list[Piece] = []
        self._rows: dict[int, int] = {}
        self._ranks: dict[int, list[int]] = {}
        thumbnails.ready.connect(self._picture_ready)

    def show(self, pieces: Sequence[Piece]) -> None:
        """Show these pieces, in order of their ids; only what changed is touched."""
        wanted = {piece.id: piece for piece in pieces}
        self._remove([row for row, piece in enumerate(self._pieces) if piece.id not in wanted])
        for row, piece in enumerate(self._pieces):
            if wanted[piece.id] is not piece:
                self._pieces[row] = wanted[piece.id]
                self._ranks.clear()
                self._touch(row)
        self._insert([piece for number, piece in wanted.items() if number not in self._rows])

    def _remove(self, rows: list[int]) -> None:
        while rows:
            last = first = rows.pop()
            while rows and rows[-1] == first - 1:
                first = rows.pop()
            self.beginRemoveRows(QModelIndex(), first, last)
            del self._pieces[first : last + 1]
            self._index()
            self.endRemoveRows()

    def _insert(self, new: list[Piece]) -> None:
        """Put new pieces where their ids belong: mostly one run at the end."""
        for run in _runs(new, [piece.id for piece in self._pieces]):
            at = sum(1 for piece in self._pieces if piece.id < run[0].id)
            self.beginInsertRows(QModelIndex(), at, at + len(run) - 1)
            self._pieces[at:at] = run
            self._index()
            self.endInsertRows()

    def _index(self) -> None:
        self._ranks.clear()
        self._rows = {piece.id: row for row, piece in enumerate(self._pieces)}

    def _touch(self, row: int) -> None:
        self.dataChanged.emit(self.index(row, 0), self.index(row, len(Column) - 1))

    def _picture_ready(self, code: str) -> None:
        for row, piece in enumerate(self._pieces):
            if piece.code == code:
                cell = self.index(row, Column.PICTURE)
                self.dataChanged.emit(cell, cell, [PICTURE_ROLE])

    def restyle(self) -> None:
        """Lengths are read in another unit now."""
        if self._pieces:
            last = self.index(len(self._pieces) - 1, len(Column) - 1)
            self.dataChanged.emit(self.index(0, 0), last)

    def id_at(self, row: int) -> int:
        """The id of the piece in a row."""
        return self._pieces[row].id

    def ranks(self, column: int) -> list[int]:
        """For each row its place in a column's order, worked out once for all comparisons."""
        if column not in self._ranks:
            key = _COLUMNS[Column(column)].key
            keys = [(key(piece), piece.id) for piece in self._pieces]
            ranks = [0] * len(keys)
            for rank, row in enumerate(sorted(range(len(keys)), key=keys.__getitem__)):
                ranks[row] = rank
            self._ranks[column] = ranks
        return self._ranks[column]

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
        if orientation is Qt.Orientation.Vertical or not 0 <= section < len(Column):
            return None
        told = _COLUMNS[Column(section)]
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
        piece, column = self._pieces[index.row()], Column(index.column())
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return _COLUMNS[column].text(piece, self._session.settings.lengths)
            case Qt.ItemDataRole.TextAlignmentRole if _COLUMNS[column].figures:
                return _RIGHT
            case Qt.ItemDataRole.AccessibleTextRole if column is Column.PICTURE:
                return one_line(piece, self._session.settings.lengths, self._session.rules)
            case _:
                return self._hidden_data(piece, column, role)

    def _hidden_data(self, piece: Piece, column: Column, role: int) -> Any:
        if role == ID_ROLE:
            return piece.id
        if role == PICTURE_ROLE and column is Column.PICTURE:
            return self._thumbnails.image(piece)
        if role == Qt.ItemDataRole.ToolTipRole:
            lengths = self._session.settings.lengths
            if column is Column.WIDTH:
                return lengths.other(piece.outline.width)
            if column is Column.HEIGHT:
                return lengths.other(piece.outline.height)
        return None


def _runs(new: list[Piece], present: list[int]) -> list[list[Piece]]:
    """New pieces in runs that stand together between those present."""
    runs: list[list[Piece]] = []
    for piece in sorted(new, key=lambda piece: piece.id):
        parted = not runs or any(runs[-1][-1].id < other < piece.id for other in present)
        if parted:
            runs.append([piece])
        else:
            runs[-1].append(piece)
    return runs
