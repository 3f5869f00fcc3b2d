"""Where a part lies in a piece."""

from dataclasses import dataclass
from functools import cached_property
from math import isfinite

from shapely import Polygon

from bindery_stock.errors import ShapeError
from bindery_stock.shape.outline import Point
from bindery_stock.shape.turns import cosine_and_sine


@dataclass(frozen=True)
class Placement:
    """A rectangle lying in a piece."""

    corners: tuple[Point, Point, Point, Point]
    """In the millimetres of the piece, counter-clockwise from the part's own lower-left corner."""
    turn: float
    """Degrees counter-clockwise by which the part was turned from width along x, height along y."""
    tight: bool
    """True where the part has less than 0.05 mm of play."""
    width: float
    """Of the part, mm."""
    height: float
    """Of the part, mm."""

    @cached_property
    def polygon(self) -> Polygon:
        """The part as it lies, for shapely."""
        return Polygon(self.corners)


def placement_at(
    x: float, y: float, width: float, height: float, turn: float, *, tight: bool = False
) -> Placement:
    """The placement whose lower-left corner is at x, y in the frame turned back by ``turn``."""
    cos, sin = cosine_and_sine(turn)
    a, b, c, d = (
        (px * cos - py * sin + 0.0, px * sin + py * cos + 0.0)  # no -0.0
        for px, py in ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    )
    return Placement((a, b, c, d), turn, tight, width, height)


def check_size(width: float, height: float) -> None:
    """Refuse a part that has no size."""
    for name, value in (("width", width), ("height", height)):
        if not isfinite(value) or value <= 0.0:
            raise ShapeError(f"The part's {name} is {value} mm. Give a {name} above nothing.")


def check_margin(margin: float) -> None:
    """Refuse a margin that is no length."""
    if not isfinite(margin) or margin < 0.0:
        raise ShapeError(f"The margin is {margin} mm. Give nothing or more.")


def check_turns(turns: tuple[float, ...]) -> None:
    """Refuse turns that are no angles."""
    if not turns:
        raise ShapeError("No turn is allowed for the part. Allow at least one, such as 0°.")
    for turn in turns:
        if not isfinite(turn):
            raise ShapeError(f"A turn of {turn}° is no angle. Give degrees.")
