"""Keeping cloth for one part of a volume, where it was laid."""

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import ask
from bindery_stock.bench.match.part_matter import part_matter
from bindery_stock.bench.match.part_shade import with_shades
from bindery_stock.stock import Changes, PlannedPlacement, Stockroom, Verb


@deed(Bearing.PLANS)
def reserve_part(room: Stockroom, *, placement: PlannedPlacement, reason: str = "") -> Changes:
    """Accept a placement; cloth the part was reserved in before is given up.

    The shade kept is that of the cloth under the part, found here. Raises ``Stopped`` and
    ``Barred`` as the gate says, ``StockError`` where the placement does not lie in free cloth.
    """
    with room.step(Verb.RESERVED) as step:
        part = room.books.part(placement.part)
        ask(room, "reserve_part", part_matter(part, placement.code, room.rules), reason)
        room.books.accept_plan(with_shades(room, {part.id: part}, [placement]))
    return step.changes
