"""The road from the shortlist to the cut: the first six laid beside the book in one photograph."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QPushButton, QWidget

from bindery_stock.bench.match.line_up import LineUpSheet, line_up_sheet
from bindery_stock.desktop.line_up.dialog import LineUpAsked, LineUpDialog
from bindery_stock.desktop.match.errand import Reserved
from bindery_stock.desktop.match.model import Held
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import weigh
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.matching import Ranking

_TIP = "Lay the likeliest beside the book, photograph all at once, and see which is the closest."


@dataclass(frozen=True, slots=True)
class Sought:
    """What stands in Match beside the answer."""

    named: str
    """What the part is called; empty where nobody has."""
    reserved: Reserved | None
    """The piece reserved for what is sought."""
    with_reserved: bool
    """Whether what is reserved for others is offered too."""

    @property
    def in_hand(self) -> str:
        """The code of the piece reserved for what is sought."""
        return self.reserved.match.code if self.reserved is not None else ""

    @property
    def purpose(self) -> str:
        """What the part is called, or what the piece was reserved for."""
        return self.named or (self.reserved.purpose if self.reserved is not None else "")


class LineUpRoad(QObject):
    """Its button is the next action until candidates have been held beside the book; after that
    ``cut_button`` is. Emits ``cut_wanted(str)`` with the piece to go on with.
    """

    cut_wanted = Signal(str)

    def __init__(
        self,
        session: Session,
        previews: Previews,
        over: QWidget,
        cut_button: QPushButton,
        sought: Callable[[], Sought],
    ) -> None:
        """Open dialogs over this widget."""
        super().__init__(over)
        self._session, self._previews = session, previews
        self._over, self._cut_button, self._sought = over, cut_button, sought
        self._ranking: Ranking | None = None
        self.dialog: LineUpDialog | None = None
        self.button = QPushButton("Line-up…")
        self.button.clicked.connect(self.open)
        self.show_answer(None, {})

    def show_answer(self, ranking: Ranking | None, held: Held) -> None:
        """Offer the line-up of this answer; ``held`` is what was confirmed of its pieces."""
        self._ranking = ranking
        missing = self.missing
        self.button.setEnabled(not missing)
        self.button.setToolTip(plain_tip(missing or _TIP))
        self.button.setAccessibleDescription(missing or _TIP)
        is_next = not missing and not held
        weigh(self.button, next_action=is_next)
        weigh(self._cut_button, next_action=not is_next)

    @property
    def missing(self) -> str:
        """Why nothing can be laid beside the book; empty where something can."""
        ranking = self._ranking
        if ranking is None or not ranking.matches:
            return "There is nothing to lay beside the book: no piece serves what is sought yet."
        if not ranking.part.shown or ranking.part.lab is None:
            return "The part is not seen, so no colour has to be compared."
        if self._session.stockroom.read_only:
            return "The stockroom is open for reading only."
        return ""

    def open(self) -> None:
        """Show what to lay, or say why nothing is."""
        ranking = self._ranking
        if ranking is None or self.missing:
            self._session.said.emit(self.missing)
            return
        sought = self._sought()
        pieces = {piece.code: piece for piece in self._session.pieces}

        def sheet(after: int) -> LineUpSheet:
            return line_up_sheet(
                ranking,
                pieces,
                in_hand=sought.in_hand,
                with_reserved=sought.with_reserved,
                after=after,
            )

        serves = {match.code for match in ranking.matches}
        asked = LineUpAsked(sheet, sought.purpose, serves)
        dialog = LineUpDialog(self._session, self._previews, asked, self._over.window())
        dialog.cut_wanted.connect(self.cut_wanted)
        dialog.finished.connect(self._closed)
        self.dialog = dialog
        dialog.open()

    def _closed(self) -> None:
        if self.dialog is not None:
            self.dialog.deleteLater()
        self.dialog = None
