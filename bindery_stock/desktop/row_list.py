"""Rows of a list that a delegate draws: each is handed out whole, with its words beside it."""

from collections.abc import Sequence
from typing import Any, Generic, Protocol, TypeVar

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from bindery_stock.desktop.tips import plain_tip

Index = QModelIndex | QPersistentModelIndex
ROW_ROLE = Qt.ItemDataRole.UserRole


class RowTold(Protocol):
    """What every row has."""

    @property
    def told(self) -> str:
        """The row for a reader that cannot see it."""


R = TypeVar("R", bound=RowTold)


class RowList(QAbstractListModel, Generic[R]):
    """Knows the rows in their order."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin empty."""
        super().__init__(parent)
        self._rows: list[R] = []

    def show_rows(self, rows: Sequence[R]) -> None:
        """Show these rows and no others."""
        self.beginResetModel()
        self._rows = list(rows)
        self.endResetModel()

    @property
    def rows(self) -> list[R]:
        """The rows shown."""
        return list(self._rows)

    def tip(self, _row: R) -> str:
        """What hovering over a row adds; nothing by default."""
        return ""

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """How many rows."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The row's words, or the row itself under ``ROW_ROLE``."""
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == ROW_ROLE:
            return row
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return row.told
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self.tip(row)) or None
        return None
