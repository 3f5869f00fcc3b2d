"""An outline in millimetres, and the flaws inside it."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from math import isfinite

from shapely import Polygon
from shapely.validation import explain_validity

from bindery_stock.errors import ShapeError

Point = tuple[float, float]
Ring = tuple[Point, ...]


class FlawKind(StrEnum):
    """What is wrong with a place in a piece; each kind says where it may lie in a part."""

    HOLE = "hole"
    WEAK = "weak"
    STAIN = "stain"
    STAMPING = "stamping"
    GLUE = "glue"


@dataclass(frozen=True)
class Flaw:
    """A flawed place: its kind and its ring in the millimetres of the piece.

    Raises ``ShapeError`` where the ring has fewer than three corners or crosses itself.
    """

    kind: FlawKind
    ring: Ring

    def __post_init__(self) -> None:
        """Refuse what is not a simple ring."""
        object.__setattr__(self, "ring", _ring(self.ring, f"The {self.kind}"))
        _simple(self.polygon, f"The {self.kind}")

    @cached_property
    def polygon(self) -> Polygon:
        """The same ring for shapely."""
        return Polygon(self.ring)


@dataclass(frozen=True)
class Outline:
    """A piece's true shape: a ring of points in mm, y up the warp, with holes.

    Raises ``ShapeError`` where the ring crosses itself, a hole leaves the ring, the area is
    nothing, or a coordinate is not a number.
    """

    exterior: Ring
    holes: tuple[Ring, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what is not a simple polygon."""
        object.__setattr__(self, "exterior", _ring(self.exterior, "The outline"))
        holes = tuple(_ring(hole, "A hole in the outline") for hole in self.holes)
        object.__setattr__(self, "holes", holes)
        _simple(self.polygon, "The outline")

    @classmethod
    def from_polygon(cls, polygon: Polygon) -> "Outline":
        """Take over a shapely polygon; rings are opened (no repeated last point)."""
        return cls(
            tuple((x, y) for x, y in polygon.exterior.coords[:-1]),
            tuple(tuple((x, y) for x, y in ring.coords[:-1]) for ring in polygon.interiors),
        )

    @cached_property
    def polygon(self) -> Polygon:
        """The same shape for shapely."""
        return Polygon(self.exterior, self.holes)

    @property
    def area(self) -> float:
        """Area in mm², holes taken off."""
        return float(self.polygon.area)

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y in mm."""
        left, low, right, high = self.polygon.bounds
        return (left, low, right, high)

    @property
    def width(self) -> float:
        """Extent across the warp in mm."""
        return self.bounds[2] - self.bounds[0]

    @property
    def height(self) -> float:
        """Extent along the warp in mm."""
        return self.bounds[3] - self.bounds[1]


def _ring(points: Iterable[Point], what: str) -> Ring:
    try:
        ring = tuple((float(x), float(y)) for x, y in points)
    except (TypeError, ValueError):
        raise ShapeError(f"{what} is a list of corners, each with an x and a y in mm.") from None
    if len(ring) > 1 and ring[0] == ring[-1]:
        ring = ring[:-1]
    if len(ring) < 3:
        raise ShapeError(f"{what} has only {len(ring)} corners. Mark at least three.")
    if not all(isfinite(x) and isfinite(y) for x, y in ring):
        raise ShapeError(f"{what} has a corner that is not a number. Mark it again.")
    return ring


def _simple(polygon: Polygon, what: str) -> None:
    if not polygon.is_valid:
        raise ShapeError(
            f"{what} is not a simple shape ({explain_validity(polygon)}). "
            "Drag the points so that no two sides cross."
        )
    if polygon.area <= 0.0:
        raise ShapeError(f"{what} encloses nothing. Mark at least three corners.")
