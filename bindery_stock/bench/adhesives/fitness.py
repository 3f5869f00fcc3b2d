"""Verdicts by use in words: short enough for a row, and opened to everything behind them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bindery_stock.stock import AdhesiveLot, StockPiece
from bindery_stock.trade import Finding, Grade, Provenance, Rules, Use, Verdict, verdicts

SIGNS = {Grade.SUITABLE: "✓", Grade.CARE: "△", Grade.NOT: "✕", Grade.TEST: "?"}
"""The sign of each grade; a word always stands with it."""
SHORT = {Grade.SUITABLE: "suitable", Grade.CARE: "care", Grade.NOT: "no", Grade.TEST: "test"}
"""The short word of each grade."""

USE_WORDS = {
    Use.SPINE_LINING: "spine",
    Use.CLOTH_TO_BOARD: "boards",
    Use.MENDING: "mending",
    Use.TIPPING: "tipping",
    Use.CONSOLIDATING: "consolidating",
    Use.LEATHER: "leather",
    Use.LABEL: "labels",
    Use.HIDDEN: "hidden",
    Use.BOX: "boxes",
    Use.PHOTO: "photographs",
}
"""The uses in one word each, for a row; the sheet writes them out."""


@dataclass(frozen=True, slots=True)
class Fitness:
    """One verdict, ready to be shown."""

    verdict: Verdict

    @property
    def use(self) -> Use:
        """The use it is about."""
        return self.verdict.use

    @property
    def short(self) -> str:
        """``△ care``."""
        grade = self.verdict.grade
        return f"{SIGNS[grade]} {SHORT[grade]}"

    @property
    def is_barred(self) -> bool:
        """Whether the use is barred without a written reason."""
        return self.verdict.stops or self.verdict.grade is Grade.NOT

    @property
    def reason(self) -> str:
        """Why, in the words of the rule that gives the word."""
        return self.verdict.lead.reason

    @property
    def at_length(self) -> str:
        """Every rule that speaks: its reason, its source with its mark, what would change it."""
        return "\n\n".join(finding_words(finding) for finding in self.verdict.findings)


def fitness_of(item: AdhesiveLot | StockPiece, today: date, rules: Rules) -> tuple[Fitness, ...]:
    """The verdicts on a lot or a piece."""
    return tuple(Fitness(verdict) for verdict in verdicts(item, today, rules=rules))


def by_grade(fitness: Sequence[Fitness]) -> list[tuple[str, str]]:
    """``("✓ suitable", "boards, boxes")`` for each grade given, best first."""
    order = (Grade.SUITABLE, Grade.CARE, Grade.TEST, Grade.NOT)
    grouped = {g: [USE_WORDS[one.use] for one in fitness if one.verdict.grade is g] for g in order}
    for grade, uses in grouped.items():
        if uses and len(uses) == len(fitness):
            return [(f"{SIGNS[grade]} {SHORT[grade]}", "every use")]
    return [(f"{SIGNS[g]} {SHORT[g]}", ", ".join(uses)) for g, uses in grouped.items() if uses]


def finding_words(finding: Finding) -> str:
    """One rule at length."""
    lines = [f"{finding.rule} ({finding.weight}): {finding.reason}"]
    if finding.rests_on:
        lines.append(f"Rests on: {'; '.join(finding.rests_on)}.")
    lines.append(f"Source: {source_words(finding.provenance)}.")
    if finding.would_change:
        lines.append(f"What would change it: {finding.would_change}")
    if finding.test:
        lines.append(f"Cheapest test: {finding.test}")
    return "\n".join(lines)


def source_words(provenance: Provenance) -> str:
    """The mark, the sources, and which file says so where it is not the shipped one."""
    return provenance.words.rstrip(".")


def next_test(fitness: Sequence[Fitness]) -> str:
    """The test that would settle the most verdicts that cannot be told yet; empty where none."""
    wanting: dict[str, int] = {}
    for one in fitness:
        if one.verdict.grade is Grade.TEST and one.verdict.lead.test:
            test = one.verdict.lead.test
            wanting[test] = wanting.get(test, 0) + 1
    return max(wanting, key=lambda test: wanting[test], default="")
