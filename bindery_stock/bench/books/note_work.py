"""What was done to a volume: noted with the ruling of the gate, put into the book, its hours.

What is noted for today is about to be done and may be stopped. What was done on a past day, and a
part that is in the book, has happened: it is kept with the ruling and the binder's reason.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from bindery_stock.bench.books.part_list import use_of
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import Matter, ask, concern, note, rule
from bindery_stock.errors import EntryError
from bindery_stock.stock import (
    AdhesiveLot,
    BookPart,
    Changes,
    NewTreatment,
    Repair,
    StockPiece,
    Stockroom,
    Verb,
)
from bindery_stock.trade import Rules
from bindery_stock.trade.gate import Ruling, ruling

WORK_CAUTION = (
    "△ Mind dust and mould, and the cautions of the cloth and the adhesive; your own bench's "
    "rules come first."
)
"""Said beside all work that is noted: common practice, no source."""
_WET_WORDS = frozenset({"damp", "paste", "pasted", "poultice", "poultices", "water", "wet"})
"""Words of the bench for work with water; common practice, no source."""

_CODE = re.compile(r"\b[A-Z]-\d{4,}\b", re.IGNORECASE)


@deed(Bearing.CONSUMES)
def note_work(room: Stockroom, *, volume: str, treatment: NewTreatment) -> Changes:
    """Write a line into the treatment of a volume; ``treatment.override`` is the reason.

    A piece kept for a part of the volume is asked about too where the words name its code. Of
    today it raises ``Stopped`` and ``Barred``; of a past day it is kept with what the gate says.
    Raises ``EntryError`` for what cannot be kept, ``NotFound``.
    """
    with room.step(Verb.TREATED) as step:
        treatment = _dated(room, treatment)
        part = None if treatment.part is None else room.books.part(treatment.part)
        if part is None and not treatment.piece and _CODE.search(treatment.what):
            part = part_coded(treatment.what, room.books.parts(volume=volume))
        matter = matter_of(volume, treatment, part, room.rules)
        if treatment.on is not None:
            note(room, "note work", matter, treatment.override)
        else:
            reason = treatment.override or _reason_given(room, matter)
            ask(room, "note work", matter, reason)
        room.books.record_treatment(volume, treatment)
    return step.changes


@deed(Bearing.RECORDS)
def fit(room: Stockroom, *, parts: Sequence[int], treatment: NewTreatment | None = None) -> Changes:
    """Say that parts of one volume are in the book, with a line for its record.

    It has happened: kept with what the gate says. Raises ``StockError`` where one is reserved but
    not cut, or fitted already, and ``NotFound``.
    """
    with room.step(Verb.FITTED) as step:
        first = room.books.part(parts[0])
        treatment = None if treatment is None else _dated(room, treatment)
        for part in room.books.parts(ids=parts):
            matter = matter_of(first.repair, treatment or NewTreatment(what=""), part, room.rules)
            reason = treatment.override if treatment is not None else ""
            note(room, "fit", matter, reason or _reason_given(room, matter))
        room.books.mark_fitted(parts, treatment)
    return step.changes


@deed(Bearing.KEEPS)
def spend_hours(room: Stockroom, *, volume: str, hours: float, on: str) -> Changes:
    """Put hours to a volume. Raises ``EntryError`` where they are no number of hours."""
    with room.step(Verb.TREATED) as step:
        room.books.spend_hours(volume, hours, on)
    return step.changes


def ruling_beforehand(
    room: Stockroom,
    repair: Repair,
    treatment: NewTreatment,
    part: BookPart | None,
    piece: StockPiece | None,
    lot: AdhesiveLot | None,
) -> Ruling:
    """What the gate would say to a line of treatment, where all it is about has been read."""
    matter = matter_of(repair.code, treatment, part, room.rules)
    return ruling(concern(matter, piece, lot, None, repair), room.today, rules=room.rules)


def names_wet_work(what: str) -> bool:
    """Whether the words in which work is told name water, paste or a poultice."""
    return not _WET_WORDS.isdisjoint(re.findall(r"[a-z]+", what.casefold()))


def part_coded(what: str, parts: Iterable[BookPart]) -> BookPart | None:
    """The part whose piece the words in which work is told name by its code; None without one."""
    codes = frozenset(_CODE.findall(what.upper()))
    return next((part for part in parts if part.piece in codes), None)


def part_told(what: str, parts: Sequence[BookPart]) -> BookPart | None:
    """The part with a piece that the words name, by the code of that or by its own name."""
    coded = part_coded(what, parts)
    if coded is not None:
        return coded
    told = what.casefold()
    return next((part for part in parts if part.piece and part.words.casefold() in told), None)


def ruling_words(said: Ruling, *, happened: bool) -> str:
    """The ruling as a form shows it beforehand; empty where nothing speaks against the work."""
    if said.is_allowed:
        return ""
    if happened:
        return f"△ It is noted with what the rules say against it. {said.words}"
    if said.is_stopped:
        return f"△ Stopped: no reason lets it pass. {said.words}"
    return f"△ Going on needs a written reason. {said.words}"


def matter_of(volume: str, treatment: NewTreatment, part: BookPart | None, rules: Rules) -> Matter:
    """What a line of treatment is about, for the gate.

    Where it is not said whether it was wet and no lot tells it, the words of the bench do.
    """
    piece = treatment.piece or (part.piece if part is not None else "")
    wet = treatment.wet
    if wet is None and not treatment.lot and names_wet_work(treatment.what):
        wet = True
    return Matter(
        piece=piece,
        lot=treatment.lot or "",
        use=None if part is None else use_of(part.role, rules),
        volume=volume,
        wet=wet,
    )


def _dated(room: Stockroom, treatment: NewTreatment) -> NewTreatment:
    """With the day only where it is past. Raises ``EntryError`` for a day that is to come."""
    if treatment.on is None or treatment.on < room.today:
        return treatment
    if treatment.on > room.today:
        raise EntryError("On", "On: that day is still to come. Note the work once it is done.")
    return replace(treatment, on=None)


def _reason_given(room: Stockroom, matter: Matter) -> str:
    """The reason written before, for this volume, against all that the gate says again now.

    Empty where something it says has not been answered yet.
    """
    objections = rule(room, matter).objections
    if not objections:
        return ""
    kept = [one for one in room.rulings.listed(volume=matter.volume) if one.reason]
    ending = f", {room.books.repair(matter.volume).name}"
    taken = [
        use.override_reason
        for use in (room.lots.uses(matter.lot) if matter.lot else [])
        if use.override_reason and use.purpose.endswith(ending)
    ]
    found: dict[str, None] = {}
    for objection in objections:
        reasons = [
            one.reason
            for one in reversed(kept)
            if objection.about in (one.piece, one.lot) and objection.rule in one.rules
        ]
        if objection.about == matter.lot:
            reasons += taken
        if not reasons:
            return ""
        found[reasons[0]] = None
    return " ".join(found)
