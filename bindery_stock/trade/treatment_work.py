"""What chosen treatments come to together: parts, hours and steps, what they share counted once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bindery_stock.trade.damages import DamageKinds, PlacedDamage
from bindery_stock.trade.hours import Hours, hours_for
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.parts import parts_for
from bindery_stock.trade.plans import PartPlan
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.rules import Rules
from bindery_stock.trade.sums import of
from bindery_stock.trade.survey import Damage, Harm, Survey
from bindery_stock.trade.treatments import LEAVE, TreatmentRule
from bindery_stock.trade.volume_facts import VolumeFacts


@dataclass(frozen=True, slots=True)
class ChosenTreatment:
    """A damage and the treatment that the binder chose for it."""

    damage: PlacedDamage
    treatment: TreatmentRule


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchStep:
    """One step of the whole work, which several treatments may share; drying in hours."""

    stage: int
    do: str
    dry_low: float
    dry_high: float
    under: str
    treatments: tuple[str, ...]
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentWork:
    """The whole work on a volume."""

    parts: tuple[PartPlan, ...]
    hours: Hours
    """With record and photographs, drying left out."""
    steps: tuple[BenchStep, ...]
    taken_in: tuple[tuple[str, str], ...]
    """Treatments done within the work of another, and which."""
    hours_unknown: tuple[str, ...]
    """Treatments for which no hours are known: the estimate leaves them out."""
    warnings: tuple[str, ...]


def treatment_work(
    chosen: Sequence[ChosenTreatment], volume: VolumeFacts, kinds: DamageKinds, rules: Rules
) -> TreatmentWork:
    """Parts, hours and steps of all that was chosen.

    Raises ``EntryError`` where a measurement is wanting for a part.
    """
    keys = {one.treatment.key for one in chosen}
    taken_in = _taken_in(chosen)
    measures = volume.measures(rules)
    survey = _survey(chosen, taken_in, measures, kinds)
    working = [one.treatment for one in chosen if one.treatment.key not in taken_in]
    return TreatmentWork(
        parts=tuple(parts_for(survey, measures.allowances, rules=rules)),
        hours=hours_for(survey, rules=rules),
        steps=_steps(working),
        taken_in=tuple(taken_in.items()),
        hours_unknown=tuple(
            dict.fromkeys(
                one.key for one in working if not (one.ticks or one.also) and one.key != LEAVE
            )
        ),
        warnings=_contradictions(keys),
    )


def chosen_survey(
    chosen: Sequence[ChosenTreatment], volume: VolumeFacts, kinds: DamageKinds, rules: Rules
) -> Survey:
    """The survey by which parts and hours of all that was chosen are planned.

    Raises ``EntryError`` where an extent is wanting for a part.
    """
    return _survey(chosen, _taken_in(chosen), volume.measures(rules), kinds)


def _taken_in(chosen: Sequence[ChosenTreatment]) -> dict[str, str]:
    keys = {one.treatment.key for one in chosen}
    return {
        one.treatment.key: taker
        for one in chosen
        for taker in one.treatment.within
        if taker in keys
    }


def hours_alone(
    one: ChosenTreatment, volume: VolumeFacts, kinds: DamageKinds, rules: Rules
) -> tuple[float, float] | None:
    """What one treatment takes by itself, without record and photographs; ``None`` if not known."""
    if not (one.treatment.ticks or one.treatment.also):
        return None
    found = hours_for(_survey((one,), {}, volume.measures(rules), kinds), rules=rules)
    record = found.scale * rules.hours["record"].low, found.scale * rules.hours["record"].high
    return found.low - record[0], found.high - record[1]


def _survey(
    chosen: Sequence[ChosenTreatment],
    taken_in: dict[str, str],
    measures: Measures,
    kinds: DamageKinds,
) -> Survey:
    """The survey whose ticks stand for the treatments, and no longer for the damage."""
    by_key = {one.treatment.key: one.treatment for one in chosen}
    survey = measures.survey
    ticks: list[Damage] = []
    for one in chosen:
        own = kinds[one.damage.kind].harm_at(one.damage.place)
        taker = taken_in.get(one.treatment.key)
        doing = one.treatment if taker is None else by_key[taker]
        harms = [] if taker is not None else list(one.treatment.ticks)
        if own in doing.also:
            harms.append(own)
        ticks += [
            Damage(harm, one.damage.count, one.damage.along, one.damage.across) for harm in harms
        ]
    lost = any(tick.harm is Harm.SPINE_LOST for tick in ticks)
    lost = lost or any(_too_little_left(one, measures) for one in chosen)
    return replace(survey, damage=tuple(ticks), old_spine=survey.old_spine and not lost)


def _too_little_left(one: ChosenTreatment, measures: Measures) -> bool:
    """Whether so little of a detached spine is left that the new cloth is seen."""
    damage, high = one.damage, of(measures.board_height).total
    if damage.kind != "spine-detached" or damage.along is None:
        return False
    return damage.along / high < measures.rules.limits["spine-left-least"].value


def _steps(working: Sequence[TreatmentRule]) -> tuple[BenchStep, ...]:
    steps: dict[tuple[int, str], BenchStep] = {}
    for treatment in working:
        for step in treatment.steps:
            before = steps.get((step.stage, step.do))
            shared = before.treatments if before is not None else ()
            steps[step.stage, step.do] = BenchStep(
                stage=step.stage,
                do=step.do,
                dry_low=max(step.dry_low, before.dry_low if before else 0.0),
                dry_high=max(step.dry_high, before.dry_high if before else 0.0),
                under=step.under,
                treatments=tuple(dict.fromkeys((*shared, treatment.key))),
                provenance=step.provenance,
            )
    return tuple(sorted(steps.values(), key=lambda step: step.stage))


def _contradictions(keys: set[str]) -> tuple[str, ...]:
    found = []
    if "new-case" in keys and keys & {"recase", "full-reback"}:
        found.append(
            "A new case, and its own case again: choose one of the two for the whole volume."
        )
    if LEAVE in keys and len(keys) > 1:
        found.append(
            "Some damage is left while other work is done: give the reason for what is left."
        )
    return tuple(found)
