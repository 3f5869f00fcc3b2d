"""Whether a lot or a piece is fit for each use, by which rule, and what would change that.

Every rule is asked. The gravest answer gives the word; where no rule grants a use, the verdict is
*cannot tell*, with the cheapest test that would let a rule answer.
"""

from dataclasses import dataclass
from datetime import date

from bindery_stock.trade.adhesives import Lot
from bindery_stock.trade.conditions import answer
from bindery_stock.trade.facts import Known, known_of
from bindery_stock.trade.flags import ADHESIVE, FlagRule
from bindery_stock.trade.hazard_rules import Level
from bindery_stock.trade.hazards import hazards
from bindery_stock.trade.materials import Material
from bindery_stock.trade.properties import PropertyKind
from bindery_stock.trade.provenance import Mark, Provenance
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.uses import Grade, Use, Weight

_HAZARD_WEIGHTS = {Level.INFO: Weight.INFO, Level.CAUTION: Weight.CARE, Level.STOP: Weight.BLOCK}


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What one rule says of one use."""

    rule: str
    """``R48``, ``fit:pva``, or ``unanswered`` where no rule could answer."""
    weight: Weight
    reason: str
    would_change: str
    """What evidence or action would change it."""
    test: str
    """The cheapest test that would settle it; empty where none is wanting."""
    provenance: Provenance
    rests_on: tuple[str, ...] = ()
    """The recorded properties it was judged by, with their evidence and dates."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The verdict on one item for one use."""

    use: Use
    grade: Grade
    stops: bool
    """Whether the piece must not be handled further until the cause is settled."""
    findings: tuple[Finding, ...]
    """The gravest first; the first gives the word."""

    @property
    def lead(self) -> Finding:
        """The finding that gives the word."""
        return self.findings[0]


def verdicts(item: Lot | Material, today: date, *, rules: Rules | None = None) -> list[Verdict]:
    """One verdict for each use that fits the item's kind, in the order of ``Use``.

    Raises ``EntryError`` where the item holds a property value that cannot be.
    """
    rules = rules if rules is not None else shipped_rules()
    known = known_of(item, today, rules)
    found: dict[Use, list[Finding]] = {use: [] for use in rules.uses.get(known.applies, ())}
    wanting: dict[Use, set[str]] = {use: set() for use in found}
    for rule in rules.flags.values():
        if known.applies in rule.applies:
            _ask(rule, known, rules, found, wanting)
    if known.applies == ADHESIVE:
        _ask_fit(known, rules, found)
    else:
        _ask_hazards(item, rules, found)
    return [_verdict(use, found[use], wanting[use], rules) for use in Use if use in found]


def _ask(
    rule: FlagRule,
    known: Known,
    rules: Rules,
    found: dict[Use, list[Finding]],
    wanting: dict[Use, set[str]],
) -> None:
    reply = answer(rule.every, rule.some, known.facts)
    if reply.holds is False:
        return
    asked = {condition.fact for condition in (*rule.every, *rule.some)}
    for use, weight in rule.weights.items():
        if use not in found:
            continue
        if reply.holds is None:
            if weight is Weight.SUITABLE:
                wanting[use] |= reply.wanting
            continue
        unknown = {fact for fact in asked if known.facts.get(fact) is None}
        test = _cheapest(unknown, rules)
        found[use].append(
            Finding(
                rule=rule.key,
                weight=weight,
                reason=rule.reason,
                would_change=rule.would_change,
                test=test.test if test is not None and weight is Weight.TEST else "",
                provenance=rule.provenance,
                rests_on=_records(asked, known, rules),
            )
        )


def _records(asked: set[str], known: Known, rules: Rules) -> tuple[str, ...]:
    return tuple(
        f"{rules.properties[fact].words} {known.records[fact].words}"
        for fact in sorted(asked & known.records.keys())
    )


def _ask_fit(known: Known, rules: Rules, found: dict[Use, list[Finding]]) -> None:
    fit = rules.fits.get(str(known.facts["kind"]))
    if fit is None:
        return
    for use, weight in fit.weights.items():
        if use in found:
            found[use].append(
                Finding(
                    rule=f"fit:{fit.key}",
                    weight=weight,
                    reason=fit.reason,
                    would_change="Another class of adhesive, or your own rule with its reason.",
                    test="",
                    provenance=fit.provenance,
                )
            )


def _ask_hazards(item: Lot | Material, rules: Rules, found: dict[Use, list[Finding]]) -> None:
    for hazard in hazards(item, rules=rules):
        finding = Finding(
            rule=hazard.rule,
            weight=_HAZARD_WEIGHTS[hazard.level],
            reason=f"{hazard.caution} {hazard.closing}",
            would_change=hazard.would_change,
            test="",
            provenance=hazard.provenance,
            rests_on=(hazard.reason,),
        )
        for findings in found.values():
            findings.append(finding)


def _verdict(use: Use, findings: list[Finding], wanting: set[str], rules: Rules) -> Verdict:
    if not any(f.weight is not Weight.INFO and f.rule not in rules.hazards for f in findings):
        findings = [*findings, _unanswered(wanting, rules)]
    ranked = sorted(findings, key=lambda finding: -finding.weight.rank)
    gravest = ranked[0].weight
    return Verdict(
        use=use,
        grade=gravest.grade,
        stops=gravest is Weight.BLOCK,
        findings=tuple(ranked),
    )


def _unanswered(wanting: set[str], rules: Rules) -> Finding:
    cheapest = _cheapest(wanting, rules)
    if cheapest is None:
        reason, test = "No rule speaks of this use.", "Ask a conservator."
        change = "A rule of your own, with its source."
    else:
        names = ", ".join(sorted(rules.properties[fact].words for fact in wanting))
        reason, test = f"Not known: {names}.", cheapest.test
        change = f"Knowing {cheapest.words} would be a start; then: {names}."
    return Finding(
        rule="unanswered",
        weight=Weight.TEST,
        reason=reason,
        would_change=change,
        test=test,
        provenance=Provenance(Mark.PROPOSED),
    )


def _cheapest(facts: set[str], rules: Rules) -> PropertyKind | None:
    kinds = [rules.properties[fact] for fact in sorted(facts) if rules.properties[fact].test]
    return min(kinds, key=lambda kind: kind.effort.rank, default=None)
