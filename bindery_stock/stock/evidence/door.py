"""What is found out about a piece or a lot, by test, statement or laboratory."""

from dataclasses import replace

from bindery_stock.clock import local_date
from bindery_stock.stock.door import Group
from bindery_stock.stock.evidence import changes as evidence_changes
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.trade import LabResult, Property


class Evidences(Group):
    """Tests and laboratory results."""

    def record(self, code: str, found: Property) -> Changes:
        """Add a tested, stated or seen property to a piece or a lot. Raises ``EntryError``.

        A photograph of the strip, spot or lamp must have been archived first.
        """

        def work(draft: Draft) -> str:
            found_on = found if found.on is not None else replace(found, on=local_date(draft.at))
            told = evidence_changes.record_test(draft, code, found_on, self._door.rules)
            return f"Tested {code}: {told}"

        return self._do(Verb.TESTED, work)

    def add_lab_result(self, code: str, found: LabResult) -> Changes:
        """Add what a laboratory found, or did not find, in a piece. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            evidence_changes.add_lab_result(draft, code, found)
            return f"Laboratory on {code}: {found.words}"

        return self._do(Verb.TESTED, work)
