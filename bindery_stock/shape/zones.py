"""Where in a part a flaw may lie: a stain under the old cloth is fine, a hole in a joint is not."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import isfinite

from bindery_stock.errors import ShapeError
from bindery_stock.shape.outline import FlawKind

_ROUNDING = 1e-6  # mm

Box = tuple[float, float, float, float]
"""Left, low, right, high in mm."""


class Sight(StrEnum):
    """Whether a zone of a part is seen on the finished book."""

    SHOWN = "shown"
    HIDDEN = "hidden"


@dataclass(frozen=True)
class Zone:
    """A sub-rectangle of a part, in mm from the part's own lower-left corner."""

    sight: Sight
    left: float
    low: float
    right: float
    high: float

    def __post_init__(self) -> None:
        """Refuse a zone without size."""
        sides = (self.left, self.low, self.right, self.high)
        if not all(map(isfinite, sides)) or self.right <= self.left or self.high <= self.low:
            raise ShapeError("A zone of the part has no size. Give left, low, right, high in mm.")


FlawRule = Mapping[FlawKind, frozenset[Sight]]
"""For each kind of flaw the zones in which it may lie; a kind left out may lie nowhere."""

WHERE_FLAWS_MAY_LIE: FlawRule = {
    # Common practice, no source. What weakens the cloth is kept out everywhere, since hidden cloth
    # carries the joint; what only spoils its looks may lie under the old cloth.
    FlawKind.HOLE: frozenset(),
    FlawKind.WEAK: frozenset(),
    FlawKind.STAIN: frozenset({Sight.HIDDEN}),
    FlawKind.STAMPING: frozenset({Sight.HIDDEN}),
    FlawKind.GLUE: frozenset({Sight.HIDDEN}),
}


def kept_clear(
    kind: FlawKind, zones: Sequence[Zone], width: float, height: float, rule: FlawRule
) -> list[Box]:
    """The boxes of a part of ``width`` × ``height`` mm that a flaw of ``kind`` must not touch.

    Where zones overlap, shown prevails; what no zone covers counts as shown.
    """
    allowed = rule.get(kind, frozenset())
    xs = _stops([x for zone in zones for x in (zone.left, zone.right)], width)
    ys = _stops([y for zone in zones for y in (zone.low, zone.high)], height)
    boxes: list[Box] = []
    for low, high in pairwise(ys):
        row = [
            (left, right)
            for left, right in pairwise(xs)
            if _sight(zones, (left + right) / 2.0, (low + high) / 2.0) not in allowed
        ]
        boxes.extend((left, low, right, high) for left, right in _joined(row))
    return boxes


def _stops(values: list[float], end: float) -> list[float]:
    """The sides of the zones from 0 to ``end``; those apart by rounding alone are one.

    Else a hidden zone as wide as the part would leave a hair of the part uncovered, which shows.
    """
    stops = [0.0]
    for value in sorted(values):
        if stops[-1] + _ROUNDING < value < end - _ROUNDING:
            stops.append(value)
    return [*stops, end]


def _sight(zones: Sequence[Zone], x: float, y: float) -> Sight:
    over = {z.sight for z in zones if z.left < x < z.right and z.low < y < z.high}
    return Sight.HIDDEN if over == {Sight.HIDDEN} else Sight.SHOWN


def _joined(row: list[tuple[float, float]]) -> list[tuple[float, float]]:
    joined: list[tuple[float, float]] = []
    for left, right in row:
        if joined and joined[-1][1] == left:
            joined[-1] = (joined[-1][0], right)
        else:
            joined.append((left, right))
    return joined
