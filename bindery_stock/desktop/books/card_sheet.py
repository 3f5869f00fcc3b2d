"""The looking-for cards of parts that nothing serves: seen, printed, put on the wanted list."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from bindery_stock.bench.books.part_list import MARGIN_MM
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.printing.paper_panel import PaperPanel
from bindery_stock.desktop.printing.sheaf import LaidOut
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.records.cards import as_wanted, card_pages, looking_for
from bindery_stock.stock import BookPart


class CardSheet(StockDialog):
    """Emits ``wanted(list)`` with ``NewWanted`` values to be put on the list."""

    wanted = Signal(list)

    def __init__(self, session: Session, parts: Sequence[BookPart], parent: QWidget) -> None:
        """Show a card for each part."""
        super().__init__(parent)
        self._parts = tuple(parts)
        self.setWindowTitle("Looking for")
        self.resize(GRID * 150, GRID * 160)
        self.paper = PaperPanel(session, file_name="looking for.pdf")
        lengths = session.settings.lengths
        pages = card_pages([looking_for(part, MARGIN_MM, lengths) for part in parts])
        self.paper.show_sheaf(LaidOut(pages, "Looking for"))
        self.list_button = QPushButton("Put on the wanted list")
        self.list_button.setEnabled(not session.stockroom.read_only)
        self.act_on(self.list_button)
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addWidget(self.paper, 1)
        column.addWidget(self.wrong)
        column.addWidget(DialogFoot(self, self.list_button, leave="Close"))

    def take(self) -> None:
        """Tell what is looked for."""
        self.wanted.emit([as_wanted(part, MARGIN_MM) for part in self._parts])
