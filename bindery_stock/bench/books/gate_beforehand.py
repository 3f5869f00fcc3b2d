"""What the gate will say to the parts and the covering of a volume, asked beforehand.

All that is asked about has been read already: no statement is made here.
"""

from datetime import date

from bindery_stock.bench.gate import Matter, concern
from bindery_stock.bench.match.part_matter import part_matter
from bindery_stock.bench.shelf.cautions import SIGN
from bindery_stock.stock import BookPart, NewRepair, PartState, StockPiece
from bindery_stock.trade import Rules
from bindery_stock.trade.gate import ALLOWED, Ruling, ruling


def cut_ruling(
    part: BookPart, piece: StockPiece | None, volume: NewRepair, today: date, rules: Rules
) -> Ruling:
    """What it will say when a part is cut from the piece it is reserved in; else nothing."""
    if part.state is not PartState.RESERVED or piece is None:
        return ALLOWED
    matter = part_matter(part, piece.code, rules)
    return ruling(concern(matter, piece, volume=volume), today, rules=rules)


def wet_ruling(volume: NewRepair, today: date, rules: Rules) -> Ruling:
    """What it will say to water, paste or a damp poultice on the covering of a volume."""
    return ruling(concern(Matter(wet=True), volume=volume), today, rules=rules)


def leave_words(said: Ruling) -> str:
    """``△ stopped``, ``△ needs a written reason``, or empty where nothing speaks."""
    return "" if said.is_allowed else f"{SIGN} {said.leave}"


def wet_mark(said: Ruling) -> str:
    """``△ no wet work``, or empty where nothing speaks against it."""
    return "" if said.is_allowed else f"{SIGN} no wet work"


def wet_line(said: Ruling) -> str:
    """What is stopped on the covering, by which rule, and what would change it; or empty.

    The gravest objection is told in full, the others by their rules.
    """
    if said.is_allowed:
        return ""
    first, *others = said.objections
    told = f"{SIGN} {first.said[0].upper()}{first.said[1:]}"
    rules = ", ".join(dict.fromkeys(one.rule.replace("-", " ") for one in others))
    also = f" Stopped as well by: {rules}." if rules else ""
    return f"{told}{also} What would change this: {first.would_change}"
