"""Which treatment is proposed for each damage, the least first, and why the others are not.

The program proposes and the binder chooses. What is not known neither refuses nor allows: the
proposal says what to make sure of first.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from bindery_stock.trade.conditions import Fact, answer
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damages import DamageKinds, PlacedDamage
from bindery_stock.trade.properties import PropertyKind
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.treatment_entries import shipped_treatments
from bindery_stock.trade.treatment_work import ChosenTreatment, hours_alone
from bindery_stock.trade.treatments import LEAVE, Need, TreatmentRule, Treatments
from bindery_stock.trade.volume_facts import VolumeFacts, facts_of
from bindery_stock.units import format_mm


class Rank(StrEnum):
    """How a treatment stands among those for one damage."""

    PROPOSED = "proposed"
    MORE = "more than is needed"
    REFUSED = "not right here"


@dataclass(frozen=True, slots=True, kw_only=True)
class UnmetNeed:
    """Why a treatment is refused, and the fact that would change it."""

    reason: str
    fact: str
    """``share of the mull that is torn: 0.4``."""
    change: str
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentOption:
    """One treatment as it stands for one damage."""

    treatment: TreatmentRule
    rank: Rank
    unmet: tuple[UnmetNeed, ...]
    make_sure: tuple[str, ...]
    """What it rests on and nobody has established: the fact, and how to find out."""
    hours: tuple[float, float] | None
    """By itself, record and drying left out; ``None`` where none are known."""
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentProposal:
    """The treatments for one damage, from least to most."""

    damage: PlacedDamage
    options: tuple[TreatmentOption, ...]

    @property
    def proposed(self) -> TreatmentOption | None:
        """The least that is right; ``None`` where nothing is, and a conservator is to be asked."""
        return next((one for one in self.options if one.rank is Rank.PROPOSED), None)

    def option(self, key: str) -> TreatmentOption:
        """The option of that treatment. Raises ``KeyError`` where it is none for this damage."""
        return {one.treatment.key: one for one in self.options}[key]


def propose(
    damages: Sequence[PlacedDamage],
    volume: VolumeFacts,
    rules: Rules | None = None,
    *,
    kinds: DamageKinds | None = None,
    treatments: Treatments | None = None,
) -> tuple[TreatmentProposal, ...]:
    """A proposal for each damage, in their order.

    Raises ``EntryError`` where a damage cannot be at its place of this volume.
    """
    rules = rules if rules is not None else shipped_rules()
    kinds = kinds if kinds is not None else shipped_damages()
    treatments = treatments if treatments is not None else shipped_treatments()
    measures = volume.measures(rules)
    for damage in damages:
        kinds.check(damage, measures)
    return tuple(
        _proposal(
            damage,
            facts_of(damage, damages, volume, kinds, rules),
            volume,
            kinds,
            rules,
            treatments,
        )
        for damage in damages
    )


def _proposal(
    damage: PlacedDamage,
    facts: Mapping[str, Fact | None],
    volume: VolumeFacts,
    kinds: DamageKinds,
    rules: Rules,
    treatments: Treatments,
) -> TreatmentProposal:
    options: list[TreatmentOption] = []
    for key in kinds[damage.kind].treatments:
        treatment = treatments[key]
        needs = [need for need in treatments.needs(treatment) if need.concerns(damage.kind)]
        unmet = tuple(_unmet(need, facts) for need in needs if _holds(need, facts) is False)
        found = any(one.rank is Rank.PROPOSED for one in options)
        rank = Rank.REFUSED if unmet else Rank.MORE if found else Rank.PROPOSED
        options.append(
            TreatmentOption(
                treatment=treatment,
                rank=rank,
                unmet=unmet,
                make_sure=tuple(
                    dict.fromkeys(_to_find_out(n.fact) for n in needs if _holds(n, facts) is None)
                ),
                hours=hours_alone(ChosenTreatment(damage, treatment), volume, kinds, rules),
                warnings=_warnings(treatment, volume),
            )
        )
    return TreatmentProposal(damage=damage, options=tuple(options))


def _holds(need: Need, facts: Mapping[str, Fact | None]) -> bool | None:
    return answer(need.conditions, (), facts).holds


def _unmet(need: Need, facts: Mapping[str, Fact | None]) -> UnmetNeed:
    return UnmetNeed(
        reason=need.refused,
        fact=f"{need.fact.words}: {_figure(need.fact, facts[need.fact.key])}",
        change=need.change,
        provenance=need.provenance,
    )


def _figure(kind: PropertyKind, value: Fact | None) -> str:
    """A fact as it is read: mm with their unit, shares in per cent."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        if kind.unit == "mm":
            return format_mm(value)
        return f"{value:.0%}" if kind.unit == "share" else f"{value:g}"
    return str(value)


def _to_find_out(kind: PropertyKind) -> str:
    return f"Whether {kind.words}: {kind.test}" if kind.unit == "" else f"{kind.words}: {kind.test}"


def _warnings(treatment: TreatmentRule, volume: VolumeFacts) -> tuple[str, ...]:
    if treatment.lending and volume.rare and treatment.key != LEAVE:
        return (
            "Published for lending stock, and this volume is of value as an object: take a "
            "gentler way, or refer it to a conservator.",
        )
    return ()
