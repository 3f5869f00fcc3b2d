"""The part of a piece that may be used, and the proof that a part lies in it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bindery_stock.shape.inner_fit import polygons_of
from bindery_stock.shape.outline import Flaw, FlawKind, Outline, Point
from bindery_stock.shape.placement import check_margin
from bindery_stock.shape.turns import Points
from bindery_stock.shape.zones import WHERE_FLAWS_MAY_LIE, Box, FlawRule, Sight, Zone, kept_clear

EXACT = 1e-9
"""Rounding of coordinates of some hundred millimetres stays well below this, mm."""
_ARC_STEPS = 64  # per quarter: arcs round inner corners are then within 0.0001 of the margin


@dataclass(frozen=True)
class Spared:
    """A flaw that only some zones of the part must keep clear of."""

    kind: FlawKind
    polygon: Polygon
    grown: BaseGeometry
    """The flaw with the margin about it."""


@dataclass(frozen=True)
class Ground:
    """What of a piece may be used for one kind of part."""

    free: BaseGeometry
    """Polygon or polygons without holes and without the flaws to be kept clear of everywhere."""
    margin: float
    """Least distance in mm that the part keeps from the edge of ``free``."""
    polygons: tuple[Polygon, ...]
    """The connected parts of ``free`` drawn in by the margin, without what is taken."""
    spared: tuple[Spared, ...] = ()
    zones: tuple[Zone, ...] = ()
    rule: FlawRule | None = None
    taken: BaseGeometry | None = None
    """Parts already laid in the piece, with the knife's width about them."""

    @property
    def has_an_up(self) -> bool:
        """Whether a part turned by half lies differently: it does where zones matter."""
        return bool(self.spared)

    def without(self, part: Polygon, gap: float = 0.0) -> "Ground":
        """The ground left beside a part laid in it, ``gap`` mm kept about the part."""
        grown = shapely.buffer(part, gap, join_style="mitre") if gap else part
        taken = grown if self.taken is None else shapely.union(self.taken, grown)
        left = [shapely.difference(polygon, grown) for polygon in self.polygons]
        polygons = tuple(piece for each in left for piece in polygons_of(each))
        return replace(self, polygons=polygons, taken=taken)

    def clear_boxes(self, width: float, height: float) -> list[tuple[Spared, list[Box]]]:
        """For each spared flaw the boxes of a part that must not touch it."""
        rule = self.rule or {}
        return [(s, kept_clear(s.kind, self.zones, width, height, rule)) for s in self.spared]

    def proves(self, corners: Sequence[Point] | Points, slack: float) -> bool:
        """Whether the rectangle, made smaller by ``slack`` on every side, lies rightly."""
        origin, (bx, by), _, (dx, dy) = ((float(x), float(y)) for x, y in corners)
        across, along = (bx - origin[0], by - origin[1]), (dx - origin[0], dy - origin[1])
        width, height = hypot(*across), hypot(*along)
        frame = (across[0] / width, across[1] / width), (along[0] / height, along[1] / height)
        if not self.proves_shape(_box(origin, frame, (0.0, 0.0, width, height), slack)):
            return False
        return all(
            self._clear(_box(origin, frame, box, slack), spared.polygon)
            for spared, boxes in self.clear_boxes(width, height)
            for box in boxes
        )

    def proves_shape(self, part: Polygon) -> bool:
        """Whether ``part`` lies in the free ground, by the margin, beside what is taken."""
        if not shapely.covers(self.free, part):
            return False
        if self.taken is not None and shapely.intersects(self.taken, part):
            return False
        if self.margin == 0.0:
            return True
        return float(shapely.distance(self.free.boundary, part)) >= self.margin

    def _clear(self, part: Polygon, flaw: Polygon) -> bool:
        if self.margin == 0.0:
            return not shapely.intersects(part, flaw)
        return float(shapely.distance(part, flaw)) >= self.margin


def ground(
    outline: Outline,
    *,
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
    zones: Sequence[Zone] = (),
    rule: FlawRule = WHERE_FLAWS_MAY_LIE,
) -> Ground:
    """What of ``outline`` may be used by a part with these ``zones``.

    Without zones the whole part counts as shown. Raises ``ShapeError`` for a margin below nothing.
    """
    check_margin(margin)
    seen = {zone.sight for zone in zones} if zones else {Sight.SHOWN}
    avoided = [flaw for flaw in flaws if not rule.get(flaw.kind, frozenset()) & seen]
    spared = [flaw for flaw in flaws if flaw not in avoided] if zones else []
    free: BaseGeometry = outline.polygon
    if avoided:
        free = shapely.difference(free, shapely.union_all([flaw.polygon for flaw in avoided]))
    drawn_in = shapely.buffer(free, -margin, quad_segs=_ARC_STEPS) if margin else free
    shapely.prepare(free)
    return Ground(
        free,
        margin,
        tuple(polygons_of(drawn_in)),
        tuple(_spared(flaw, margin) for flaw in spared),
        tuple(zones),
        rule,
    )


def _spared(flaw: Flaw, margin: float) -> Spared:
    grown = shapely.buffer(flaw.polygon, margin, quad_segs=_ARC_STEPS) if margin else flaw.polygon
    return Spared(flaw.kind, flaw.polygon, grown)


def _box(origin: Point, frame: tuple[Point, Point], box: Box, slack: float) -> Polygon:
    """A box of a part as it lies, smaller by ``slack`` all round."""
    left, low, right, high = box[0] + slack, box[1] + slack, box[2] - slack, box[3] - slack
    (ax, ay), (bx, by), (ox, oy) = *frame, origin
    if (ax, ay, bx, by) == (1.0, 0.0, 0.0, 1.0):  # mostly; and made the quickest
        return shapely.box(ox + left, oy + low, ox + right, oy + high)
    corners = ((left, low), (right, low), (right, high), (left, high))
    return Polygon([(ox + x * ax + y * bx, oy + x * ay + y * by) for x, y in corners])
