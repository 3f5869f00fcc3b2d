"""A planned cut on paper: the sketch with its measures, then the piece at full size."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.printing.paper_box import paper_box
from bindery_stock.desktop.printing.paper_panel import PaperPanel
from bindery_stock.desktop.printing.sheaf import LaidOut
from bindery_stock.desktop.session import Session
from bindery_stock.records.cut_paper import CutTold, cut_pages
from bindery_stock.stock import Cutting, StockPiece


class CutPaperDialog(QDialog):
    """The pages of one cut, to be printed or saved."""

    def __init__(
        self,
        session: Session,
        piece: StockPiece,
        cutting: Cutting,
        told: CutTold,
        parent: QWidget | None,
    ) -> None:
        """Lay the cut out on the paper chosen last."""
        super().__init__(parent)
        self.setWindowTitle(f"Cut from {piece.code} on paper")
        self._session = session
        self._piece, self._cutting, self._told = piece, cutting, told
        self.paper_box = paper_box(session)
        self.paper = PaperPanel(session, file_name=f"cut-{piece.code}.pdf")
        label = QLabel("&Paper")
        label.setBuddy(self.paper_box)
        close = QPushButton("Close")
        close.setAutoDefault(False)
        close.clicked.connect(self.accept)
        upper = QHBoxLayout()
        upper.addWidget(label)
        upper.addWidget(self.paper_box)
        upper.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
        column.setSpacing(GRID * 2)
        column.addLayout(upper)
        column.addWidget(self.paper, 1)
        column.addWidget(close, alignment=Qt.AlignmentFlag.AlignLeft)
        self.paper_box.currentIndexChanged.connect(lambda _row: self.refresh())
        self.resize(GRID * 170, GRID * 180)
        self.refresh()

    def refresh(self) -> None:
        """Lay the pages out anew."""
        paper = self.paper_box.currentData()
        lengths = self._session.settings.lengths
        pages = cut_pages(self._piece, self._cutting, paper, lengths, self._told)
        self.paper.show_sheaf(LaidOut(pages, f"Cut from {self._piece.code}"))
