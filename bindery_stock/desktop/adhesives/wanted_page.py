"""The wanted list, and the reorder points beside it."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.clock import local_date
from bindery_stock.colour import family
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button
from bindery_stock.desktop.swatch import lab_text
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import ReorderPoint, Wanted, amount_words
from bindery_stock.trade import Rules
from bindery_stock.trade.day_counts import written
from bindery_stock.units import LengthStyle

_COLUMNS = ("Code", "What", "For", "At least", "Colour", "Since")


class WantedPage(QWidget):
    """Both lists. Emits ``want_wanted()``, ``close_wanted(code)`` and ``reorder_wanted()``."""

    want_wanted = Signal()
    close_wanted = Signal(str)
    reorder_wanted = Signal()

    def __init__(self) -> None:
        """Begin with nothing wanted."""
        super().__init__()
        self.table = QTableWidget(0, len(_COLUMNS))
        self.table.setHorizontalHeaderLabels(list(_COLUMNS))
        self.table.setAccessibleName("Wanted")
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        header = self.table.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        self.table.itemSelectionChanged.connect(self._refresh)
        self.empty = EmptyState(
            "Nothing is wanted",
            "What is to be bought, or looked for at sales, stands here with its size and colour.",
            [],
        )
        self.either = EitherOr(self.empty, self.table)
        self.add_button = next_button("Put on the list…")
        self.add_button.clicked.connect(self.want_wanted)
        self.close_button = QPushButton("Found or given up…")
        self.close_button.clicked.connect(self._close)
        self.points = QLabel()
        self.points.setTextFormat(Qt.TextFormat.PlainText)
        self.points.setWordWrap(True)
        self.reorder_button = QPushButton("Set a reorder point…")
        self.reorder_button.clicked.connect(self.reorder_wanted)
        self._writable = True
        self._lay_out()

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.addWidget(self.add_button)
        buttons.addWidget(self.close_button)
        buttons.addStretch(1)
        heading = QLabel("Reorder points")
        sized(heading, TypeSize.HEAD)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 3, GRID * 4, GRID * 4)
        column.setSpacing(GRID * 3)
        column.addLayout(buttons)
        column.addWidget(self.either, 1)
        column.addWidget(heading)
        column.addWidget(self.points)
        column.addWidget(self.reorder_button, alignment=Qt.AlignmentFlag.AlignLeft)

    def show_lists(
        self,
        wants: Sequence[Wanted],
        points: Sequence[ReorderPoint],
        rules: Rules,
        lengths: LengthStyle,
        *,
        writable: bool,
    ) -> None:
        """Show what is wanted, and the least to keep at hand."""
        self._writable = writable
        self.table.setRowCount(len(wants))
        for row, want in enumerate(wants):
            for column, text in enumerate(_cells(want, lengths)):
                item = QTableWidgetItem(text)
                item.setToolTip(plain_tip(want.note if column == 1 else text))
                self.table.setItem(row, column, item)
        self.either.show_only(self.table if wants else self.empty)
        told = [
            f"{_name(point, rules)}: {amount_words(point.least, point.unit)}" for point in points
        ]
        self.points.setText("\n".join(told) or "None is set: nothing is ever called low.")
        self._refresh()

    def choose(self, code: str) -> None:
        """Choose the line with this code, if it is there."""
        for row in range(self.table.rowCount()):
            item = self.table.item(row, 0)
            if item is not None and item.text() == code:
                self.table.selectRow(row)

    def chosen(self) -> str:
        """The code of the line in hand, or empty."""
        row = self.table.currentRow()
        item = self.table.item(row, 0) if self.table.selectedItems() else None
        return item.text() if item is not None else ""

    def _refresh(self) -> None:
        for button in (self.add_button, self.reorder_button):
            button.setEnabled(self._writable)
        self.close_button.setEnabled(self._writable and bool(self.chosen()))

    def _close(self) -> None:
        if self.chosen():
            self.close_wanted.emit(self.chosen())


def _cells(want: Wanted, lengths: LengthStyle) -> tuple[str, ...]:
    if want.width is not None and want.height is not None:
        size = lengths.pair(want.width, want.height)
    elif want.width is not None:
        size = f"{lengths.show(want.width)} wide"
    elif want.height is not None:
        size = f"{lengths.show(want.height)} tall"
    else:
        size = ""
    colour = f"{family(want.lab)}, {lab_text(want.lab)}" if want.lab else ""
    since = written(local_date(want.since))
    return (want.code, want.what, want.purpose, size, colour, since)


def _name(point: ReorderPoint, rules: Rules) -> str:
    kind = rules.adhesives.get(point.kind)
    return kind.name if kind else point.kind
