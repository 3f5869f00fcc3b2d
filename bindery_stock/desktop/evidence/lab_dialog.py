"""Recording what a laboratory found, or did not find, in a piece."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from bindery_stock.bench.adhesives.record_test import add_lab_result
from bindery_stock.bench.adhesives.tests import substances
from bindery_stock.desktop.forms.form_dialog import Chooser, FormDialog, open_over, typed_or_chosen
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError
from bindery_stock.stock import StockPiece
from bindery_stock.trade import LabResult
from bindery_stock.trade.laboratory import METHODS


class LabDialog(FormDialog):
    """Asks for one laboratory result. Emits ``recorded(LabResult)``."""

    recorded = Signal(object)

    def __init__(self, about: str, session: Session, parent: QWidget | None) -> None:
        """Offer the substances that the cautions speak of; ``about`` is what was looked at."""
        super().__init__(f"Laboratory result for {about}", "Record", parent)
        self.remark(
            "Only a result with its date, its laboratory and its method lowers a caution, and "
            "then to a note. Damp wipes and home tests lift the pigment: leave them.",
            whole_width=True,
        )
        self.substance = typed_or_chosen(list(substances(session.rules)))
        self.substance.setCurrentIndex(-1)
        self.add("&Looked for", self.substance, "Substance")
        self.outcome = Chooser([("—", None), ("found", True), ("none found", False)])
        self.add("&Result", self.outcome)
        self.laboratory = self.line("La&boratory")
        self.method = typed_or_chosen(list(METHODS))
        self.add("&Method", self.method)
        self.on = self.day("&On", None, session.stockroom.today)

    def take(self) -> None:
        """Tell the result. Raises ``EntryError``."""
        substance = self.substance.currentText().strip()
        if not substance:
            raise EntryError("Looked for", "Looked for: name the substance.")
        found = self.outcome.value()
        if found is None:
            raise EntryError("Result", "Result: say whether it was found.")
        self.recorded.emit(
            LabResult(
                substance=substance,
                found=found,
                on=self.on.value(),
                laboratory=self.laboratory.text().strip(),
                method=self.method.currentText().strip(),
            )
        )


def ask_lab_result(piece: StockPiece, session: Session, parent: QWidget) -> LabDialog:
    """Open the dialog over ``parent``; what it is told is recorded."""
    dialog = LabDialog(piece.code, session, parent)
    dialog.recorded.connect(
        lambda found: dialog.hand(
            session, lambda room: add_lab_result(room, code=piece.code, found=found)
        )
    )
    open_over(dialog)
    return dialog
