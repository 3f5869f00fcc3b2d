"""What the groups of verbs of the stockroom have in common."""

from collections.abc import Callable

from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.reading import Questions


class Doing(Questions):
    """A stockroom whose verbs each go through ``_do``."""

    def _do(self, verb: Verb, work: Callable[[Draft], str]) -> Changes:
        """One verb, one transaction, one step. ``work`` returns the name of the step."""
        raise NotImplementedError
