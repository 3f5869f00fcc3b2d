"""How far the order of the answer can be trusted, and the way to be surer."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton, QWidget

from bindery_stock.bench.match.closeness import order_note
from bindery_stock.desktop.colours.side_by_side import SideBySide
from bindery_stock.desktop.session import Session
from bindery_stock.matching import Ranking


class Trust:
    """The sentence above the list, and the button that holds a candidate beside the book."""

    def __init__(self, session: Session, over: QWidget) -> None:
        """Open dialogs over this widget."""
        self._session = session
        self._over = over
        self.dialog: SideBySide | None = None
        self.note = QLabel()
        self.note.setTextFormat(Qt.TextFormat.PlainText)
        self.note.setWordWrap(True)
        self.note.setAccessibleName("How far the order can be trusted")
        self.note.hide()
        self.button = QPushButton("Beside the book…")
        self.button.setToolTip("Compare the candidate with the book in one photograph of both.")

    def show_answer(self, ranking: Ranking | None) -> None:
        """Say whether the bands swamp the differences of this answer; nothing without one."""
        said = order_note(ranking) if ranking is not None else ""
        self.note.setText(said)
        self.note.setVisible(bool(said))

    def hold_beside(self, code: str, purpose: str) -> None:
        """Hold this piece beside the book."""
        dialog = SideBySide(self._session, code, purpose, self._over.window())
        dialog.finished.connect(dialog.deleteLater)
        self.dialog = dialog
        dialog.open()
