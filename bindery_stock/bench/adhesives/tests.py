"""Testing a lot or a piece: what may be asked of it, how an answer is typed, what must stay dry."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from bindery_stock.colour import draft_photo
from bindery_stock.errors import EntryError
from bindery_stock.stock import AdhesiveLot, Photo, StockPiece, Stockroom
from bindery_stock.trade import (
    Evidence,
    PropertyKind,
    Rules,
    ValueKind,
    wet_work,
)
from bindery_stock.trade.conditions import Fact
from bindery_stock.trade.flags import ADHESIVE
from bindery_stock.trade.properties import established

YES, NO = "yes", "no"
WET_TESTS = frozenset({"ph", "liner_ph", "bleeds", "starch"})
"""Tests that bring water to a piece when they are done at the bench, as their descriptions in the
rules say."""


@dataclass(frozen=True, slots=True)
class PropertyAsked:
    """One property that the rules ask of an item."""

    kind: PropertyKind
    known: str
    """What is known of it by now, in words; empty where nothing is."""

    @property
    def answers(self) -> tuple[str, ...]:
        """The words to choose from; none where a number is typed."""
        if self.kind.kind is ValueKind.TRUTH:
            return (YES, NO)
        return self.kind.choices

    @property
    def words(self) -> str:
        """``weight, g/m²``."""
        return f"{self.kind.words}, {self.kind.unit}" if self.kind.unit else self.kind.words


def questions(item: AdhesiveLot | StockPiece, rules: Rules) -> list[PropertyAsked]:
    """What the rules ask of this kind of item: the open ones first, the cheapest tests first."""
    applies = ADHESIVE if isinstance(item, AdhesiveLot) else item.kind.value
    asked: set[str] = set()
    for hazard in rules.hazards.values():
        if applies in hazard.applies:
            asked |= {condition.fact for condition in hazard.every}
    for flag in rules.flags.values():
        if applies in flag.applies:
            asked |= {condition.fact for condition in (*flag.every, *flag.some)}
    _values, records = established(item.properties, rules.properties)
    found = [
        PropertyAsked(kind, records[name].words if name in records else "")
        for name, kind in rules.properties.items()
        if name in asked and not kind.derived
    ]
    return sorted(found, key=lambda q: (bool(q.known), q.kind.effort.rank, q.kind.words))


def answer_of(kind: PropertyKind, typed: str) -> Fact:
    """What was typed or chosen, as a value. Raises ``EntryError`` with the mend."""
    text = typed.strip()
    if kind.kind is ValueKind.TRUTH:
        if text not in (YES, NO):
            raise EntryError(kind.words, f"{kind.words}: answer yes or no.")
        return text == YES
    if kind.kind is ValueKind.WORD:
        return kind.checked(text)
    try:
        number = float(text.replace(",", ".").replace("−", "-"))
    except ValueError as error:
        raise EntryError(kind.words, f"{kind.words}: “{text}” is not a number.") from error
    return kind.checked(number)


def wets(name: str, evidence: Evidence) -> bool:
    """Whether water came to a piece by this test: it was done at the bench, and is a wet one."""
    return name in WET_TESTS and evidence is Evidence.BENCH


def wet_words(piece: StockPiece, rules: Rules) -> str:
    """Why water, paste or a damp poultice must not come to a piece; empty where it may."""
    refusal = wet_work(piece, rules=rules)
    return "" if refusal is None else f"{refusal.reason} {refusal.closing}"


def keep_photo(stockroom: Stockroom, path: Path) -> Photo:
    """Archive the photograph of a strip, spot or lamp. Raises ``PhotoError``, ``DiskTrouble``."""
    width, height = draft_photo(path, 64).size
    return stockroom.photos.archive(path, name=path.name, width=width, height=height)


def substances(rules: Rules) -> Sequence[str]:
    """What a laboratory may be asked to look for."""
    return sorted({s for hazard in rules.hazards.values() for s in hazard.substances})
