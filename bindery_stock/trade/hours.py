"""How long a repair may take a solo binder, drying left out: an estimate that says so."""

import math
from dataclasses import dataclass

from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.survey import REBACKED, RELINED, Harm, Survey
from bindery_stock.units import MM_PER_INCH

_PER_PLACE: dict[Harm, str] = {
    Harm.HEAD_LOST: "cap",
    Harm.TAIL_LOST: "cap",
    Harm.HOLE: "hole",
    Harm.CORNERS_BARE: "corner",
    Harm.JOINT_CRACKED: "joint",
    Harm.JOINT_TENDER: "joint",
    Harm.HINGE_CRACKED: "hinge",
    Harm.HINGE_BROKEN: "hinge",
    Harm.SECTIONS_LOOSE: "fold-guard",
    Harm.LEAF_TORN: "leaf-tear",
    Harm.FOLD_SPLIT: "fold-guard",
    Harm.PASTEDOWN_LIFTED: "hinge-tighten",
    Harm.BLOCK_LOOSE: "hinge-tighten",
    Harm.LEAF_LOOSE: "tip-in",
    Harm.HEADBAND_LOST: "headband",
    Harm.EDGES_WORN: "edge",
    Harm.CORNER_SOFT: "corner-soft",
    Harm.CLOTH_LIFTED: "lay-cloth",
}
_IN_A_REBACK = frozenset({Harm.HEAD_LOST, Harm.TAIL_LOST, Harm.JOINT_CRACKED, Harm.JOINT_TENDER})
"""What a new spine puts right at no cost of its own."""
_ROUNDING = 1e-6  # of an inch: what is a whole inch but for arithmetic is one
_ENDPAPERS = frozenset({Harm.ENDPAPERS_LOST, Harm.ENDPAPER_LOST, Harm.FLYLEAF_LOST})


@dataclass(frozen=True, slots=True)
class HoursLine:
    """One step and its hours."""

    words: str
    count: int
    low: float
    high: float
    provenance: Provenance


@dataclass(frozen=True, slots=True)
class Hours:
    """The estimate for one volume."""

    lines: tuple[HoursLine, ...]
    scale: float
    """What folios, like volumes and brittle cloth make of it."""
    scale_words: str
    low: float
    high: float
    level: int
    """Treatment level by the middle of the estimate: 1 under a quarter hour, 2 to two hours, 3."""


def hours_for(survey: Survey, *, rules: Rules | None = None) -> Hours:
    """The hours that the ticked damage takes, with record and photographs."""
    rules = rules if rules is not None else shipped_rules()
    steps: dict[str, int] = {}
    harms = {damage.harm for damage in survey.damage}
    taken_in = _IN_A_REBACK if harms & REBACKED else frozenset()
    for damage in survey.damage:
        if damage.harm in _PER_PLACE and damage.harm not in taken_in:
            key = _PER_PLACE[damage.harm]
            steps[key] = steps.get(key, 0) + damage.count
    for key in _whole_steps(harms):
        steps[key] = 1
    for damage in survey.ticked(Harm.OLD_TAPE):
        inches = math.ceil(damage.count * (damage.extent or 0.0) / MM_PER_INCH - _ROUNDING)
        steps["tape-inch"] = steps.get("tape-inch", 0) + inches
    if Harm.CASE_LOST not in harms:
        for damage in survey.ticked(Harm.BOARDS_LOST):
            steps["board"] = steps.get("board", 0) + damage.count
    steps["record"] = 1
    lines = tuple(
        HoursLine(
            rules.hours[key].words,
            count,
            count * rules.hours[key].low,
            count * rules.hours[key].high,
            rules.hours[key].provenance,
        )
        for key, count in steps.items()
    )
    scale, words = _scale(survey, rules)
    low = scale * sum(line.low for line in lines)
    high = scale * sum(line.high for line in lines)
    middle = (low + high) / 2
    limits = rules.limits
    level = 1 + (middle >= limits["arl-level-one"].value) + (middle > limits["arl-level-two"].value)
    return Hours(lines, scale, words, low, high, level)


def _whole_steps(harms: set[Harm]) -> list[str]:
    """Steps done once for the volume, the larger taking in the smaller."""
    steps = []
    reback = bool(harms & REBACKED)
    if Harm.CASE_LOST in harms:
        steps.append("new-case")
        if harms & RELINED:
            steps.append("reline")
    elif harms & RELINED:
        steps.append("recase")
    elif reback:
        steps.append("partial-reback")
    if reback or harms & {Harm.CASE_LOST, Harm.BOARDS_LOST}:
        steps.append("toning")
    if Harm.SEWING_BROKEN in harms:
        steps.append("resew")
    if Harm.HOLLOW_LOST in harms and not (reback or harms & RELINED):
        steps.append("hollow")
    if harms & _ENDPAPERS:
        steps.append("endpapers")
    return steps


def _scale(survey: Survey, rules: Rules) -> tuple[float, str]:
    scale, words = 1.0, []
    for applies, key, word in (
        (survey.folio, "hours-folio", "folio"),
        (survey.like_volume, "hours-like-volume", "like volume of a batch"),
        (survey.brittle, "hours-brittle", "brittle cloth"),
    ):
        if applies:
            scale *= rules.limits[key].value
            words.append(f"{word} × {rules.limits[key].value:g}")
    return scale, ", ".join(words)
