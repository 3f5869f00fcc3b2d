"""Allowances set for all work, a set or a volume, and the parts that follow from them."""

from collections.abc import Mapping

from bindery_stock.bench.books.plan import at_work, replan
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Changes, Stockroom, Verb


@deed(Bearing.KEEPS)
def set_allowances(
    room: Stockroom,
    *,
    values: Mapping[str, float | None],
    book_set: str | None = None,
    volume: str | None = None,
) -> Changes:
    """Set allowances in mm, or set them free again (None); the parts of all volumes follow.

    For all work where neither a set nor a volume is named. A volume that is done stays as it was
    made. Raises ``EntryError`` for a name that is none, a value that cannot be, or one that leaves
    nothing to cut in some volume: nothing is changed then. Raises ``NotFound``.
    """
    with room.step(Verb.CORRECTED) as step:
        room.books.set_allowances(values, book_set=book_set, volume=volume)
        replan(room, [volume] if volume is not None else at_work(room, book_set=book_set))
    return step.changes
