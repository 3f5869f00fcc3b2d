"""The damage of a volume with its places, the treatments for each, and what was chosen."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.placed_words import damage_name
from bindery_stock.bench.books.plan import replan
from bindery_stock.bench.books.survey import hours_words
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import covering_of
from bindery_stock.errors import EntryError
from bindery_stock.stock import Changes, Repair, Stockroom, Verb
from bindery_stock.trade import Allowances, Rules
from bindery_stock.trade.care import CareOption, CarePlan, TreatmentChoice
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.found_damage import found_damage, found_places
from bindery_stock.trade.hazards import wet_work
from bindery_stock.trade.proposals import TreatmentOption, TreatmentProposal, propose
from bindery_stock.trade.survey_ticks import survey_ticks
from bindery_stock.trade.treatment_entries import shipped_treatments
from bindery_stock.trade.treatment_work import (
    ChosenTreatment,
    TreatmentWork,
    chosen_survey,
    treatment_work,
)
from bindery_stock.trade.treatments import LEAVE
from bindery_stock.trade.volume_facts import VolumeFacts, stopped


@dataclass(frozen=True, slots=True)
class OpenChoice:
    """One volume, and what may be chosen for its damage."""

    facts: VolumeFacts
    rules: Rules
    proposals: tuple[TreatmentProposal, ...]
    stops: str = ""
    """What the cautions on its covering stop, and what would change it; empty where nothing."""

    @property
    def damages(self) -> tuple[PlacedDamage, ...]:
        """In the order of the proposals."""
        return tuple(one.damage for one in self.proposals)

    def chosen(self, keys: Sequence[str]) -> list[ChosenTreatment]:
        """A treatment for each damage, by its key. Raises ``EntryError`` for what is none."""
        if len(keys) != len(self.proposals):
            raise EntryError("Treatment", "Treatments: choose one for each damage.")
        found = []
        for key, proposal in zip(keys, self.proposals, strict=True):
            options = {one.treatment.key: one for one in proposal.options}
            if key not in options:
                words = damage_name(proposal.damage)
                raise EntryError("Treatment", f"{words}: choose a treatment of the list.")
            if is_barred(options[key]):
                raise EntryError("Treatment", self.stops or options[key].unmet[0].reason)
            found.append(ChosenTreatment(proposal.damage, options[key].treatment))
        return found

    def work(self, keys: Sequence[str]) -> TreatmentWork:
        """What they come to together. Raises ``EntryError``, also for a measurement wanting."""
        return treatment_work(self.chosen(keys), self.facts, shipped_damages(), self.rules)


def as_found(repair: Repair) -> Repair:
    """The volume with its damage as it was found, whatever was chosen since."""
    found = found_damage(repair.survey, repair.care)
    return replace(repair, survey=replace(repair.survey, damage=found))


def open_choice(repair: Repair, allowances: Allowances, rules: Rules) -> OpenChoice:
    """What may be chosen for a volume; raises ``EntryError`` for damage that cannot be."""
    survey = as_found(repair).survey
    work, wet = stopped(covering_of(repair), rules)
    refusal = wet_work(covering_of(repair), rules=rules)
    facts = VolumeFacts(survey=survey, allowances=allowances, work_stopped=work, wet_stopped=wet)
    damages = found_places(repair.survey, repair.care)
    return OpenChoice(
        facts, rules, propose(damages, facts, rules), refusal.reason if refusal else ""
    )


def is_barred(option: TreatmentOption) -> bool:
    """Whether a caution stops it, which no reason lets pass beforehand."""
    treatments = shipped_treatments()
    bars = {treatments.work_bar.refused, treatments.wet_bar.refused}
    return any(one.reason in bars for one in option.unmet)


@deed(Bearing.KEEPS)
def place_damage(room: Stockroom, *, volume: str, damages: Sequence[PlacedDamage]) -> Changes:
    """Keep the damage of a volume, each with place and extent; ticks and parts follow.

    What was chosen for other damage no longer stands and is taken back with it. Raises
    ``EntryError`` for damage that cannot be at its place, ``NotFound``.
    """
    with room.step(Verb.CORRECTED) as step:
        repair, kinds = room.books.repair(volume), shipped_damages()
        wanted = tuple(damages)
        measures = VolumeFacts(survey=repair.survey, allowances=_allowances(room, volume)).measures(
            room.rules
        )
        for one in wanted:
            kinds.check(one, measures)
        survey, care = repair.survey, repair.care
        if wanted != found_places(survey, care):
            survey = replace(survey, damage=survey_ticks(wanted, kinds))
            care = replace(_without_courses(care), damages=wanted, choices=())
        room.books.correct_repair(volume, survey=survey, care=care)
        replan(room, [volume])
    return step.changes


@deed(Bearing.KEEPS)
def choose_treatments(
    room: Stockroom, *, volume: str, choices: Sequence[TreatmentChoice]
) -> Changes:
    """Keep a treatment for each damage, with the reason where it is not the one proposed.

    The options of the volume and the one recommended follow, and so do the ticks by which parts
    and hours are planned. What is then done is asked of the gate deed by deed. Raises
    ``EntryError`` for a treatment that is none for its damage or that a caution stops.
    """
    with room.step(Verb.CORRECTED) as step:
        repair = room.books.repair(volume)
        found = open_choice(repair, _allowances(room, volume), room.rules)
        keys = [one.treatment for one in choices]
        chosen = found.chosen(keys)
        own = _without_courses(repair.care)
        courses, recommended = _courses(found, keys)
        care = replace(
            own,
            damages=found.damages,
            choices=tuple(choices),
            options=(*courses, *own.options),
            recommended=recommended,
        )
        survey = chosen_survey(chosen, found.facts, shipped_damages(), room.rules)
        room.books.correct_repair(volume, survey=survey, care=care)
        replan(room, [volume])
    return step.changes


def _without_courses(care: CarePlan) -> CarePlan:
    """The plan with the binder's own options alone; the recommendation stays where it is one."""
    own = tuple(one for one in care.options if not one.from_treatments)
    course = care.course
    recommended = own.index(course) if course in own else None
    return replace(care, options=own, recommended=recommended)


