"""What a binder does with adhesives and materials: a verb for each."""

from dataclasses import replace
from datetime import date
from typing import Any

from bindery_stock.clock import local_date
from bindery_stock.errors import EntryError
from bindery_stock.stock import evidence_changes
from bindery_stock.stock.doing import Doing
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.lots import changes as lot_changes
from bindery_stock.stock.lots import questions as lot_questions
from bindery_stock.stock.lots.values import Measure, NewAdhesiveLot, amount_words
from bindery_stock.stock.wants import changes as want_changes
from bindery_stock.stock.wants.values import NewWanted
from bindery_stock.trade import LabResult, Property, Use
from bindery_stock.trade.day_counts import written


class LotVerbs(Doing):
    """The verbs of lots, tests, the wanted list and reorder points."""

    def open_lot(self, new: NewAdhesiveLot) -> Changes:
        """Enter a tin, jar or batch; ``Changes.born`` has its code. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            verb = "Made" if new.made is not None or new.made_from else "Entered"
            code = lot_changes.open_lot(draft, new)
            from_what = f" from {', '.join(new.made_from)}" if new.made_from else ""
            return f"{verb} {code}, {new.name.strip()}{from_what}"

        return self._do(Verb.OPENED, work)

    def unseal_lot(self, code: str, on: date | None = None) -> Changes:
        """Say that a lot was opened, today where no day is given. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            lot = lot_changes.standing(lot_questions.adhesive(draft.session.connection(), code))
            if lot.opened is not None:
                raise EntryError("Opened", f"{code} was opened on {written(lot.opened)} already.")
            lot_changes.correct_lot(draft, code, {"opened": on or local_date(draft.at)})
            return f"Opened {code}, {lot.name}"

        return self._do(Verb.OPENED, work)

    def correct_lot(self, code: str, **fields: Any) -> Changes:
        """Put right what is known of a lot: any fields of ``NewAdhesiveLot``."""

        def work(draft: Draft) -> str:
            lot_changes.correct_lot(draft, code, fields)
            return f"Corrected {', '.join(fields).replace('_', ' ')} of {code}"

        return self._do(Verb.CORRECTED, work)

    def use_lot(
        self,
        code: str,
        *,
        use: Use,
        purpose: str,
        amount: float | None = None,
        laid_on: str = "",
        override_reason: str = "",
    ) -> Changes:
        """Take something from a lot for a use; ``amount`` is in the lot's unit.

        ``laid_on`` is the code of the piece it goes on, or of the one its part was cut from.

        Judged by ``rules`` on the day: raises ``Barred`` where the lot is out of date, frozen or
        barred for that use and no ``override_reason`` is written (where one is, the record keeps
        it with what the rules said), and ``WetWorkStopped`` where water would come to a piece
        ``laid_on`` that must stay dry; no reason lets that pass. Raises ``EntryError`` for an
        amount that is not there, ``StockError`` where the lot is finished.
        """

        def work(draft: Draft) -> str:
            taken = (use, purpose, amount)
            lot_changes.use_lot(draft, code, taken, laid_on, override_reason, self.rules)
            unit = lot_questions.adhesive(draft.session.connection(), code).unit
            what = "some" if amount is None or unit is None else amount_words(amount, unit)
            told = f"Used {what} of {code} for {purpose.strip()}"
            return f"{told}, {laid_on}" if laid_on else told

        return self._do(Verb.USED, work)

    def finish_lot(self, code: str, why: str = "used up") -> Changes:
        """Say that a lot is used up or thrown away. Raises ``StockError`` where it is already."""

        def work(draft: Draft) -> str:
            lot_changes.finish_lot(draft, code, why)
            return f"Finished {code}: {why.strip()}"

        return self._do(Verb.USED, work)

    def record_test(self, code: str, found: Property) -> Changes:
        """Add a tested, stated or seen property to a piece or a lot. Raises ``EntryError``.

        A photograph of the strip, spot or lamp must have been archived first.
        """

        def work(draft: Draft) -> str:
            found_on = found if found.on is not None else replace(found, on=local_date(draft.at))
            return (
                f"Tested {code}: {evidence_changes.record_test(draft, code, found_on, self.rules)}"
            )

        return self._do(Verb.TESTED, work)

    def add_lab_result(self, code: str, found: LabResult) -> Changes:
        """Add what a laboratory found, or did not find, in a piece. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            evidence_changes.add_lab_result(draft, code, found)
            return f"Laboratory on {code}: {found.words}"

        return self._do(Verb.TESTED, work)

    # -- what to buy or look for -----------------------------------------------------------------

    def want(self, new: NewWanted) -> Changes:
        """Write a line on the wanted list; ``Changes.born`` has its code. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            return f"Wanted {want_changes.want(draft, new)}: {new.what.strip()}"

        return self._do(Verb.WANTED, work)

    def close_want(self, code: str, outcome: str) -> Changes:
        """End a line of the wanted list, saying how. Raises ``NotFound``, ``EntryError``."""

        def work(draft: Draft) -> str:
            what = want_changes.close_want(draft, code, outcome)
            return f"No longer wanted, {code}, {what}: {outcome.strip()}"

        return self._do(Verb.WANTED, work)

    def set_reorder_point(self, kind: str, least: float | None, unit: Measure) -> Changes:
        """Say the least to keep at hand of an adhesive class or a kind of piece; None for none."""

        def work(draft: Draft) -> str:
            want_changes.set_reorder_point(draft, kind, least, unit)
            adhesive = self.rules.adhesives.get(kind)
            name = adhesive.name if adhesive is not None else kind
            if least is None:
                return f"No reorder point for {name} any more"
            return f"Reorder point for {name}: {amount_words(least, unit)}"

        return self._do(Verb.WANTED, work)
