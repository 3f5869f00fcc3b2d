"""What may harm the hand that works: raised from colour and date, never cleared by a colour.

A measured or ticked colour can raise a caution. Only a laboratory's result with date, laboratory
and method lowers one, and then to a note, so that the record stays.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.trade.adhesives import Lot
from bindery_stock.trade.conditions import Operator, answer
from bindery_stock.trade.facts import known_of
from bindery_stock.trade.hazard_rules import ColourFamily, HazardRule, Level
from bindery_stock.trade.laboratory import LabResult
from bindery_stock.trade.materials import Material
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.written_dates import WrittenDate, read_date

DEFERRING = "Follow your local rules and licensed practice; they come before anything said here."
"""The sentence that ends every caution."""
NOT_A_TEST = f"Not a test result: have it tested. {DEFERRING}"
"""What ends it where no laboratory found what it speaks of."""
SEEN_BAND = 25.0
"""How far, in CIELAB units, a colour may lie from what a photograph without a reference shows. Own
measurement: eight photographs of a target read without it are off by 12 in the mean, and 95 of
100 patches lie within 21; a photograph four stops too dark is off by 33."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard:
    """One caution on one item."""

    rule: str
    name: str
    level: Level
    caution: str
    look: str
    advice: tuple[str, ...]
    reason: str
    """Which colour and which date, or which property, raised it; what a laboratory said."""
    would_change: str
    stops_wet_work: bool
    provenance: Provenance
    closing: str = NOT_A_TEST


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Why a step is stopped."""

    reason: str
    hazards: tuple[Hazard, ...]
    closing: str = NOT_A_TEST


def hazards(item: Lot | Material, *, rules: Rules | None = None) -> list[Hazard]:
    """Every caution on an item, the gravest first.

    A piece's colours come from its ticked ``colour_family`` and from every reading it keeps; the
    two are joined, so that neither can take away what the other raises. A colour that was seen and
    not measured raises every caution within ``SEEN_BAND`` of it; a stop only where it lies inside.
    """
    rules = rules if rules is not None else shipped_rules()
    known = known_of(item, None, rules)
    dated = read_date("" if isinstance(item, Lot) else item.source_date)
    families, perhaps = ({}, {}) if isinstance(item, Lot) else _families(item, rules)
    found_there = {r.substance for r in _results(item) if r.found}
    spoken_of: set[str] = set()
    found = []
    # What a laboratory found is told by itself only where no other caution speaks of it.
    for rule in sorted(rules.hazards.values(), key=lambda rule: rule.found):
        if known.applies not in rule.applies or not _dated(rule, dated):
            continue
        if rule.found and not rule.substances & (found_there - spoken_of):
            continue
        near_enough = families if rule.level is Level.STOP else perhaps
        if rule.families and not (rule.families & near_enough.keys()):
            continue
        if answer(rule.every, (), known.facts).holds is not True:
            continue
        spoken_of |= rule.substances
        found.append(_hazard(rule, near_enough, dated, item, rules))
    return sorted(found, key=lambda hazard: -hazard.level.rank)


def wet_work(piece: Material, *, rules: Rules | None = None) -> Refusal | None:
    """``None`` where no caution forbids water, paste or a damp poultice; else the refusal.

    Water frees more metal from toxic cloth, arsenic most (M. Tedone, R. Grayburn and Wittine,
    Studies in Conservation 2025, doi 10.1080/00393630.2024.2448394).
    """
    stopping = tuple(h for h in hazards(piece, rules=rules) if h.stops_wet_work)
    if not stopping:
        return None
    names = "; ".join(hazard.name for hazard in stopping)
    return Refusal(
        reason=f"No wet work on this piece: {names}. {stopping[0].caution} "
        f"What would change this: {stopping[0].would_change}",
        hazards=stopping,
        closing=stopping[0].closing,
    )


def _results(item: Lot | Material) -> Sequence[LabResult]:
    return () if isinstance(item, Lot) else item.lab_results


def _dated(rule: HazardRule, dated: WrittenDate) -> bool:
    if rule.years is None:
        return True
    if not dated.known:
        return rule.undated
    return dated.may_fall_within(*rule.years)


def _families(item: Material, rules: Rules) -> tuple[dict[str, str], dict[str, str]]:
    """Each colour family the item may belong to, and why; then with those that are not far off a
    colour which was seen and not measured."""
    families: dict[str, str] = {}
    not_far: dict[str, str] = {}
    for colour in item.colours:
        lab = colour.lab
        for family in rules.families.values():
            if in_family(lab, family):
                families[family.key] = (
                    f"a reading of L* {lab[0]:.0f}, a* {lab[1]:.0f}, b* {lab[2]:.0f} "
                    f"may be {family.key}"
                )
                if not colour.read_by.is_measured:
                    families[family.key] = f"seen, not measured, as {family.key}"
            elif not colour.read_by.is_measured and may_be_in_family(lab, family):
                not_far[family.key] = (
                    f"a colour seen and not measured: within ± {SEEN_BAND:g} it may be {family.key}"
                )
    ticked = item.colour_family
    if ticked:
        families[ticked] = f"ticked as {ticked}"
    return families, not_far | families


def in_family(lab: tuple[float, float, float], family: ColourFamily) -> bool:
    """Whether a reading (CIELAB, D50, 2°) lies in the family's wide range."""
    lightness, a, b = lab
    low, high = family.lightness
    if not low <= lightness <= high or math.hypot(a, b) < family.chroma_from:
        return False
    hue = math.degrees(math.atan2(b, a)) % 360.0
    start, end = family.hue
    return start <= hue <= end if start <= end else hue >= start or hue <= end


