"""The adhesive lots: what is asked of them and done with them."""

from datetime import date
from typing import Any

from bindery_stock.clock import local_date
from bindery_stock.errors import EntryError
from bindery_stock.stock.door import Group
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.lots import changes as lot_changes
from bindery_stock.stock.lots import questions as lot_questions
from bindery_stock.stock.lots.values import (
    AdhesiveLot,
    LotUse,
    NewAdhesiveLot,
    NewLotUse,
    amount_words,
)
from bindery_stock.trade import Use
from bindery_stock.trade.day_counts import written


class Lots(Group):
    """The tins, jars and batches on the adhesive shelf."""

    def listed(self, *, finished: bool = False) -> list[AdhesiveLot]:
        """The adhesive lots; with ``finished`` those used up too."""
        found: list[AdhesiveLot] = self._ask(lot_questions.adhesives, finished=finished)
        return found

    def get(self, code: str) -> AdhesiveLot:
        """The lot with this code. Raises ``NotFound``."""
        found: AdhesiveLot = self._ask(lot_questions.adhesive, code)
        return found

    def uses(self, code: str | None = None) -> list[LotUse]:
        """What was taken from one lot, or from all, the latest first."""
        found: list[LotUse] = self._ask(lot_questions.lot_uses, code)
        return found

    def enter(self, new: NewAdhesiveLot) -> Changes:
        """Enter a tin, jar or batch; ``Changes.born`` has its code. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            verb = "Made" if new.made is not None or new.made_from else "Entered"
            code = lot_changes.open_lot(draft, new)
            from_what = f" from {', '.join(new.made_from)}" if new.made_from else ""
            return f"{verb} {code}, {new.name.strip()}{from_what}"

        return self._do(Verb.OPENED, work)

    def unseal(self, code: str, on: date | None = None) -> Changes:
        """Say that a lot was opened, today where no day is given. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            lot = lot_changes.standing(lot_questions.adhesive(draft.session.connection(), code))
            if lot.opened is not None:
                raise EntryError("Opened", f"{code} was opened on {written(lot.opened)} already.")
            lot_changes.correct_lot(draft, code, {"opened": on or local_date(draft.at)})
            return f"Opened {code}, {lot.name}"

        return self._do(Verb.OPENED, work)

    def correct(self, code: str, **fields: Any) -> Changes:
        """Put right what is known of a lot: any fields of ``NewAdhesiveLot``."""

        def work(draft: Draft) -> str:
            lot_changes.correct_lot(draft, code, fields)
            return f"Corrected {', '.join(fields).replace('_', ' ')} of {code}"

        return self._do(Verb.CORRECTED, work)

    def use(
        self,
        code: str,
        *,
        use: Use,
        purpose: str,
        amount: float | None = None,
        laid_on: str = "",
        verdict: str = "",
        override_reason: str = "",
    ) -> Changes:
        """Take something from a lot for a use; ``amount`` is in the lot's unit.

        ``laid_on`` is the code of the piece it goes on, or of the one its part was cut from;
        ``verdict`` what the rules said, and ``override_reason`` why it is used all the same.
        Raises ``EntryError`` for an amount that is not there, ``StockError`` where the lot is
        finished.
        """
        new = NewLotUse(
            use=use,
            purpose=purpose,
            amount=amount,
            laid_on=laid_on,
            verdict=verdict,
            override_reason=override_reason,
        )

        def work(draft: Draft) -> str:
            lot_changes.use_lot(draft, code, new)
            unit = lot_questions.adhesive(draft.session.connection(), code).unit
            what = "some" if amount is None or unit is None else amount_words(amount, unit)
            told = f"Used {what} of {code} for {purpose.strip()}"
            return f"{told}, {laid_on}" if laid_on else told

        return self._do(Verb.USED, work)

    def finish(self, code: str, why: str = "used up") -> Changes:
        """Say that a lot is used up or thrown away. Raises ``StockError`` where it is already."""

        def work(draft: Draft) -> str:
            lot_changes.finish_lot(draft, code, why)
            return f"Finished {code}: {why.strip()}"

        return self._do(Verb.USED, work)
