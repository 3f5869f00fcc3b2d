"""Old finds: what is met in old books, how to know it, how the trade takes it off."""

from collections.abc import Sequence

from PySide6.QtWidgets import QHBoxLayout, QListWidget, QVBoxLayout, QWidget

from bindery_stock.bench.adhesives.fitness import source_words
from bindery_stock.bench.shelf.cautions import SIGN
from bindery_stock.desktop.column import plain_label, scrolled
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.trade import NOT_A_TEST, OldFind

_LIST_WIDTH = 260
_TEXT_WIDTH = 720


class FindsPage(QWidget):
    """A list of finds at the left, the chosen one at the right."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__()
        self._finds: list[OldFind] = []
        self.list = QListWidget()
        self.list.setAccessibleName("Old finds")
        self.list.setFixedWidth(_LIST_WIDTH)
        self.list.setProperty("role", "places")
        self.list.currentRowChanged.connect(self._show)
        self.name = plain_label()
        sized(self.name, TypeSize.TITLE, bold=True)
        self.parts = {
            heading: plain_label()
            for heading in ("How to know it", "How it ages", "How the trade takes it off", "Mind")
        }
        self.source = plain_label(muted=True)
        body = QWidget()
        body.setMaximumWidth(_TEXT_WIDTH)
        column = QVBoxLayout(body)
        column.setContentsMargins(GRID * 6, GRID * 4, GRID * 6, GRID * 4)
        column.setSpacing(GRID)
        column.addWidget(self.name)
        for heading, label in self.parts.items():
            title = plain_label(heading)
            sized(title, TypeSize.HEAD)
            title.setContentsMargins(0, GRID * 3, 0, 0)
            column.addWidget(title)
            column.addWidget(label)
        column.addSpacing(GRID * 3)
        column.addWidget(self.source)
        column.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.list)
        row.addWidget(scrolled(body), 1)

    def show_finds(self, finds: Sequence[OldFind]) -> None:
        """Show these entries."""
        chosen = max(0, self.list.currentRow())
        self._finds = list(finds)
        self.list.clear()
        self.list.addItems([find.name for find in finds])
        self.list.setCurrentRow(min(chosen, len(finds) - 1))

    def _show(self, row: int) -> None:
        if not 0 <= row < len(self._finds):
            return
        find = self._finds[row]
        self.name.setText(find.name)
        cautions = "\n".join(f"{SIGN} {caution}" for caution in find.cautions)
        texts = (find.recognise, find.ageing, find.removal, f"{cautions}\n{NOT_A_TEST}")
        for label, text in zip(self.parts.values(), texts, strict=True):
            label.setText(text)
        self.source.setText(
            f"Source: {source_words(find.provenance)}. It never replaces a conservator for a book "
            "that matters."
        )
