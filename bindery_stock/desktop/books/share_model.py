"""A sharing-out as a table: what each part gets by the plan, and what closest-first would give."""

from enum import IntEnum
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from bindery_stock.bench.books.share_out import ShareChoice, Shared
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.units import LengthStyle

Index = QModelIndex | QPersistentModelIndex
CHOICE_ROLE = Qt.ItemDataRole.UserRole
_NOWHERE = QModelIndex()


class ShareColumn(IntEnum):
    """The columns."""

    PART = 0
    PLAN = 1
    CLOSEST = 2


class ShareModel(QAbstractTableModel):
    """One row a part, those first for which the two ways differ."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with nothing shared out."""
        super().__init__(parent)
        self._pairs: list[tuple[ShareChoice, ShareChoice]] = []
        self._lengths = LengthStyle()
        self.pins: dict[int, str] = {}

    def show(self, shared: Shared | None, lengths: LengthStyle) -> None:
        """Show a sharing-out, or nothing."""
        self.beginResetModel()
        self._lengths = lengths
        self._pairs = []
        if shared is not None:
            pairs = list(zip(shared.choices, shared.closest, strict=True))
            self._pairs = sorted(
                pairs, key=lambda pair: (not pair[0].part.shown, not _differ(pair))
            )
        self.endResetModel()

    def choice(self, row: int) -> ShareChoice | None:
        """What the part of a row gets by the plan."""
        return self._pairs[row][0] if 0 <= row < len(self._pairs) else None

    def row_of(self, part_id: int) -> int:
        """The row of a part, or −1."""
        ids = [pair[0].part.id for pair in self._pairs]
        return ids.index(part_id) if part_id in ids else -1

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """One row a part."""
        return 0 if parent.isValid() else len(self._pairs)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Part, plan, closest-first."""
        return 0 if parent.isValid() else len(ShareColumn)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Words, and the choice for the delegate."""
        if not index.isValid():
            return None
        plan, closest = self._pairs[index.row()]
        if index.column() == ShareColumn.PART:
            if role == Qt.ItemDataRole.DisplayRole:
                size = self._lengths.pair(plan.part.width, plan.part.height)
                return f"{plan.part.purpose}\n{size}{'' if plan.part.shown else ', hidden'}"
            return None
        choice = plan if index.column() == ShareColumn.PLAN else closest
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(choice.ruling)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            pinned = index.column() == ShareColumn.PLAN and choice.part.id in self.pins
            return choice_words(choice, pinned=pinned)
        return choice if role == CHOICE_ROLE else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """The names of the two ways."""
        if role == Qt.ItemDataRole.DisplayRole and orientation is Qt.Orientation.Horizontal:
            return ("Part", "This plan", "Closest first, volume by volume")[section]
        return None


def _differ(pair: tuple[ShareChoice, ShareChoice]) -> bool:
    codes = [choice.placed.code if choice.placed else "" for choice in pair]
    return codes[0] != codes[1]


def _without_words(choice: ShareChoice) -> str:
    """``goes without``, and what its cloth went to."""
    if not choice.held_by:
        return "goes without"
    more = f" and {len(choice.held_by) - 1} more" if len(choice.held_by) > 1 else ""
    return f"goes without\n{choice.held_in} goes to {choice.held_by[0]}{more}"


def choice_words(choice: ShareChoice, *, pinned: bool) -> str:
    """``C-0042, ΔE00 2.1 ± 1.4``, or what it goes without."""
    if choice.placed is None:
        return "nothing in the hoard serves" if choice.wanted else _without_words(choice)
    placed = choice.placed
    shade = ""
    if placed.delta_e is not None:
        band = f" ± {placed.u:.1f}" if placed.u is not None else ""
        where = " under the part" if placed.under else ""
        shade = f"\nΔE00 {placed.delta_e:.1f}{band}{where}"
    sign, needs = ("△ ", ", needs a written reason") if choice.ruling else ("", "")
    return f"{sign}{placed.code}{needs}{', pinned' if pinned else ''}{shade}"
