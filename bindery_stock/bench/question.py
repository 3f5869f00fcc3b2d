"""A question a screen puts to the stockroom: answered by one frozen snapshot, at one go.

How many statements it takes is fixed: it does not grow with what the stockroom holds. Whoever
shows the answer keeps it until a step touches one of the question's tables. An answer may hold
tuples of plain values or columns of them, as its screen needs them.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from bindery_stock.stock import Changes, Stockroom

V = TypeVar("V")


@dataclass(frozen=True, slots=True)
class Question(Generic[V]):
    """What is asked, and what an answer rests on."""

    ask: Callable[[Stockroom], V]
    tables: frozenset[str] | None = None
    """A change of these changes the answer; None where every step does."""
    whole: frozenset[str] = frozenset()
    """The tables of which every row is read for it, so that none that is spoilt goes unseen."""

    def bears_on(self, changes: Changes) -> bool:
        """Whether a step may have changed the answer."""
        if self.tables is None:
            return not changes.nothing
        return not self.tables.isdisjoint(changes.touched)
