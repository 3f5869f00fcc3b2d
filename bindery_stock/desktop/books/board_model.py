"""A set as a board: one row a volume, one column a kind of part, then the hours."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from bindery_stock.bench.books.gate_beforehand import wet_line, wet_mark
from bindery_stock.bench.books.progress import column_of, columns
from bindery_stock.bench.books.survey import hours_words
from bindery_stock.bench.match.candidates import ruling_line
from bindery_stock.bench.match.shade_words import shade_words
from bindery_stock.bench.shelf.cautions import SIGN
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.cloth import state_words
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import BookPart, Repair

Index = QModelIndex | QPersistentModelIndex
CELL_ROLE = Qt.ItemDataRole.UserRole
_NOWHERE = QModelIndex()
_WORDS = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in one cell: a volume and its parts of one role; none where it wants none."""

    repair: Repair
    parts: tuple[BookPart, ...]
    against: str = ""
    """What the gate will say when one of them is cut, the gravest: ``stopped``; else empty."""

    @property
    def words(self) -> str:
        """One state for all, or how many of each; marked where the gate speaks against one."""
        return f"{SIGN} {self.against} · {self._states()}" if self.against else self._states()

    def _states(self) -> str:
        if not self.parts:
            return ""
        told: dict[str, int] = {}
        for part in self.parts:
            told[state_words(part)] = told.get(state_words(part), 0) + 1
        if len(told) == 1:
            return next(iter(told))
        plain: dict[str, int] = {}
        for part in self.parts:
            plain[str(part.state)] = plain.get(str(part.state), 0) + 1
        return ", ".join(f"{count} {state}" for state, count in plain.items())


class BoardModel(QAbstractTableModel):
    """The volumes of one set against the kinds of part they want."""

    def __init__(self, books: BenchBooks, parent: QObject | None = None) -> None:
        """Begin with no set."""
        super().__init__(parent)
        self._books = books
        self._set: str | None = None
        self.volumes: list[Repair] = []
        self.columns: list[str] = []

    def show_set(self, code: str | None) -> None:
        """Show the volumes of a set, or those of none."""
        self.beginResetModel()
        self._set = code
        self.volumes = self._books.volumes(code)
        self.columns = columns(self._books.set_parts(code))
        self.endResetModel()

    def cell(self, row: int, column: int) -> Cell:
        """What stands there."""
        repair = self.volumes[row]
        words = self.columns[column]
        listed = self._books.parts(repair.code)
        parts = tuple(part for part in listed if column_of(part.role) == words)
        gravest = max(map(self._books.said, parts), key=lambda said: said.leave.rank, default=None)
        against = "" if gravest is None or gravest.is_allowed else str(gravest.leave)
        return Cell(repair, parts, against)

    def standing(self, repair: Repair) -> str:
        """What the rules stop on a volume, and what is wrong with it or how far it is."""
        mark = wet_mark(self._books.said_wet(repair))
        return " · ".join(words for words in (mark, standing_words(repair)) if words)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """One row a volume."""
        return 0 if parent.isValid() else len(self.volumes)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """One column a kind of part, and one for the hours."""
        return 0 if parent.isValid() else len(self.columns) + 1

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The cell for the delegate, and its words."""
        if not index.isValid():
            return None
        repair = self.volumes[index.row()]
        if index.column() == len(self.columns):
            return self._hours(repair) if role in _WORDS else None
        cell = self.cell(index.row(), index.column())
        if role == CELL_ROLE:
            return cell
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self._tip(cell)) if cell.parts else None
        what = self.columns[index.column()]
        told = f"{repair.name}, {what}: {cell.words or '–'}"
        return told if role == Qt.ItemDataRole.AccessibleTextRole else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Kinds of part above, volumes at the left."""
        hours = orientation is Qt.Orientation.Horizontal and section == len(self.columns)
        if role == Qt.ItemDataRole.TextAlignmentRole and hours:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom
        if role == Qt.ItemDataRole.ToolTipRole and orientation is Qt.Orientation.Vertical:
            repair = self.volumes[section]
            stopped = wet_line(self._books.said_wet(repair))
            return plain_tip("\n".join(filter(None, (volume_words(repair), stopped))))
        if role not in _WORDS:
            return None
        if orientation is Qt.Orientation.Vertical:
            repair = self.volumes[section]
            named = f"{repair.volume}" if repair.volume is not None else repair.name
            mark = wet_mark(self._books.said_wet(repair))
            return f"{named}, {mark}" if mark and role != Qt.ItemDataRole.DisplayRole else named
        return "Hours" if hours else self.columns[section]

    def _hours(self, repair: Repair) -> str:
        return f"{repair.hours_spent:g} of {hours_words(*self._books.estimate(repair))}"

    def _tip(self, cell: Cell) -> str:
        lengths = self._books.session.settings.lengths
        lines = [cell.repair.name + (f", {cell.repair.title}" if cell.repair.title else "")]
        for part in cell.parts:
            shade = ""
            if part.shade is not None and part.read_by.is_measured:
                shade = f", {shade_words(part.shade)}"
            size = lengths.pair(part.width, part.height)
            lines.append(f"{part.words}, {size}: {state_words(part)}{shade}")
            said = ruling_line(self._books.said(part))
            if said:
                lines.append(said)
        return "\n".join(lines)


def standing_words(repair: Repair) -> str:
    """What is wrong with a volume, or how far it is."""
    ticks = ", ".join(damage.harm.value for damage in repair.survey.damage)
    return str(repair.state) if repair.state.value != "surveyed" else ticks


def volume_words(repair: Repair) -> str:
    """A volume in two lines, as its row would be told at length."""
    names = dict.fromkeys(name for name in (repair.name, repair.title) if name)
    return "\n".join((", ".join(names), standing_words(repair)))
