"""What the choice of a treatment may ask of a volume: measured, told by the binder, or worked out.

Nothing is filled in: what nobody has established stays ``None``.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.trade.allowances import Allowances, default_allowances
from bindery_stock.trade.book_places import HINGES, BookPlace, reach
from bindery_stock.trade.conditions import Fact
from bindery_stock.trade.damages import DamageKinds, PlacedDamage
from bindery_stock.trade.hazard_rules import Level
from bindery_stock.trade.hazards import hazards, wet_work
from bindery_stock.trade.materials import Material
from bindery_stock.trade.measures import Measures
from bindery_stock.trade.rules import Rules
from bindery_stock.trade.survey import Survey

_CASE_HARMED = frozenset(
    {
        "joint-tender",
        "joint-cracked",
        "joint-split",
        "spine-lost",
        "spine-detached",
        "cap-lost",
        "board-detached",
        "board-lost",
        "case-lost",
    }
)
"""Damage that leaves a case not whole at spine or joints."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VolumeFacts:
    """One volume: its measures, and what the binder has answered; ``None`` is not known."""

    survey: Survey
    allowances: Allowances | None = None
    work_stopped: bool | None = None
    wet_stopped: bool | None = None
    mull_torn: float | None = None
    """The share of the mull that is torn, 0 where it was seen whole."""
    sewing_broken: bool | None = None
    cloth_brittle: bool | None = None
    paper_brittle: bool | None = None
    paper_coated: bool | None = None
    rare: bool | None = None
    rebind: bool | None = None
    hard_use: bool | None = None
    caoutchouc: bool | None = None
    tide_marks: bool | None = None
    ground_blocked: bool | None = None
    sewn_headband: bool | None = None
    tube_back: bool | None = None

    def measures(self, rules: Rules) -> Measures:
        """Its measurements made whole."""
        allowances = self.allowances if self.allowances is not None else default_allowances(rules)
        return Measures(self.survey, allowances, rules)


def stopped(cloth: Material, rules: Rules) -> tuple[bool, bool]:
    """Whether cautions on the covering stop all work, and whether they stop wet work."""
    found = hazards(cloth, rules=rules)
    all_work = any(hazard.level is Level.STOP for hazard in found)
    return all_work, all_work or wet_work(cloth, rules=rules) is not None


def facts_of(
    damage: PlacedDamage,
    others: Sequence[PlacedDamage],
    volume: VolumeFacts,
    kinds: DamageKinds,
    rules: Rules,
) -> dict[str, Fact | None]:
    """The facts of one damage of a volume, by the names in ``treatments.toml``.

    ``others`` are all damages of the volume; that one may be among them.
    """
    measures = volume.measures(rules)
    every = [*others, *(() if damage in others else (damage,))]
    survey = volume.survey
    sewing = any(one.kind == "sewing-broken" for one in every) or volume.sewing_broken
    return {
        "work_stopped": volume.work_stopped,
        "wet_stopped": volume.wet_stopped,
        "goes_on": damage.goes_on and not volume.work_stopped,
        "along": damage.along,
        "longest": max((v for v in (damage.along, damage.across) if v is not None), default=None),
        "along_share": along_share(damage, kinds, measures),
        "area_share": _area_share(damage, measures),
        "count": damage.count,
        "at_joint": None if damage.place is BookPlace.NOT_SAID else damage.place in HINGES,
        "lift": survey.lift,
        "back_width": survey.spine_width,
        "mull_torn": _mull_torn(every, volume, kinds, measures),
        "boards_lost": sum(one.count for one in every if one.kind == "board-lost"),
        "case_harmed": any(one.kind in _CASE_HARMED for one in every),
        "sewing_broken": sewing,
        "many_loose": _many_loose(damage, every, rules),
        "endpapers_gone": any(
            one.kind == "endpaper-lost" and one.place in {damage.place, BookPlace.NOT_SAID}
            for one in every
        ),
        "cloth_brittle": True if survey.brittle else volume.cloth_brittle,
        "paper_brittle": volume.paper_brittle,
        "paper_coated": volume.paper_coated,
        "rare": volume.rare,
        "rebind": volume.rebind,
        "hard_use": volume.hard_use,
        "caoutchouc": volume.caoutchouc,
        "tide_marks": volume.tide_marks,
        "ground_blocked": volume.ground_blocked,
        "sewn_headband": volume.sewn_headband,
        "tube_back": volume.tube_back,
    }


def along_share(damage: PlacedDamage, kinds: DamageKinds, measures: Measures) -> float | None:
    """The share of its place that a damage takes along; 1 where it takes all of it."""
    kind = kinds[damage.kind]
    if damage.along is None:
        return 1.0 if kind.whole or not kind.along else None
    place = kind.places[0] if damage.place is BookPlace.NOT_SAID else damage.place
    most = reach(place, measures)[0]
    return None if most is None else damage.along / most


def _area_share(damage: PlacedDamage, measures: Measures) -> float | None:
    """The share of its side that a damage takes; every board of a book is as large."""
    place = BookPlace.UPPER_BOARD if damage.place is BookPlace.NOT_SAID else damage.place
    along, across = reach(place, measures)
    if not (damage.along and damage.across and along and across):
        return None
    return damage.count * damage.along * damage.across / (along * across)


def _mull_torn(
    every: Sequence[PlacedDamage], volume: VolumeFacts, kinds: DamageKinds, measures: Measures
) -> float | None:
    """The largest share by what was told and by each damage that tears it.

    A fold cracked over whole mull says that it is whole there; a text block out of its case holds
    to it no more.
    """
    shares = [] if volume.mull_torn is None else [volume.mull_torn]
    for one in every:
        if one.kind in {"mull-failed", "hinge-broken"}:
            shares.append(along_share(one, kinds, measures) or 0.0)
        elif one.kind == "block-detached":
            shares.append(1.0)
        elif one.kind == "hinge-cracked":
            shares.append(0.0)
    return max(shares, default=None)


def _many_loose(damage: PlacedDamage, every: Sequence[PlacedDamage], rules: Rules) -> bool:
    """Whether sewing again is the measure: broken sewing, or more than guards can hold."""
    if any(one.kind == "sewing-broken" for one in every):
        return True
    limit = "sections-most" if damage.kind == "sections-loose" else "guards-most"
    return damage.count > rules.limits[limit].value
