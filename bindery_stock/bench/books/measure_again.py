"""Measuring a back again over its linings: what changes in size, and whether its cloth still does.

Sizes are estimates until the linings are on. A reserved part whose size changed is laid again in
its own piece, as near to where it lay as can be, clear of everything else reserved there.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

from shapely import Polygon, difference, unary_union

from bindery_stock import shape
from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.part_list import MARGIN_MM, parts_of
from bindery_stock.bench.books.split_supply import splits_kept
from bindery_stock.bench.books.spoken_for import placement_of
from bindery_stock.bench.books.survey import lined
from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.match.part_shade import with_shades
from bindery_stock.shape import Outline, Placement, Sight, Zone
from bindery_stock.stock import (
    BookPart,
    Changes,
    NewPart,
    PartState,
    PlannedPlacement,
    Reservation,
    StockPiece,
    Stockroom,
    Verb,
)
from bindery_stock.units import LengthStyle

_SAME_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Change:
    """One part whose size is no longer what it was."""

    old: BookPart
    new: NewPart
    laying: PlannedPlacement | None
    """Where it lies now; nothing where it is not reserved, or no longer fits."""
    words: str


@dataclass(frozen=True, slots=True)
class Recheck:
    """What measuring again comes to."""

    parts: tuple[NewPart, ...]
    changes: tuple[Change, ...]

    @property
    def again(self) -> tuple[PlannedPlacement, ...]:
        """The reserved parts that keep their piece."""
        return tuple(change.laying for change in self.changes if change.laying is not None)

    @property
    def given_up(self) -> tuple[BookPart, ...]:
        """The reserved parts whose piece no longer serves."""
        return tuple(
            change.old
            for change in self.changes
            if change.laying is None and change.old.state is PartState.RESERVED
        )


@deed(Bearing.KEEPS)
def measure_again(room: Stockroom, *, volume: str, arc: float) -> Changes:
    """Keep the arc (mm) of a back measured over its linings, and the sizes that follow from it.

    A reserved part keeps its piece where the new size still fits there, and waits again where it
    does not. Raises ``EntryError``, ``NotFound``.
    """
    with room.step(Verb.PLANNED) as step:
        repair = room.books.repair(volume)
        step.name = f"Measured the back of {repair.name} again over its linings"
        there = room.books.parts(volume=volume)
        codes = {part.piece for part in there if part.state is PartState.RESERVED}
        new = replace(repair, survey=lined(repair.survey, arc))
        found = recheck(
            there,
            splits_kept(
                parts_of(
                    new, allowances_for(room.books.overrides(volume=volume), room.rules), room.rules
                ),
                there,
            ),
            {code: room.pieces.get(code) for code in codes},
            room.pieces.reservations(),
            LengthStyle(),
        )
        room.books.correct_repair(volume, survey=new.survey)
        resized = {one.old.id: replace(one.old, **_sizes(one.new)) for one in found.changes}
        again = with_shades(room, resized, found.again)
        room.books.plan_volumes({volume: found.parts}, again=again)
    return step.changes


def _sizes(part: NewPart) -> dict[str, Any]:
    return {"width": part.width, "height": part.height, "zones": part.zones}


def recheck(
    old: Iterable[BookPart],
    new: Sequence[NewPart],
    pieces: Mapping[str, StockPiece],
    reservations: Sequence[Reservation],
    lengths: LengthStyle,
) -> Recheck:
    """Hold the new sizes of a volume against what is reserved for it."""
    there = {part.key: part for part in old}
    held = list(reservations)
    changes: list[Change] = []
    for part in new:
        was = there.get(part.key)
        if was is None or was.state in (PartState.CUT, PartState.FITTED) or _same(was, part):
            continue
        laying, words = None, "waits"
        if was.state is PartState.RESERVED:
            laying, words = _laid_again(was, part, pieces.get(was.piece), held)
            held = [r for r in held if (r.code, r.purpose) != (was.piece, was.purpose)]
            if laying is not None:
                held.append(_as_reserved(was, part, laying))
        before, now = lengths.pair(was.width, was.height), lengths.pair(part.width, part.height)
        changes.append(Change(was, part, laying, f"{part.words}: {before} → {now}, {words}"))
    return Recheck(tuple(new), tuple(changes))


def _same(was: BookPart, now: NewPart) -> bool:
    return abs(was.width - now.width) <= _SAME_MM and abs(was.height - now.height) <= _SAME_MM


def _laid_again(
    was: BookPart, part: NewPart, piece: StockPiece | None, held: Sequence[Reservation]
) -> tuple[PlannedPlacement | None, str]:
    if piece is None:
        return None, f"{was.piece} is no longer on the shelf; it waits again"
    old = placement_of(was.corners, was.width, was.height)
    found = fit_beside(part, piece, held, besides=was.purpose, near=old)
    if found is None:
        return None, f"no longer fits in {piece.code}; it waits again"
    laying = PlannedPlacement(part=was.id, code=piece.code, corners=found.corners, shade=was.shade)
    return laying, f"still fits in {piece.code}"


def fit_beside(
    part: NewPart,
    piece: StockPiece,
    held: Iterable[Reservation],
    *,
    besides: str,
    near: Placement | None = None,
) -> Placement | None:
    """Where a part fits beside what else is reserved in the piece; ``besides`` names its own.

    The place nearest to ``near`` is tried first.
    """
    taken = [
        Polygon(r.corners)
        for r in held
        if r.code == piece.code and r.purpose != besides and r.corners
    ]
    free = difference(piece.outline.polygon, unary_union(taken)) if taken else piece.outline.polygon
    zones = tuple(Zone(Sight(sight), *sides) for sight, *sides in part.zones)
    parts = getattr(free, "geoms", [free])
    grounds = sorted((p for p in parts if p.area > 1.0), key=lambda p: -p.area)
    turns = part.turns
    if near is not None:
        grounds.sort(key=lambda p: p.distance(near.polygon.centroid))
        turns = (near.turn, *(turn for turn in part.turns if turn != near.turn))
    for ground in grounds:
        outline = Outline.from_polygon(ground)
        size = (part.width, part.height)
        if near is not None and not piece.flaws:
            close = shape.place_near(
                outline, *size, near.corners[0], turn=near.turn, margin=MARGIN_MM
            )
            if close is not None:
                return close
        found = shape.place(
            outline, *size, turns=turns, margin=MARGIN_MM, flaws=piece.flaws, zones=zones
        )
        if found is not None:
            return found
    return None


def _as_reserved(was: BookPart, part: NewPart, laying: PlannedPlacement) -> Reservation:
    return Reservation(
        id=0,
        code=laying.code,
        purpose=was.purpose,
        width=part.width,
        height=part.height,
        corners=laying.corners,
        at=datetime(1970, 1, 1, tzinfo=UTC),
    )
