"""What is to be bought or looked for, and the least to keep at hand."""

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Changes, Measure, NewWanted, Stockroom, Verb


@deed(Bearing.KEEPS)
def want(room: Stockroom, *, new: NewWanted) -> Changes:
    """Write a line on the wanted list; ``Changes.born`` has its code. Raises ``EntryError``."""
    with room.step(Verb.WANTED) as step:
        room.wants.add(new)
    return step.changes


@deed(Bearing.KEEPS)
def close_want(room: Stockroom, *, code: str, outcome: str) -> Changes:
    """End a line of the wanted list, saying how. Raises ``NotFound``, ``EntryError``."""
    with room.step(Verb.WANTED) as step:
        room.wants.close(code, outcome)
    return step.changes


@deed(Bearing.KEEPS)
def set_reorder_point(room: Stockroom, *, kind: str, least: float | None, unit: Measure) -> Changes:
    """Say the least to keep at hand of an adhesive class or a kind of piece; None for none."""
    with room.step(Verb.WANTED) as step:
        room.wants.set_reorder_point(kind, least, unit)
    return step.changes
