"""Conditions of a rule over known and unknown facts.

A condition on a fact that nobody has established is neither true nor false. Rules therefore answer
yes, no or *not known for want of these facts*, after Kleene's strong three-valued logic
(S. C. Kleene, Introduction to Metamathematics, 1952, § 64).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

Fact = float | str | bool
Facts = Mapping[str, Fact | None]
"""What is known of an item; ``None`` or absence is *unknown*."""


class Operator(StrEnum):
    """How a fact is compared."""

    IS = "is"
    IS_NOT = "is_not"
    ONE_OF = "one_of"
    BELOW = "below"
    AT_MOST = "at_most"
    AT_LEAST = "at_least"
    ABOVE = "above"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Condition:
    """One comparison of one fact."""

    fact: str
    test: Operator
    value: Fact | tuple[str, ...]

    def holds(self, facts: Facts) -> bool | None:
        """True, false, or ``None`` while the fact is not known."""
        known = facts.get(self.fact)
        if self.test is Operator.UNKNOWN:
            return (known is None) is self.value
        if known is None:
            return None
        if self.test is Operator.ONE_OF:
            return isinstance(self.value, tuple) and known in self.value
        if self.test in {Operator.IS, Operator.IS_NOT}:
            return (known == self.value) is (self.test is Operator.IS)
        return self._compares(float(known), self.value)

    def _compares(self, known: float, limit: Fact | tuple[str, ...]) -> bool:
        if isinstance(limit, str | tuple):
            raise TypeError(f"{self.fact} is compared with a word")
        if self.test is Operator.BELOW:
            return known < limit
        if self.test is Operator.AT_MOST:
            return known <= limit
        if self.test is Operator.AT_LEAST:
            return known >= limit
        return known > limit


@dataclass(frozen=True, slots=True)
class Answer:
    """What a rule's conditions come to, and which facts are wanting where they come to nothing."""

    holds: bool | None
    wanting: frozenset[str] = frozenset()


def answer(every: tuple[Condition, ...], some: tuple[Condition, ...], facts: Facts) -> Answer:
    """All of ``every`` and, where there are any, at least one of ``some``."""
    results = [(c, c.holds(facts)) for c in every]
    if any(held is False for _, held in results):
        return Answer(False)
    wanting = {c.fact for c, held in results if held is None}
    choices = [(c, c.holds(facts)) for c in some]
    if choices and not any(held for _, held in choices):
        open_choices = {c.fact for c, held in choices if held is None}
        if not open_choices:
            return Answer(False)
        wanting |= open_choices
    return Answer(None, frozenset(wanting)) if wanting else Answer(True)
