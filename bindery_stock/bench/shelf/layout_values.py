"""What is laid out on the shelf, and where each thing of it lies; mm, y downward."""

from bisect import bisect_left
from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True, slots=True)
class ShelfItem:
    """One thing to lay: its size, and its rank from left to right within a row.

    ``words`` is the width in pixels of what is written under it.
    """

    id: int
    width: float
    height: float
    rank: float = 0.0
    words: float = 0.0


@dataclass(frozen=True, slots=True)
class ShelfGroup:
    """Things that lie together under one heading."""

    heading: str
    items: tuple[ShelfItem, ...]


@dataclass(frozen=True, slots=True)
class ShelfSpot:
    """Where a thing lies: its top left corner and size, and its row."""

    id: int
    x: float
    y: float
    width: float
    height: float
    row: int

    @property
    def middle(self) -> float:
        """x of its middle."""
        return self.x + self.width / 2


@dataclass(frozen=True, slots=True)
class Heading:
    """A group's heading: left end and foot of its words, and how wide its group is."""

    text: str
    x: float
    y: float
    width: float


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One row: its span from top to foot, captions included, and its things from left to right."""

    top: float
    foot: float
    spots: tuple[ShelfSpot, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfWords:
    """Room in pixels for what is written, and between things."""

    caption_height: float = 18.0
    heading_height: float = 34.0
    gap: float = 12.0
    least_gap: float = 4.0
    least_row_gap: float = 9.0
    """Between things and between rows where no room is kept for words."""
    character: float = 9.0
    """Width of a heading's character."""


@dataclass(frozen=True)
class ShelfLayout:
    """The hoard as it lies."""

    rows: tuple[ShelfRow, ...]
    headings: tuple[Heading, ...]
    width: float
    height: float
    scale: float
    """Pixels per millimetre at which it was laid to be seen whole."""
    room_below: float
    """Millimetres between the foot of a row's pieces and the next row: room for their words."""

    @cached_property
    def spots(self) -> dict[int, ShelfSpot]:
        """Where each thing lies, by its id, in reading order."""
        return {spot.id: spot for row in self.rows for spot in row.spots}

    @cached_property
    def _feet(self) -> list[float]:
        return [row.foot for row in self.rows]

    def within(self, left: float, top: float, right: float, foot: float) -> list[ShelfSpot]:
        """The things that lie at least partly in a rectangle."""
        found: list[ShelfSpot] = []
        for row in self.rows[bisect_left(self._feet, top) :]:
            if row.top > foot:
                break
            found += [s for s in row.spots if s.x <= right and s.x + s.width >= left]
        return found

    def beside(self, thing: int, step: int) -> int:
        """The thing ``step`` places further on in reading order; stays at the ends."""
        order = list(self.spots)
        return order[min(max(order.index(thing) + step, 0), len(order) - 1)]

    def across(self, thing: int, rows: int) -> int:
        """The nearest thing ``rows`` rows further down (up if negative); stays at the ends."""
        here = self.spots[thing]
        row = min(max(here.row + rows, 0), len(self.rows) - 1)
        if row == here.row:
            return thing
        return min(self.rows[row].spots, key=lambda spot: abs(spot.middle - here.middle)).id
