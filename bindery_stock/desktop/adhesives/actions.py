"""What is done to lots: entered, opened, corrected, tested, used, finished; and what is wanted."""

from typing import Any

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QDialog, QWidget

from bindery_stock.bench.adhesives.correct_lot import correct_lot, finish, unseal
from bindery_stock.bench.adhesives.enter_lot import enter_lot, mix
from bindery_stock.bench.adhesives.shelf_rows import LotRow
from bindery_stock.bench.adhesives.use import use_some
from bindery_stock.bench.adhesives.wants import close_want, set_reorder_point, want
from bindery_stock.desktop.adhesives.lot_dialog import LotDialog, LotStart
from bindery_stock.desktop.adhesives.use_dialog import UseDialog
from bindery_stock.desktop.adhesives.want_dialogs import ReorderDialog, WantDialog
from bindery_stock.desktop.evidence.test_dialog import ask_test
from bindery_stock.desktop.forms.ask_words import AskWords
from bindery_stock.desktop.forms.form_dialog import open_over
from bindery_stock.desktop.session import Session
from bindery_stock.stock import (
    AdhesiveLot,
    Changes,
    Measure,
    NewAdhesiveLot,
    NewWanted,
    Stockroom,
)

FINISHED = ("used up", "thrown away, out of date", "thrown away, spoiled", "given away")
OUTCOMES = ("bought", "found", "given up")


class AdhesiveActions(QObject):
    """Asks what is needed and has it done; whatever is done can be undone from the foot."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        """Ask over this widget."""
        super().__init__(parent)
        self._session, self._over = session, parent
        self.dialog: QDialog | None = None

    def enter(self, start: LotStart, parts: tuple[str, ...] = ()) -> None:
        """Put a new lot on the shelf."""
        dialog = LotDialog(self._session, self._over, start=start, parts=parts)

        def entered(new: NewAdhesiveLot, reason: str) -> None:
            def verb(room: Stockroom) -> Changes:
                return (
                    mix(room, lot=new, reason=reason) if new.made_from else enter_lot(room, lot=new)
                )

            dialog.hand(
                self._session,
                verb,
                lambda changes: self._session.lot_wanted.emit(changes.born[0]),
            )

        dialog.entered.connect(entered)
        self.dialog = open_over(dialog)

    def correct(self, lot: AdhesiveLot) -> None:
        """Put right the facts of a lot."""
        dialog = LotDialog(self._session, self._over, lot=lot)

        def corrected(changed: dict[str, Any]) -> None:
            dialog.hand(
                self._session, lambda room: correct_lot(room, lot=lot.code, changed=changed)
            )

        dialog.corrected.connect(corrected)
        self.dialog = open_over(dialog)

    def unseal(self, lot: AdhesiveLot) -> None:
        """Say that a lot was opened today."""
        self._session.do(lambda room: unseal(room, lot=lot.code))

    def use(self, row: LotRow) -> None:
        """Take something from a lot."""
        dialog = UseDialog(row, self._session, self._over)

        def wanted(asked: dict[str, Any]) -> None:
            dialog.hand(self._session, lambda room: use_some(room, lot=row.lot.code, **asked))

        dialog.wanted.connect(wanted)
        self.dialog = open_over(dialog)

    def test(self, lot: AdhesiveLot) -> None:
        """Record a test of a lot."""
        self.dialog = ask_test(lot, self._session, self._over)

    def finish(self, lot: AdhesiveLot) -> None:
        """Take a lot off the shelf, saying why."""
        dialog = AskWords(
            f"Why does {lot.code}, {lot.name} leave the shelf? Throw chemicals away by the local "
            "rules.",
            FINISHED,
            f"Finish {lot.code}",
            self._over,
        )
        dialog.answered.connect(
            lambda why: dialog.hand(self._session, lambda room: finish(room, lot=lot.code, why=why))
        )
        self.dialog = open_over(dialog)

    def want(self, what: str = "") -> None:
        """Put something on the wanted list."""
        dialog = WantDialog(self._session, self._over, what=what)

        def entered(new: NewWanted) -> None:
            dialog.hand(self._session, lambda room: want(room, new=new))

        dialog.entered.connect(entered)
        self.dialog = open_over(dialog)

    def close_want(self, code: str) -> None:
        """End a line of the wanted list."""
        dialog = AskWords(f"How did {code} end?", OUTCOMES, f"Close {code}", self._over)
        dialog.answered.connect(
            lambda how: dialog.hand(
                self._session, lambda room: close_want(room, code=code, outcome=how)
            )
        )
        self.dialog = open_over(dialog)

    def set_reorder_point(self) -> None:
        """Say the least to keep at hand of a kind."""
        dialog = ReorderDialog(self._session, self._over)

        def entered(kind: str, least: float | None, unit: Measure) -> None:
            dialog.hand(
                self._session,
                lambda room: set_reorder_point(room, kind=kind, least=least, unit=unit),
            )

        dialog.entered.connect(entered)
        self.dialog = open_over(dialog)
