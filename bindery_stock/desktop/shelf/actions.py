"""What is done to pieces from the shelf: correct, move, discard, copy."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from PySide6.QtCore import QMimeData, QObject
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QFileDialog, QWidget

from bindery_stock.bench.shelf.correct import correct
from bindery_stock.bench.shelf.cut_length import cut_length
from bindery_stock.bench.shelf.discard import discard
from bindery_stock.bench.shelf.move import move
from bindery_stock.bench.shelf.piece_words import as_table_text
from bindery_stock.bench.shelf.snapshot import WORDS
from bindery_stock.desktop.colours.instrument_dialog import InstrumentDialog
from bindery_stock.desktop.colours.side_by_side import SideBySide
from bindery_stock.desktop.drops import PHOTO_FILTERS
from bindery_stock.desktop.forms.ask_words import AskWords
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.facts_dialog import FactsDialog
from bindery_stock.desktop.shelf.length_dialog import LengthDialog
from bindery_stock.stock import StockPiece

REASONS = (
    "too small to use",
    "rotten or too weak",
    "mouldy: bagged and taken out of the room",
    "lost",
    "given away",
)
"""Ready-made reasons for discarding; any other may be typed."""
_TSV = "text/tab-separated-values"


class ShelfActions(QObject):
    """Asks what is needed and has it done; whatever is done can be undone from the foot."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        """Ask over this widget."""
        super().__init__(parent)
        self._session = session
        self._over = parent
        self.dialog: QDialog | None = None

    def _open(self, dialog: QDialog) -> None:
        self.dialog = dialog
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def edit(self, piece: StockPiece) -> None:
        """Put right the facts of a piece."""
        dialog = FactsDialog(piece, self._session.snapshot(WORDS).view, self._over)

        def keep(changed: dict[str, Any]) -> None:
            dialog.hand(self._session, lambda room: correct(room, piece=piece.code, fields=changed))

        dialog.corrected.connect(keep)
        self._open(dialog)

    def hold_beside(self, piece: StockPiece) -> None:
        """Compare a piece with a book in one photograph, for what it is reserved for."""
        self._open(SideBySide(self._session, piece.code, piece.reserved_for, self._over))

    def add_reading(self, piece: StockPiece) -> None:
        """Add an instrument's reading to a piece."""
        self._open(InstrumentDialog(self._session, piece, self._over))

    def cut_length(self, piece: StockPiece) -> None:
        """Take a length off a roll or sheet, which stays one piece."""
        dialog = LengthDialog(piece, self._session.settings.lengths, self._over)

        def cut(length: float, purpose: str, keep: bool) -> None:
            reason = dialog.written_reason
            dialog.hand(
                self._session,
                lambda room: cut_length(
                    room,
                    piece=piece.code,
                    length=length,
                    purpose=purpose,
                    keep=keep,
                    reason=reason,
                ),
            )

        dialog.answered.connect(cut)
        self._open(dialog)

    def photograph_anew(self, piece: StockPiece) -> None:
        """Choose a new photograph of a piece; the photo table takes it from there."""
        dialog = QFileDialog(self._over, f"A new photograph of {piece.code}")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters(PHOTO_FILTERS)
        dialog.fileSelected.connect(
            lambda file: self._session.anew_offered.emit(piece.code, Path(file))
        )
        self._open(dialog)

    def move(self, pieces: Sequence[StockPiece]) -> None:
        """Say where pieces lie now."""
        codes = [piece.code for piece in pieces]
        what = codes[0] if len(codes) == 1 else f"{len(codes)} pieces"
        dialog = AskWords(
            f"Where does {what} lie now?" if len(codes) == 1 else f"Where do {what} lie now?",
            self._session.snapshot(WORDS).view.places,
            f"Move {what}",
            self._over,
            text=pieces[0].place,
        )
        dialog.answered.connect(
            lambda place: dialog.hand(
                self._session, lambda room: move(room, pieces=codes, place=place)
            )
        )
        self._open(dialog)

    def discard(self, piece: StockPiece) -> None:
        """Take a piece out of stock, with the reason. Undo brings it back."""
        dialog = AskWords(
            f"Why is {piece.code} discarded?", REASONS, f"Discard {piece.code}", self._over
        )
        dialog.answered.connect(
            lambda why: dialog.hand(
                self._session, lambda room: discard(room, piece=piece.code, why=why)
            )
        )
        self._open(dialog)

    def copy(self, pieces: Sequence[StockPiece]) -> None:
        """Put pieces on the clipboard, as tab-separated values and as plain text."""
        if not pieces:
            return
        text = as_table_text(pieces)
        data = QMimeData()
        data.setData(_TSV, text.encode())
        data.setText(text)
        QGuiApplication.clipboard().setMimeData(data)
        count = len(pieces)
        self._session.said.emit(f"Copied {count} {'piece' if count == 1 else 'pieces'}.")
