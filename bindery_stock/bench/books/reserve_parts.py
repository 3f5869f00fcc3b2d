"""Cloth reserved for parts, given up again, and parts left out or wanted after all."""

from collections.abc import Collection, Sequence

from bindery_stock.bench.books.part_list import use_of
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.gate import Matter, ask_all
from bindery_stock.bench.match.part_shade import with_shades
from bindery_stock.stock import Changes, PlannedPlacement, Stockroom, Verb


@deed(Bearing.PLANS)
def accept_plan(
    room: Stockroom,
    *,
    placements: Sequence[PlannedPlacement],
    unserved: Collection[int] = (),
    reason: str = "",
) -> Changes:
    """Reserve every choice of a plan, or none; the parts in ``unserved`` are marked so.

    Each piece is judged for what its part is used for, and the shade under the part found here.
    Raises ``Stopped`` or ``Barred``, and ``StockError`` where a choice lies in no free cloth.
    """
    with room.step(Verb.RESERVED) as step:
        parts = {part.id: part for part in room.books.parts(ids=[p.part for p in placements])}
        ask_all(
            room,
            "reserve",
            [
                Matter(
                    piece=placement.code,
                    use=use_of(part.role, room.rules),
                    volume=part.repair,
                    cutting=True,
                )
                for placement in placements
                if (part := parts.get(placement.part)) is not None
            ],
            reason,
        )
        room.books.accept_plan(with_shades(room, parts, placements), unserved=unserved)
    return step.changes


@deed(Bearing.KEEPS)
def release_parts(room: Stockroom, *, parts: Collection[int]) -> Changes:
    """Give up the cloth reserved for parts. Raises ``StockError`` where none is, ``NotFound``."""
    with room.step(Verb.RELEASED) as step:
        room.books.release_parts(parts)
    return step.changes


@deed(Bearing.KEEPS)
def leave_out(room: Stockroom, *, parts: Collection[int]) -> Changes:
    """Say that parts are not wanted after all. Raises ``StockError`` for what is cut already."""
    with room.step(Verb.PLANNED) as step:
        room.books.leave_out(parts)
    return step.changes


@deed(Bearing.KEEPS)
def want_again(room: Stockroom, *, parts: Collection[int]) -> Changes:
    """Say that parts that were left out are wanted. Raises ``StockError`` for what is cut."""
    with room.step(Verb.PLANNED) as step:
        room.books.want_again(parts)
    return step.changes
