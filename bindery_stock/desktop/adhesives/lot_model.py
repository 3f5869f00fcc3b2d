"""The adhesive lots as a Qt list, what needs using up first at the top."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from bindery_stock.bench.lot_rows import LotRow

Index = QModelIndex | QPersistentModelIndex
ROW_ROLE = Qt.ItemDataRole.UserRole


class LotModel(QAbstractListModel):
    """The rows of the shelf."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin empty."""
        super().__init__(parent)
        self._rows: list[LotRow] = []

    def show(self, rows: Sequence[LotRow]) -> None:
        """Show these rows and no others."""
        self.beginResetModel()
        self._rows = list(rows)
        self.endResetModel()

    @property
    def rows(self) -> list[LotRow]:
        """The rows shown."""
        return list(self._rows)

    def place_of(self, code: str) -> int | None:
        """The number of the row of this lot."""
        codes = [row.lot.code for row in self._rows]
        return codes.index(code) if code in codes else None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """The lots shown."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The lot told in words, or its row under ``ROW_ROLE``."""
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == ROW_ROLE:
            return row
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return row.told
        if role == Qt.ItemDataRole.ToolTipRole:
            return "\n".join((row.life.words, *(f"{one.short}: {one.use}" for one in row.fitness)))
        return None
