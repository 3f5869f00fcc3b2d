"""The wanted list and the reorder points: what is asked of them and done with them."""

from bindery_stock.stock.door import Group
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.lots.values import Measure, amount_words
from bindery_stock.stock.wants import changes as want_changes
from bindery_stock.stock.wants import questions as want_questions
from bindery_stock.stock.wants.values import NewWanted, ReorderPoint, Wanted


class Wants(Group):
    """What to buy or look for, and the least to keep at hand."""

    def listed(self, *, closed: bool = False) -> list[Wanted]:
        """The wanted list; with ``closed`` also what was found or given up."""
        found: list[Wanted] = self._ask(want_questions.wanted, closed=closed)
        return found

    def reorder_points(self) -> list[ReorderPoint]:
        """The least that should be at hand, by kind."""
        found: list[ReorderPoint] = self._ask(want_questions.reorder_points)
        return found

    def add(self, new: NewWanted) -> Changes:
        """Write a line on the wanted list; ``Changes.born`` has its code. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            return f"Wanted {want_changes.want(draft, new)}: {new.what.strip()}"

        return self._do(Verb.WANTED, work)

    def close(self, code: str, outcome: str) -> Changes:
        """End a line of the wanted list, saying how. Raises ``NotFound``, ``EntryError``."""

        def work(draft: Draft) -> str:
            what = want_changes.close_want(draft, code, outcome)
            return f"No longer wanted, {code}, {what}: {outcome.strip()}"

        return self._do(Verb.WANTED, work)

    def set_reorder_point(self, kind: str, least: float | None, unit: Measure) -> Changes:
        """Say the least to keep at hand of an adhesive class or a kind of piece; None for none."""

        def work(draft: Draft) -> str:
            want_changes.set_reorder_point(draft, kind, least, unit)
            adhesive = self._door.rules.adhesives.get(kind)
            name = adhesive.name if adhesive is not None else kind
            if least is None:
                return f"No reorder point for {name} any more"
            return f"Reorder point for {name}: {amount_words(least, unit)}"

        return self._do(Verb.WANTED, work)
