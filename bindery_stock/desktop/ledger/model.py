"""The steps of the ledger as a Qt table model, newest first, read a page at a time."""

from collections.abc import Sequence
from enum import IntEnum
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QDate,
    QLocale,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)

from bindery_stock.bench.ledger.snapshot import LEDGER, PAGE
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import Step, Verb

Index = QModelIndex | QPersistentModelIndex
STEP_ROLE = Qt.ItemDataRole.UserRole
_DAY = "ddd d MMM yyyy"


class LedgerColumn(IntEnum):
    """The columns, in order."""

    DAY = 0
    TIME = 1
    WHAT = 2
    WAY_BACK = 3


_HEADINGS = {
    LedgerColumn.DAY: "Day",
    LedgerColumn.TIME: "Time",
    LedgerColumn.WHAT: "What happened",
    LedgerColumn.WAY_BACK: "The way back",
}


class LedgerModel(QAbstractTableModel):
    """The steps that match a search, newest first."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Begin empty."""
        super().__init__(parent)
        self._session = session
        self._newest = session.snapshot(LEDGER)
        self._steps: list[Step] = []
        self._needle = ""
        self._more = False
        self._last_read: int | None = None

    def reload(self) -> None:
        """Read the newest steps again."""
        self.beginResetModel()
        self._steps = []
        self._more = self._session.is_open
        self._read_page()
        self.endResetModel()

    def search(self, words: str) -> None:
        """Keep only the steps whose sentence or codes hold every word."""
        self._needle = words
        self.reload()

    def _next_page(self) -> list[Step]:
        """The next steps that match, reading on until some do or the ledger ends."""
        words = self._needle.casefold().split()
        found: list[Step] = []
        while self._more and not found:
            page = self._older() if self._last_read is not None else self._newest.view.steps
            self._more = len(page) == PAGE
            self._last_read = page[-1].number if page else self._last_read
            found = [s for s in page if all(w in _haystack(s) for w in words)]
        return found

    def _older(self) -> Sequence[Step]:
        """The page that follows what has been read. Older steps are asked for as they are wanted:
        they may have been taken back since, but no other will ever come between them.
        """
        return self._session.stockroom.ledger.steps(limit=PAGE, before=self._last_read)

    def _read_page(self) -> None:
        self._last_read = None
        self._steps = self._next_page()

    def canFetchMore(self, parent: Index = QModelIndex()) -> bool:  # noqa: N802, B008
        """Whether older steps have not been read yet."""
        return self._more and not parent.isValid()

    def fetchMore(self, parent: Index = QModelIndex()) -> None:  # noqa: N802, B008
        """Read older steps."""
        if parent.isValid():
            return
        page = self._next_page()
        if page:
            first = len(self._steps)
            self.beginInsertRows(QModelIndex(), first, first + len(page) - 1)
            self._steps += page
            self.endInsertRows()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """The steps read so far."""
        return 0 if parent.isValid() else len(self._steps)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Day, time, sentence, way back."""
        return 0 if parent.isValid() else len(LedgerColumn)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """The headings."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return _HEADINGS[LedgerColumn(section)]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """One cell; the step itself under ``STEP_ROLE``."""
        if not index.isValid():
            return None
        step = self._steps[index.row()]
        if role == STEP_ROLE:
            return step
        column = LedgerColumn(index.column())
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(step, column, index.row())
        if role == Qt.ItemDataRole.ToolTipRole and column is LedgerColumn.WHAT:
            return plain_tip(f"Step {step.number}. {step.name}")
        return None

    def _text(self, step: Step, column: LedgerColumn, row: int) -> str:
        if column is LedgerColumn.WHAT:
            return step.name
        if column is LedgerColumn.WAY_BACK:
            return way_back(step)
        at = step.at.astimezone()
        if column is LedgerColumn.TIME:
            return f"{at:%H:%M}"
        day = QLocale().toString(QDate(at.year, at.month, at.day), _DAY)
        above = self._steps[row - 1].at.astimezone() if row else None
        return day if above is None or above.date() != at.date() else ""


def can_take_back(step: Step) -> bool:
    """Whether a step stands and is not itself a taking back."""
    return step.standing and step.verb not in (Verb.UNDONE, Verb.REDONE)


def way_back(step: Step) -> str:
    """What the last column says of a step."""
    if step.verb is Verb.UNDONE:
        return f"took back step {step.undoes}"
    if step.verb is Verb.REDONE:
        return f"did step {step.undoes} again"
    return "Take back" if step.standing else "taken back"


def widest_words() -> dict[LedgerColumn, list[str]]:
    """Of each narrow column what may stand in it, among that its longest."""
    week, locale = range(20, 27), QLocale()
    days = [locale.toString(QDate(2026, month, d), _DAY) for month in range(1, 13) for d in week]
    ways = ["took back step 000000", "did step 000000 again", _HEADINGS[LedgerColumn.WAY_BACK]]
    return {
        LedgerColumn.DAY: days,
        LedgerColumn.TIME: ["00:00", "Time"],
        LedgerColumn.WAY_BACK: ways,
    }


def _haystack(step: Step) -> str:
    return " ".join((step.name, *step.codes)).casefold()
