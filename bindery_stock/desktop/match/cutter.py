"""From the chosen candidate to the cut: the cut sheet, and what its word does."""

from dataclasses import replace

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from bindery_stock.bench.match.cut import cut
from bindery_stock.bench.shelf.cut_length import cut_length
from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet
from bindery_stock.desktop.match.errand import Errand
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.matching import Match
from bindery_stock.stock import Cutting, StockPiece


class Cutter(QObject):
    """Shows the cut sheet and has the cut done. Emits ``closed()`` when the sheet is put away."""

    closed = Signal()

    def __init__(self, session: Session, previews: Previews, errand: Errand, over: QWidget) -> None:
        """Open sheets over this widget; ``errand`` knows the part of a volume they are for."""
        super().__init__(over)
        self._session, self._previews = session, previews
        self._errand, self._over = errand, over
        self.sheet: CutSheet | None = None

    def show_sheet(self, piece: StockPiece, match: Match, purpose: str, reason: str = "") -> None:
        """Show where the part lies in a piece, to be confirmed; ``reason`` is written already."""
        part = replace(match.part, name=purpose)
        sheet = CutSheet(
            self._session,
            self._previews,
            piece,
            part,
            match.placement,
            self._over.window(),
            use=self._errand.use,
            reason=reason,
        )
        sheet.cut_wanted.connect(lambda cutting: self._cut(sheet, cutting, match))
        sheet.length_wanted.connect(lambda mm: self._take_length(sheet, mm, purpose))
        sheet.finished.connect(self._sheet_closed)
        self.sheet = sheet
        sheet.open()

    def _cut(self, sheet: CutSheet, cutting: Cutting, match: Match) -> None:
        if self._errand.holds(match.part):
            self._errand.cut(sheet, cutting)
        else:
            reason = sheet.written_reason
            sheet.hand(self._session, lambda room: cut(room, cutting=cutting, reason=reason))

    def _take_length(self, sheet: CutSheet, mm: float, purpose: str) -> None:
        """A length off a roll goes on the shelf as a sheet, from which the part is then cut."""
        named, code = purpose or A_PART, sheet.piece.code
        reason = sheet.written_reason
        sheet.hand(
            self._session,
            lambda room: cut_length(
                room, piece=code, length=mm, purpose=named, keep=True, reason=reason
            ),
        )

    def _sheet_closed(self) -> None:
        if self.sheet is not None:
            self.sheet.deleteLater()
        self.sheet = None
        self.closed.emit()


A_PART = "a part"
"""What a part is called that nobody named."""