def may_be_in_family(lab: tuple[float, float, float], family: ColourFamily) -> bool:
    """Whether a colour within ``SEEN_BAND`` of this one, in L* and in the plane of a* and b*, lies
    in the family's wide range. ``lab`` is CIELAB, D50, 2°."""
    lightness, a, b = lab
    low, high = family.lightness
    if not low - SEEN_BAND <= lightness <= high + SEEN_BAND:
        return False
    if in_family((low, a, b), family):
        return True
    chroma = math.hypot(a, b)
    if chroma and in_family((low, a * 1e3 / chroma, b * 1e3 / chroma), family):
        return family.chroma_from - chroma <= SEEN_BAND
    return min(_from_edge(a, b, edge, family.chroma_from) for edge in family.hue) <= SEEN_BAND


def _from_edge(a: float, b: float, hue: float, chroma_from: float) -> float:
    """How far a colour lies, in the plane of a* and b*, from the colours of one hue (degrees)."""
    turn = math.radians(hue)
    along = max(chroma_from, a * math.cos(turn) + b * math.sin(turn))
    return math.hypot(a - along * math.cos(turn), b - along * math.sin(turn))


def _hazard(
    rule: HazardRule,
    families: dict[str, str],
    dated: WrittenDate,
    item: Lot | Material,
    rules: Rules,
) -> Hazard:
    telling = [r for r in _results(item) if r.substance in rule.substances]
    level, wet = _after_laboratory(rule, telling)
    sayings = _of_what_was_found(telling, rules)
    parts = [families[key] for key in sorted(rule.families & families.keys())]
    if rule.years is not None:
        parts.append(f"date: {dated.words}")
    parts += [result.words for result in telling]
    parts += [
        f"the result for {r.substance} lacks its date, laboratory or method and does not count"
        for r in telling
        if not r.complete
    ]
    parts += [
        f"{c.fact.replace('_', ' ')}: {'not' if c.test is Operator.UNKNOWN else 'as'} recorded"
        for c in rule.every
    ]
    return Hazard(
        rule=rule.key,
        name=rule.name,
        level=level,
        caution=" ".join(dict.fromkeys((rule.caution, *(one.caution for one in sayings)))),
        look=rule.look,
        advice=rule.advice,
        reason="; ".join(parts),
        would_change=next((one.would_change for one in sayings), rule.would_change),
        stops_wet_work=wet,
        provenance=rule.provenance,
        closing=DEFERRING if any(result.found for result in telling) else NOT_A_TEST,
    )


def _of_what_was_found(telling: list[LabResult], rules: Rules) -> list[HazardRule]:
    """The rules of what a laboratory found: colour and date no longer change it."""
    there = {result.substance for result in telling if result.found}
    return [one for one in rules.hazards.values() if one.found and one.substances & there]


def _after_laboratory(rule: HazardRule, telling: list[LabResult]) -> tuple[Level, bool]:
    """The level and whether wet work stops, once complete laboratory results are weighed.

    Anything found makes it a stop, complete or not; it sinks to a note only when every substance
    was looked for and none was found.
    """
    if any(result.found for result in telling):
        return Level.STOP, True
    cleared = {result.substance for result in telling if result.complete}
    if rule.substances and rule.substances <= cleared:
        return Level.INFO, False
    return rule.level, rule.stops_wet_work
