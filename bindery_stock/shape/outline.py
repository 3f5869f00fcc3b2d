"""An outline in millimetres, and the flaws inside it."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

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
    """A flawed place: its kind and its ring in the millimetres of the piece."""

    kind: FlawKind
    ring: Ring


@dataclass(frozen=True)
class Outline:
    """A piece's true shape: a ring of points in mm, y up the warp, with holes.

    Raises ``ShapeError`` where the ring crosses itself, a hole leaves the ring, or the area is
    nothing.
    """

    exterior: Ring
    holes: tuple[Ring, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what is not a simple polygon."""
        object.__setattr__(self, "exterior", _ring(self.exterior))
        object.__setattr__(self, "holes", tuple(_ring(h) for h in self.holes))
        if not self.polygon.is_valid:
            raise ShapeError(
                f"The outline is not a simple shape ({explain_validity(self.polygon)}). "
                "Drag the points so that no two sides cross."
            )
        if self.polygon.area <= 0.0:
            raise ShapeError("The outline encloses nothing. Mark at least three corners.")

    @cached_property
    def polygon(self) -> Polygon:
        """The same shape for shapely."""
        return Polygon(self.exterior, self.holes)


def _ring(points: Ring) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)
