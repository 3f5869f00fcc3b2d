"""Taking something from a lot: stopped with the reason where the rules speak against it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QCompleter, QPlainTextEdit, QWidget

from bindery_stock.bench.adhesives.shelf_rows import LotRow, amount_of
from bindery_stock.bench.adhesives.typed import SHARES, read_amount
from bindery_stock.bench.adhesives.use import Destination, Destinations, hindrance
from bindery_stock.bench.books.snapshot import BOOKS
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.forms.form_dialog import Chooser, FormDialog, typed_or_chosen
from bindery_stock.desktop.look import TypeSize, sized
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.errors import EntryError, NotFound
from bindery_stock.stock import Measure, StockPiece
from bindery_stock.trade.gate import Leave, Ruling

_REASON_LINES = 3


class UseDialog(FormDialog):
    """Asks what is taken and for what. Emits ``wanted(dict)``: the arguments of ``use_some``."""

    wanted = Signal(object)

    def __init__(self, row: LotRow, session: Session, parent: QWidget | None) -> None:
        """Ask for one lot."""
        super().__init__(f"Use some of {row.lot.code}, {row.lot.name}", "Use it", parent)
        self._row, self._session = row, session
        self._fitness = {one.use: one for one in row.fitness}
        self.use = Chooser(
            [(f"{use.value}:  {one.short}", use) for use, one in self._fitness.items()]
        )
        self.add("&For", self.use, "Use")
        self._destinations = _destinations(session)
        self.purpose = typed_or_chosen(self._destinations.offered)
        self.purpose.setToolTip(
            plain_tip(
                "A part of a volume on the bench, as offered here, or any words. Words that end "
                "in a comma and the name of a volume go to that volume."
            )
        )
        completer = self.purpose.completer()
        if completer is not None:
            completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        self.purpose.activated.connect(self._fill_in_piece)
        self.purpose.currentTextChanged.connect(self._look)
        self.add("&Of what", self.purpose, "Purpose")
        self.no_volume = self.remark()
        self.piece = self.line("&Laid on", hint="code of the piece, if it is one of yours")
        self.amount = QComboBox()
        self.amount.setEditable(True)
        self.amount.setToolTip("Leave it empty for a smear that nobody weighs.")
        if row.lot.unit is Measure.SHARE:
            self.amount.addItems(list(SHARES))
            self.amount.setCurrentIndex(-1)
        counted = "of the tin" if row.lot.unit is Measure.SHARE else row.lot.unit
        unit = f" ({counted})" if counted else ""
        self.add(f"&How much{unit}", self.amount, "How much", "Amount")
        self.amount.setEnabled(row.lot.left is not None)
        self.remark(f"There is {amount_of(row.lot)}. Empty: not measured.")
        self.said = self.remark()
        self.stop = plain_label()
        self.stop.setAccessibleName("What stops it")
        sized(self.stop, TypeSize.BODY, bold=True)
        self.reason = QPlainTextEdit()
        self.reason.setTabChangesFocus(True)
        self.reason.setMaximumHeight(self.reason.fontMetrics().height() * (_REASON_LINES + 1))
        self.reason.setPlaceholderText("Why it is used all the same; the record keeps it")
        self.form.addRow(self.stop)
        self.add("&Reason", self.reason)
        self._listen()
        self._look()

    def _listen(self) -> None:
        self.use.currentIndexChanged.connect(self._look)
        self.piece.textEdited.connect(self._look)
        self.reason.textChanged.connect(self._look)

    def _fill_in_piece(self) -> None:
        """A part of a volume knows what it was cut from."""
        self.piece.setText(self._destination().piece)
        self._look()

    def _destination(self) -> Destination:
        """What the words of the purpose name."""
        return self._destinations.named(self.purpose.currentText())

    def _laid_on(self) -> StockPiece | None:
        """The piece named. Raises ``NotFound``."""
        code = self.piece.text().strip().upper()
        return self._session.piece(code) if code else None

    def _ruling(self, laid_on: str) -> Ruling:
        room, lot = self._session.stockroom, self._row.lot
        return hindrance(room, lot, self.use.value(), self._destination(), laid_on)

    def _look(self) -> None:
        """Say at once what stands in the way."""
        try:
            found = self._ruling(self.piece.text().strip().upper())
        except NotFound:
            found = self._ruling("")  # still being typed; it is asked for by the button
        needs_reason = found.leave is Leave.NEEDS_REASON
        self.form.setRowVisible(self.no_volume, self._names_no_volume())
        one = self._fitness[self.use.value()]
        self.said.setText(one.reason if found.is_allowed else "")
        self.stop.setText("" if found.is_allowed else f"✕ {_sentence(found)} {found.words}")
        self.form.setRowVisible(self.stop, not found.is_allowed)
        self.form.setRowVisible(self.reason, needs_reason)
        written = bool(self.reason.toPlainText().strip())
        self.go.setText("Use it all the same" if needs_reason else "Use it")
        self.go.setEnabled(not found.is_stopped and (written or not needs_reason))
        self.adjustSize()

    def _names_no_volume(self) -> bool:
        """Whether something is said, but of no volume; if so the line beneath says how to."""
        offered = self._destinations.offered
        shown = f"“{offered[-1]}”" if offered else "“spine lining, ” and its name"
        self.no_volume.setText(
            "These words name no volume on the bench: none is judged, and no record of one lists "
            f"this. Choose one from the list, or end as {shown} does."
        )
        return bool(self.purpose.currentText().strip()) and self._destination().volume is None

    def take(self) -> None:
        """Tell what is taken. Raises ``EntryError``, ``NotFound``."""
        lot = self._row.lot
        purpose = self.purpose.currentText().strip()
        if not purpose:
            raise EntryError("Of what", "Of what: say which part of which volume it goes to.")
        piece = self._laid_on()
        typed = self.amount.currentText()
        amount = read_amount(typed, lot.unit, "How much") if lot.unit is not None else None
        self.wanted.emit(
            {
                "use": self.use.value(),
                "purpose": purpose,
                "amount": amount,
                "laid_on": piece.code if piece else "",
                "reason": self.reason.toPlainText().strip(),
            }
        )


def _sentence(found: Ruling) -> str:
    """``Stopped.``, ``Needs a written reason.``"""
    return f"{found.leave.value.capitalize()}."


def _destinations(session: Session) -> Destinations:
    """The volumes and parts as last read."""
    books = session.snapshot(BOOKS).view
    return Destinations(books.repairs, books.by_volume)
