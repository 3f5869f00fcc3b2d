"""A lot comes to the shelf: bought, cooked, or mixed from others, which the gate is asked about."""

from collections.abc import Iterable
from datetime import date

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import Matter, ask, concern
from bindery_stock.stock import AdhesiveLot, Changes, NewAdhesiveLot, Stockroom, Verb
from bindery_stock.trade import Rules
from bindery_stock.trade.gate import ruling


@deed(Bearing.KEEPS)
def enter_lot(room: Stockroom, *, lot: NewAdhesiveLot) -> Changes:
    """Put a tin, jar or batch on the shelf; ``Changes.born`` has its code. Raises ``EntryError``.

    What is made from other lots is entered by ``mix``: raises ``ValueError``.
    """
    if lot.made_from:
        raise ValueError("a lot made from others is mixed, not entered")
    with room.step(Verb.OPENED) as step:
        room.lots.enter(lot)
    return step.changes


@deed(Bearing.CONSUMES)
def mix(room: Stockroom, *, lot: NewAdhesiveLot, reason: str = "") -> Changes:
    """Mix or dilute a lot from those it names in ``made_from``; ``Changes.born`` has its code.

    Raises ``EntryError``, ``NotFound`` for a lot that is not there, and ``Barred`` where the rules
    speak against one of them and no reason is written.
    """
    with room.step(Verb.OPENED) as step:
        for code in lot.made_from:
            ask(room, "mix", Matter(lot=code), reason)
        room.lots.enter(lot)
    return step.changes


def mixing_words(parts: Iterable[AdhesiveLot], today: date, rules: Rules) -> str:
    """What the gate will say to mixing from these lots; empty where nothing speaks against it."""
    told = (ruling(concern(Matter(lot=p.code), lot=p), today, rules=rules).words for p in parts)
    return "\n".join(words for words in told if words)