def _courses(found: OpenChoice, keys: Sequence[str]) -> tuple[tuple[CareOption, ...], int]:
    """Leaving all, the least that is right, and what was chosen; and which that is."""
    every = [[LEAVE] * len(keys)]
    least = [one.proposed.treatment.key if one.proposed else LEAVE for one in found.proposals]
    every += [one for one in (least, list(keys)) if one != every[0]]
    courses = [list(one) for one in dict.fromkeys(tuple(one) for one in every)]
    return tuple(_course(found, one, least) for one in courses), courses.index(list(keys))


def _course(found: OpenChoice, keys: Sequence[str], least: Sequence[str]) -> CareOption:
    if set(keys) == {LEAVE}:
        left = [p for p in found.proposals if p.option(LEAVE).unmet]
        told_of = dict.fromkeys(one.reason for p in left for one in p.option(LEAVE).unmet)
        return CareOption(
            what="Leave it as it is",
            gain="Nothing is changed",
            risk=" ".join(told_of),
            undo="nothing to undo",
            from_treatments=True,
        )
    treatments = shipped_treatments()
    work = found.work(keys)
    pairs = zip(found.proposals, keys, strict=True)
    told = [f"{damage_name(p.damage)}: {treatments[key].term.british}" for p, key in pairs]
    hours = f"{hours_words(work.hours.low, work.hours.high)} h by the rules, drying left out"
    if work.hours_unknown:
        names = ", ".join(treatments[key].term.british for key in work.hours_unknown)
        hours += f"; no hours are known for {names}"
    options = [p.option(key) for p, key in zip(found.proposals, keys, strict=True)]
    risk = [need.reason for one in options for need in one.unmet]
    return CareOption(
        what=f"{'; '.join(told)} ({hours})",
        gain="The least that is right for each damage" if list(keys) == list(least) else "",
        risk=" ".join(dict.fromkeys((*risk, *work.warnings))),
        undo="; ".join(dict.fromkeys(treatments[key].undo for key in keys if key != LEAVE)),
        from_treatments=True,
    )


def _allowances(room: Stockroom, volume: str) -> Allowances:
    return allowances_for(room.books.overrides(volume=volume), room.rules)
