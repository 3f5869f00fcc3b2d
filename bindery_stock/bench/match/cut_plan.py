"""A sitting at one piece: the parts laid in it, how each lies, and what the cuts leave."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import cos, radians, sin

from shapely import Polygon

from bindery_stock import shape
from bindery_stock.bench.match.placed_part import (
    PartPlaced,
    apart,
    matched_piece,
    may_turn,
    placed_at,
)
from bindery_stock.errors import ShapeError
from bindery_stock.matching import Lying, Part, fit, flaws_in_the_way
from bindery_stock.shape import (
    Flaw,
    KnifeWay,
    Leavings,
    Lie,
    Outline,
    Placement,
    Point,
    Sheared,
    Zone,
)
from bindery_stock.shape.best_fit import distinct_turns
from bindery_stock.shape.fit import place_on
from bindery_stock.shape.ground import Ground, ground
from bindery_stock.shape.knife_way import SLIVER_MM
from bindery_stock.shape.layout import lay_all
from bindery_stock.shape.rectangle_wanted import RectangleWanted
from bindery_stock.shape.turns import cosine_and_sine
from bindery_stock.shape.usable_rectangle import rough_area
from bindery_stock.stock import CutPart, Cutting, Reservation, StockPiece


@dataclass(frozen=True)
class CutPlan:
    """The parts to be cut from a piece in one sitting. Each change makes a new plan."""

    piece: StockPiece
    laid: tuple[PartPlaced, ...]
    knife: float = 0.0
    """Width in mm lost to the knife all round each part."""
    way: KnifeWay = KnifeWay.ROUND
    """How far each cut is taken; to the end of the cloth, every cut runs from edge to edge."""
    sliver: float = SLIVER_MM
    """What is nowhere so wide in mm between a part and the edge comes off with the part."""
    held: tuple[Reservation, ...] = ()
    """What else the piece is reserved for, with its place: no part may lie on it."""

    def ground_for(self, index: int | None, part: Part | None = None) -> Ground:
        """Where a part may lie beside the others: one that is laid, or a ``part`` to come."""
        wanted = part if index is None else self.laid[index].part
        if wanted is None:
            raise ShapeError("No part was given. Choose the part to lay.")
        flaws, zones = self.piece.flaws, wanted.sight
        if wanted.triangular:
            flaws, zones = tuple(flaws_in_the_way(wanted, matched_piece(self.piece))), ()
        usable = _ground(self.piece.outline, wanted.margin, flaws, zones)
        for number, other in enumerate(self.laid):
            if number != index:
                usable = usable.without(other.placement.polygon, self.knife)
        for reserved in self.held:
            usable = usable.without(Polygon(reserved.corners))
        return usable

    @cached_property
    def lies(self) -> tuple[Lie, ...]:
        """How each part lies."""
        return tuple(
            shape.lie_on(self.ground_for(number), laid.placement)
            for number, laid in enumerate(self.laid)
        )

    @property
    def by_shears(self) -> bool:
        """Whether every cut runs from edge to edge."""
        return self.way is KnifeWay.THROUGH

    @property
    def fits(self) -> bool:
        """Whether every part lies rightly, and can be had by the cuts asked for."""
        return all(lie.fits for lie in self.lies) and not (self.by_shears and self.sheared is None)

    @cached_property
    def sheared(self) -> Sheared | None:
        """The edge-to-edge cuts; nothing where there are none that free every part."""
        rectangles = [one.placement for one in self.laid if isinstance(one.placement, Placement)]
        if len(rectangles) < len(self.laid):
            return None
        return shape.shear(self.piece.outline, rectangles, knife=self.knife)

    @cached_property
    def remains(self) -> tuple[Outline, ...]:
        """What goes back on the shelf or is thrown away, largest first."""
        if self.by_shears:
            return self.sheared.remains if self.sheared else ()
        return self._left.offcuts

    @cached_property
    def waste(self) -> float:
        """Area in mm² that is neither part nor goes back: what the knife takes, and hairs."""
        parts = [one.placement for one in self.laid]
        if self.by_shears:
            used = sum(p.polygon.area for p in parts) + sum(r.area for r in self.remains)
            return max(self.piece.outline.area - used, 0.0) if self.sheared else 0.0
        return self._left.waste

    @cached_property
    def _left(self) -> Leavings:
        parts = [one.placement for one in self.laid]
        return shape.leavings(
            self.piece.outline, parts, knife=self.knife, way=self.way, sliver=self.sliver
        )

    # Laying

    def moved(self, index: int, corner: Point, *, snap: float = 0.0) -> "CutPlan":
        """The part with its own first corner at ``corner``, or where it fits within ``snap`` mm.

        Where it fits it still snaps into a corner of the piece that near.
        """
        laid = self.laid[index]
        turn = laid.placement.turn
        asked = placed_at(laid.part, corner, turn)
        if snap <= 0.0:
            return self._with(index, asked)
        near = self._near(index, corner, turn, snap)
        close = near is not None and apart(near, asked) <= snap
        return self._with(index, near if near is not None and close else asked)

    def _near(self, index: int, corner: Point, turn: float, snap: float) -> Lying | None:
        usable, part = self.ground_for(index), self.laid[index].part
        if part.triangular:
            return shape.patch_near_on(usable, part.outline, corner, turn=turn, snap=snap)
        return shape.near_on(usable, part.width, part.height, corner, turn=turn, snap=snap)

    def settled(self) -> "CutPlan":
        """The plan with each part that does not fit moved to the nearest place where it does."""
        plan = self
        for index, laid in enumerate(self.laid):
            if not plan.lies[index].fits:
                at, turn = laid.placement.corners[0], laid.placement.turn
                near = plan._near(index, at, turn, 0.0)
                plan = plan if near is None else plan._with(index, near)
        return plan

    def turned(self, index: int, by: float) -> "CutPlan":
        """The part turned about its middle by so many degrees counter-clockwise.

        Raises ``ShapeError`` where the part may not lie so.
        """
        laid = self.laid[index]
        turn = (laid.placement.turn + by) % 360.0
        if not may_turn(laid.part, self.piece.pattern, turn):
            raise ShapeError(
                f"The part may not be turned to {turn:g}°. Allow it in “Lies” at the part first."
            )
        middle = laid.placement.polygon.centroid
        x, y = laid.placement.corners[0]
        c, s = cosine_and_sine(by) if by % 90.0 == 0.0 else (cos(radians(by)), sin(radians(by)))
        dx, dy = x - middle.x, y - middle.y
        corner = (middle.x + dx * c - dy * s, middle.y + dx * s + dy * c)
        return self._with(index, placed_at(laid.part, corner, turn))

    def with_more(self, part: Part) -> "CutPlan":
        """The plan with one more part, beside the others or with all of them laid anew.

        Raises ``ShapeError`` where there is no room for it.
        """
        found = self._beside(part)
        if found is not None and not self.by_shears:
            return replace(self, laid=(*self.laid, PartPlaced(part, found)))
        try:
            return self._all_anew((*(one.part for one in self.laid), part))
        except ShapeError as error:
            raise ShapeError(
                f"There is no room left in {self.piece.code} for another part of "
                f"{part.width:g} × {part.height:g} mm. Move the parts together, or take one out."
            ) from error

    def _beside(self, part: Part) -> Lying | None:
        if part.triangular or part.free:
            pieces = (replace(matched_piece(self.piece), outline=remain) for remain in self.remains)
            return next((found for piece in pieces if (found := fit(part, piece))), None)
        usable = self.ground_for(None, part)
        turns = part.turns_in(self.piece.pattern)
        close = [
            found
            for turn in distinct_turns(turns, usable)
            for spot in self._spots_beside(part)
            if (found := shape.near_on(usable, part.width, part.height, spot, turn=turn))
        ]
        # close to another part, where the rest stays the most useful
        return max(
            close,
            key=lambda found: rough_area(usable.without(found.polygon, self.knife)),
            default=place_on(usable, part.width, part.height, turns),
        )

    def _spots_beside(self, part: Part) -> Iterator[Point]:
        """Where the first corner of a part lies when it lies against another, mm."""
        for one in self.laid:
            left, low, right, high = one.placement.polygon.bounds
            yield right + self.knife, low
            yield left - self.knife - part.width, low
            yield left, high + self.knife
            yield left, low - self.knife - part.height

    def without(self, index: int) -> "CutPlan":
        """The plan without one part; the last stays."""
        if len(self.laid) == 1:
            raise ShapeError("One part must stay. Close the sheet to leave the piece whole.")
        return replace(self, laid=tuple(o for n, o in enumerate(self.laid) if n != index))

    def laid_anew(self) -> "CutPlan":
        """The same parts laid to take as little room as was found.

        Raises ``ShapeError`` where not all of them were laid.
        """
        return self._all_anew(tuple(one.part for one in self.laid))

    def cut_by(self, way: KnifeWay) -> "CutPlan":
        """The plan with cuts taken so far; laid anew where edge-to-edge cuts free no part."""
        plan = replace(self, way=way)
        return plan if plan.fits or not plan.by_shears else plan.laid_anew()

    def _all_anew(self, parts: tuple[Part, ...]) -> "CutPlan":
        if any(part.triangular or part.free for part in parts):
            raise ShapeError(
                "Parts that may be turned freely are laid one by one: move them by hand."
            )
        found = lay_all(
            self.piece.outline,
            [
                RectangleWanted(
                    p.width, p.height, p.turns_in(self.piece.pattern), p.margin, p.sight
                )
                for p in parts
            ],
            gap=self.knife,
            flaws=self.piece.flaws,
            taken=[Polygon(reserved.corners) for reserved in self.held],
            guillotine=self.by_shears,
        )
        laid = [
            PartPlaced(p, lying) for p, lying in zip(parts, found, strict=True) if lying is not None
        ]
        if len(laid) < len(parts):
            how = " by edge-to-edge cuts" if self.by_shears else ""
            raise ShapeError(
                f"Only {len(laid)} of the {len(parts)} parts can be laid{how}. Take one out, or "
                "make the margin less."
            )
        return replace(self, laid=tuple(laid))

    def _with(self, index: int, placement: Lying) -> "CutPlan":
        laid = list(self.laid)
        laid[index] = replace(laid[index], placement=placement)
        return replace(self, laid=tuple(laid))

    # Cutting

    def cutting(self, throw_away: Collection[int] = ()) -> Cutting:
        """The cut as planned; ``throw_away`` numbers the remains that are not worth keeping.

        Raises ``ShapeError`` where a part does not lie rightly.
        """
        if not self.fits:
            raise ShapeError("A part does not fit where it lies. Move it before you cut.")
        first, *more = (
            CutPart(
                purpose=one.part.name or "a part",
                width=one.part.width,
                height=one.part.height,
                corners=one.placement.corners,
            )
            for one in self.laid
        )
        return Cutting(
            code=self.piece.code,
            purpose=first.purpose,
            width=first.width,
            height=first.height,
            corners=first.corners,
            offcuts=tuple(r for n, r in enumerate(self.remains) if n not in throw_away),
            discarded=tuple(r for n, r in enumerate(self.remains) if n in throw_away),
            also=tuple(more),
        )


@lru_cache(maxsize=16)
def _ground(
    outline: Outline, margin: float, flaws: tuple[Flaw, ...], zones: tuple[Zone, ...]
) -> Ground:
    """Kept for the next time: while a part is dragged the piece stays as it is."""
    return ground(outline, margin=margin, flaws=flaws, zones=zones)
