"""How long a lot still keeps: every count that runs, and which of them ends it first."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from bindery_stock.trade.adhesives import AdhesiveClass, Frost, Life, Lot, Since, Store
from bindery_stock.trade.day_counts import after, in_words, written
from bindery_stock.trade.provenance import Mark, Provenance
from bindery_stock.trade.rules import Rules, shipped_rules


class Ending(StrEnum):
    """What ends a lot's life."""

    BOUGHT = "counted from the purchase"
    OPENED = "counted from the opening"
    MADE = "counted from the making"
    SUPPLIER = "the supplier's own date"
    PART = "a lot it was mixed from"
    FROZEN = "it was frozen"
    SPOILED = "it is spoiled"
    UNKNOWN = "no date is recorded"


_ENDINGS = {Since.BOUGHT: Ending.BOUGHT, Since.OPENED: Ending.OPENED, Since.MADE: Ending.MADE}
_OWN_RECORD = Provenance(Mark.COMPUTED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """One count that runs: from when, to when, by which rule."""

    ending: Ending
    start: date | None
    ends: date
    """The last good day."""
    rule: str
    range_words: str
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfLife:
    """What is left of a lot."""

    ending: Ending
    """What ends it first."""
    ends: date | None
    """The last good day; ``None`` where nothing can be counted, or where it has ended already."""
    days_left: int | None
    """Days after today that are still good; negative once it is over."""
    share_left: float | None
    """Share of the whole life still to come, 0 to 1, for a bar."""
    over: bool
    """Whether it should not be used without a written reason."""
    words: str
    provenance: Provenance
    counts: tuple[Count, ...] = ()
    """Every count that runs, the first to end first."""
    notices: tuple[str, ...] = ()
    """What is odd about the record: dates to come, dates out of order."""


def shelf_life(lot: Lot, today: date, *, rules: Rules | None = None) -> ShelfLife:
    """What ends this lot first, when, and how much is left.

    Counts run from purchase (or receipt), opening and making, under the place where it stands; the
    supplier's date and the lots it was mixed from count as well. Spoilage and, for classes it
    breaks, frost end it at once. On its last day a lot is still good.
    """
    rules = rules if rules is not None else shipped_rules()
    kind = rules.adhesives.get(lot.kind)
    notices = tuple(_notices(lot, today, kind))
    at_once = _ended_at_once(lot, kind, notices)
    if at_once is not None:
        return at_once
    counts = sorted(_counts(lot, kind, today, rules), key=lambda count: count.ends)
    if not counts:
        return ShelfLife(
            ending=Ending.UNKNOWN,
            ends=None,
            days_left=None,
            share_left=None,
            over=False,
            words="Cannot tell: write the day it was bought, opened or made.",
            provenance=_OWN_RECORD,
            notices=notices,
        )
    first = counts[0]
    days_left = (first.ends - today).days
    return ShelfLife(
        ending=first.ending,
        ends=first.ends,
        days_left=days_left,
        share_left=_share(first, today),
        over=days_left < 0,
        words=_words(first, days_left),
        provenance=first.provenance,
        counts=tuple(counts),
        notices=notices,
    )


def _ended_at_once(
    lot: Lot, kind: AdhesiveClass | None, notices: tuple[str, ...]
) -> ShelfLife | None:
    spoiled = any(p.name == "spoiled" and p.value is True for p in lot.properties)
    frozen = lot.frozen_once and kind is not None and kind.frost is Frost.ENDS
    if not spoiled and not frozen:
        return None
    ending = Ending.SPOILED if spoiled else Ending.FROZEN
    provenance = kind.provenance if kind is not None and frozen else _OWN_RECORD
    return ShelfLife(
        ending=ending,
        ends=None,
        days_left=None,
        share_left=0.0,
        over=True,
        words=f"Over: {ending.value}, whatever the calendar says.",
        provenance=provenance,
        notices=notices,
    )


def _counts(lot: Lot, kind: AdhesiveClass | None, today: date, rules: Rules) -> Iterable[Count]:
    if lot.expires is not None:
        yield Count(
            ending=Ending.SUPPLIER,
            start=received(lot),
            ends=lot.expires,
            rule="supplier",
            range_words="",
            provenance=_OWN_RECORD,
        )
    for life in kind.lives if kind is not None else ():
        start = _start(lot, life.since)
        if start is None or not _stands(lot, life):
            continue
        yield _count(lot, life, start, rules)
    for part in lot.mixed_from:
        of_part = shelf_life(part, today, rules=rules)
        if of_part.ends is not None:
            yield Count(
                ending=Ending.PART,
                start=_start(lot, Since.MADE),
                ends=of_part.ends,
                rule="mixed from",
                range_words="",
                provenance=of_part.provenance,
            )


def _count(lot: Lot, life: Life, start: date, rules: Rules) -> Count:
    ends = after(start, months=life.months, days=life.days)
    range_words = life.range_words
    if lot.storage == Store.SHED and life.store is not Store.SHED:
        share = rules.limits["shed-share"].value
        ends = after(start, days=int((ends - start).days * share))
        range_words += f"; in the shed cut to {share:.0%} (proposed)"
    return Count(
        ending=_ENDINGS[life.since],
        start=start,
        ends=ends,
        rule=life.key,
        range_words=range_words,
        provenance=life.provenance,
    )


def _stands(lot: Lot, life: Life) -> bool:
    """Whether a life of this place is the lot's; in the shed the room's lives count."""
    if life.store is None or life.store == lot.storage:
        return True
    return lot.storage == Store.SHED and life.store is Store.ROOM


def received(lot: Lot) -> date | None:
    """The day it came in, else the day it was bought."""
    return lot.received or lot.bought


def _start(lot: Lot, since: Since) -> date | None:
    return {Since.BOUGHT: received(lot), Since.OPENED: lot.opened, Since.MADE: lot.made}[since]


def _share(count: Count, today: date) -> float | None:
    if count.start is None:
        return None if today <= count.ends else 0.0
    whole = (count.ends - count.start).days
    if whole <= 0:
        return 1.0 if today <= count.ends else 0.0
    return min(1.0, max(0.0, (count.ends - today).days / whole))


def _words(count: Count, days_left: int) -> str:
    when = written(count.ends)
    if days_left < 0:
        return f"Out of date since {when}, {in_words(days_left)} ago: {count.ending.value}."
    if days_left == 0:
        return f"Today is its last day: {count.ending.value}."
    return f"{in_words(days_left)} left, to {when}: {count.ending.value}."


def _notices(lot: Lot, today: date, kind: AdhesiveClass | None) -> Iterable[str]:
    if kind is None:
        yield f"“{lot.kind}” is no adhesive class in the rules, so only its own dates count."
    if lot.storage not in tuple(Store):
        yield f"“{lot.storage}” is no place the rules know; use room, fridge or shed."
    dates = {
        "bought": lot.bought,
        "received": lot.received,
        "opened": lot.opened,
        "made": lot.made,
    }
    for word, day in dates.items():
        if day is not None and day > today:
            yield (
                f"It is said to be {word} on {written(day)}, which is still to come: "
                "check the date, and the computer's clock."
            )
    if lot.opened is not None and lot.bought is not None and lot.opened < lot.bought:
        yield (
            f"It is said to be opened on {written(lot.opened)}, before it was bought on "
            f"{written(lot.bought)}: check the dates."
        )
