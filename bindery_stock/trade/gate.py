"""The gate: whether something may be done, by what the rules know of all that it concerns.

One question for everything that plans, consumes or records: with what, for what use, touching what,
wet or dry, in which book. The gravest answer gives the ruling. What has already happened is ruled
on too, so that the record can say so, but is never refused. No reading ever clears a caution.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from bindery_stock.trade.adhesives import Lot
from bindery_stock.trade.hazard_rules import Level
from bindery_stock.trade.hazards import hazards
from bindery_stock.trade.materials import Material
from bindery_stock.trade.provenance import Provenance
from bindery_stock.trade.rules import Rules, shipped_rules
from bindery_stock.trade.shelf_life import shelf_life
from bindery_stock.trade.uses import Use, Weight
from bindery_stock.trade.verdicts import Verdict, verdicts

_AGAINST = frozenset({Weight.NOT, Weight.BLOCK})
_WHATEVER = "whatever the use"


class Leave(StrEnum):
    """What the gate says."""

    ALLOWED = "allowed"
    NEEDS_REASON = "needs a written reason"
    STOPPED = "stopped"

    @property
    def rank(self) -> int:
        """Larger is graver."""
        return list(Leave).index(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Objection:
    """What one rule says against it."""

    leave: Leave
    about: str
    """What it is said of: ``C-0042``, ``A-0007``, the name of a volume."""
    rule: str
    reason: str
    would_change: str
    provenance: Provenance

    @property
    def words(self) -> str:
        """``C-0042: … (R32; published)``."""
        return f"{self.about}: {self.said}"

    @property
    def said(self) -> str:
        """As ``words``, where what it is said of has just been named."""
        return f"{self.reason} ({self.rule}; {self.provenance.mark.words})"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruling:
    """What the gate answers, with every objection, the gravest first."""

    leave: Leave
    objections: tuple[Objection, ...] = ()

    @property
    def words(self) -> str:
        """Every objection, and what would change the gravest; empty where nothing speaks."""
        if not self.objections:
            return ""
        told = " ".join(
            objection.words if objection.about != before else objection.said
            for objection, before in zip(
                self.objections, ("", *(one.about for one in self.objections)), strict=False
            )
        )
        return f"{told} What would change this: {self.objections[0].would_change}"

    @property
    def is_allowed(self) -> bool:
        """Whether nothing stands in the way."""
        return self.leave is Leave.ALLOWED

    @property
    def is_stopped(self) -> bool:
        """Whether no written reason lets it pass."""
        return self.leave is Leave.STOPPED


ALLOWED = Ruling(leave=Leave.ALLOWED)
"""Nothing stands in the way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Concern:
    """All that a deed concerns. What it has nothing to do with is left out."""

    piece: Material | None = None
    """The piece it is done with, or that is planned for it."""
    piece_name: str = ""
    lot: Lot | None = None
    """The adhesive it is done with."""
    lot_name: str = ""
    use: Use | None = None
    """What piece or lot is used for; None where that is not known."""
    touching: tuple[tuple[str, Material], ...] = ()
    """By name, what else it comes to: the piece that is pasted, the covering of the volume."""
    cutting: bool = False
    """Whether a knife goes into the piece, now or as planned."""
    wet: bool | None = None
    """Whether water, paste or a damp poultice comes to what it touches; None: as the lot is."""


def ruling(concern: Concern, today: date, *, rules: Rules | None = None) -> Ruling:
    """Rule on a concern by ``rules`` (the shipped ones where none are given), on this day."""
    rules = rules if rules is not None else shipped_rules()
    found = [
        *_wet_work(concern, rules),
        *_knife(concern, rules),
        *_of_lot(concern, today, rules),
        *_of_piece(concern, today, rules),
    ]
    if not found:
        return ALLOWED
    ranked = sorted(found, key=lambda objection: -objection.leave.rank)
    return Ruling(leave=ranked[0].leave, objections=tuple(ranked))


def is_wet(concern: Concern, rules: Rules) -> bool:
    """Whether water comes to what it touches: as said, else as the adhesive's class is carried.

    A lot of an unknown class counts as wet.
    """
    if concern.wet is not None:
        return concern.wet
    if concern.lot is None:
        return False
    kind = rules.adhesives.get(concern.lot.kind)
    return kind is None or kind.water


def _wet_work(concern: Concern, rules: Rules) -> Iterator[Objection]:
    """Water frees more metal from toxic cloth; see ``hazards.wet_work`` for the study."""
    if not is_wet(concern, rules):
        return
    touched = list(concern.touching)
    if concern.piece is not None and all(concern.piece is not other for _, other in touched):
        touched.insert(0, (concern.piece_name, concern.piece))
    for name, item in touched:
        for hazard in hazards(item, rules=rules):
            if hazard.stops_wet_work:
                yield Objection(
                    leave=Leave.STOPPED,
                    about=name,
                    rule=hazard.rule,
                    reason=f"no wet work: {hazard.name}. {hazard.caution} {hazard.closing}",
                    would_change=hazard.would_change,
                    provenance=hazard.provenance,
                )


def _knife(concern: Concern, rules: Rules) -> Iterator[Objection]:
    if not concern.cutting or concern.piece is None:
        return
    for hazard in hazards(concern.piece, rules=rules):
        if hazard.level is Level.STOP:
            yield Objection(
                leave=Leave.STOPPED,
                about=concern.piece_name,
                rule=hazard.rule,
                reason=f"not to be cut: {hazard.name}. {hazard.caution} {hazard.closing}",
                would_change=hazard.would_change,
                provenance=hazard.provenance,
            )


def _of_lot(concern: Concern, today: date, rules: Rules) -> Iterator[Objection]:
    """A lot past its life for every use, or unfit for this one: a written reason lets it pass."""
    lot = concern.lot
    if lot is None:
        return
    life = shelf_life(lot, today, rules=rules)
    if life.over:
        yield Objection(
            leave=Leave.NEEDS_REASON,
            about=concern.lot_name,
            rule="shelf life",
            reason=life.words,
            would_change="A fresh lot; or, if a date is wrong, the right one.",
            provenance=life.provenance,
        )
    for verdict in verdicts(lot, today, rules=rules):
        if verdict.use is concern.use:
            yield from _unfit(verdict, concern.lot_name, rules, verdict.use.value)


def _of_piece(concern: Concern, today: date, rules: Rules) -> Iterator[Objection]:
    """Unfit for this use; where the use is not known, only what is unfit for every use counts."""
    if concern.piece is None:
        return
    found = [
        list(_unfit(verdict, concern.piece_name, rules, concern.use or _WHATEVER))
        for verdict in verdicts(concern.piece, today, rules=rules)
        if concern.use is None or verdict.use is concern.use
    ]
    if found and all(found):
        yield from found[0]


def _unfit(verdict: Verdict, name: str, rules: Rules, use: str) -> Iterator[Objection]:
    """What speaks against the use, but for the hazards: they are about water and the knife.

    ``use`` is what is said of which use it is.
    """
    for finding in verdict.findings:
        if finding.weight in _AGAINST and finding.rule not in rules.hazards:
            yield Objection(
                leave=Leave.NEEDS_REASON,
                about=name,
                rule=finding.rule,
                reason=f"{use}: {finding.weight.grade.value}. {finding.reason}",
                would_change=finding.would_change,
                provenance=finding.provenance,
            )
