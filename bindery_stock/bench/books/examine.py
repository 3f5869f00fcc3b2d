"""What was found out about a volume, the courses weighed for it, and what its owner agreed to."""

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Changes, Stockroom, Verb
from bindery_stock.trade.care import CarePlan


@deed(Bearing.KEEPS)
def examine(room: Stockroom, *, volume: str, care: CarePlan) -> Changes:
    """Write examination, options, risks, after-care and consent of a volume, all in one.

    Nothing is done to the volume by it: what is then done is asked of the gate deed by deed.
    Raises ``EntryError`` for what cannot be kept, ``NotFound``.
    """
    with room.step(Verb.CORRECTED) as step:
        room.books.correct_repair(volume, care=care)
    return step.changes
