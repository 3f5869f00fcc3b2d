"""The line for a written reason, where the rules want one for the chosen candidate."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from bindery_stock.bench.shelf.cautions import SIGN
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.match.model import CandidateRow
from bindery_stock.desktop.session import Session
from bindery_stock.errors import Barred, Stopped
from bindery_stock.trade.gate import Leave


class ReasonLine(QWidget):
    """Hidden while nothing speaks against the candidate. Emits ``entered()`` for Enter.

    What was written stays with its piece while other candidates are looked at.
    """

    entered = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with no candidate."""
        super().__init__()
        self._session = session
        self._code = ""
        self._written: dict[str, str] = {}
        self.entry = QLineEdit()
        self.entry.setPlaceholderText("Why it is taken all the same")
        self.entry.setAccessibleName("Written reason")
        self.entry.returnPressed.connect(self.entered)
        self.refusal = plain_label()
        self.refusal.setAccessibleName("What is wrong")
        self.refusal.hide()
        self._asked = QWidget()
        line = QHBoxLayout(self._asked)
        line.setContentsMargins(0, 0, 0, 0)
        label = QLabel("Needs a written rea&son:")
        label.setBuddy(self.entry)
        line.addWidget(label)
        line.addWidget(self.entry, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.refusal)
        column.addWidget(self._asked)
        self._asked.hide()

    @property
    def reason(self) -> str:
        """What was written for the candidate in hand; empty where nothing is asked."""
        return self.entry.text().strip() if not self._asked.isHidden() else ""

    def show_row(self, row: CandidateRow | None) -> None:
        """Ask for a reason where the rules want one for this candidate."""
        code = row.piece.code if row is not None and row.piece is not None else ""
        if code != self._code:
            self._written[self._code] = self.entry.text()
            self._code = code
            self.entry.setText(self._written.get(code, ""))
            self._say("")
        asks = row is not None and row.match is not None
        wanted = asks and row is not None and row.ruling.leave is Leave.NEEDS_REASON
        self._asked.setVisible(wanted)

    def forget(self) -> None:
        """Something else is sought: what was written was about the other."""
        self._written.clear()
        self.entry.clear()
        self._say("")

    def refuse(self, error: Exception) -> None:
        """Say beside the line what the rules refused; any other error goes to the foot."""
        if not isinstance(error, (Barred, Stopped)):
            self._session.tell(error)
            return
        self._say(f"{SIGN} {error}")
        if isinstance(error, Barred):
            self._asked.show()
            self.entry.setFocus()

    def _say(self, words: str) -> None:
        self.refusal.setText(words)
        self.refusal.setVisible(bool(words))
