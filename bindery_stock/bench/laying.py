"""Laying pieces out in rows, each standing on its row's foot like scraps on a shelf.

Everything is in millimetres with y downward from the top of the hoard; room for words is given in
screen pixels and turned into millimetres at the scale at which the whole hoard is seen.
"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

GREATEST_SCALE = 2.0
"""Pixels per millimetre: a handful of scraps is not blown up beyond this."""
LEAST_SCALE = 0.01
_WORDS_COST = 0.6
"""Room for words under the pieces is kept where the pieces are still drawn at this share of the
scale they would have without words."""
_TRIES = 9


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to lay: its size, and its rank from left to right within a row.

    ``words`` is the width in pixels of what is written under it.
    """

    id: int
    width: float
    height: float
    rank: float = 0.0
    words: float = 0.0


@dataclass(frozen=True, slots=True)
class Lot:
    """Things that lie together under one heading."""

    heading: str
    items: tuple[Item, ...]
    own_row: bool = False
    """Whether it begins a row even where there is room beside the lot before."""


@dataclass(frozen=True, slots=True)
class Spot:
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
class Row:
    """One row: its span from top to foot, captions included, and its things from left to right."""

    top: float
    foot: float
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Room in pixels for what is written, and between things."""

    caption_height: float = 18.0
    heading_height: float = 34.0
    gap: float = 12.0
    least_gap: float = 4.0
    """Where no room is kept for words."""
    character: float = 9.0
    """Width of a heading's character."""


@dataclass(frozen=True)
class Laid:
    """The hoard as it lies."""

    rows: tuple[Row, ...]
    headings: tuple[Heading, ...]
    width: float
    height: float
    scale: float
    """Pixels per millimetre at which it was laid to be seen whole."""
    room_below: float
    """Millimetres between the foot of a row's pieces and the next row: room for their words."""

    @cached_property
    def spots(self) -> dict[int, Spot]:
        """Where each thing lies, by its id, in reading order."""
        return {spot.id: spot for row in self.rows for spot in row.spots}

    @cached_property
    def _feet(self) -> list[float]:
        return [row.foot for row in self.rows]

    def within(self, left: float, top: float, right: float, foot: float) -> list[Spot]:
        """The things that lie at least partly in a rectangle."""
        found: list[Spot] = []
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


def lay(
    lots: Sequence[Lot], row_width: float, scale: float, words: Words, *, written: bool = True
) -> Laid:
    """Lay the lots in rows no wider than ``row_width`` mm.

    ``written`` keeps room for words under the pieces when they are seen at ``scale``.
    """
    shelf = _Shelf(row_width, scale, words, written=written)
    for lot in lots:
        if lot.items:
            shelf.begin(lot)
            for item in lot.items:
                shelf.add(item)
    return shelf.laid()


def lay_to_fit(lots: Sequence[Lot], view: tuple[float, float], words: Words) -> Laid:
    """Lay the lots so that the whole hoard is seen as large as it can be in ``view`` pixels."""
    bare = _as_large_as_can_be(lots, view, words, written=False)
    written = _as_large_as_can_be(lots, view, words, written=True)
    return written if written.scale >= bare.scale * _WORDS_COST else bare


def _as_large_as_can_be(
    lots: Sequence[Lot], view: tuple[float, float], words: Words, *, written: bool
) -> Laid:
    width, height = max(view[0], 1.0), max(view[1], 1.0)

    def attempt(scale: float) -> Laid:
        return lay(lots, width / scale, scale, words, written=written)

    def is_seen_whole(laid: Laid) -> bool:
        return laid.width * laid.scale <= width and laid.height * laid.scale <= height

    best = attempt(GREATEST_SCALE)
    if is_seen_whole(best):
        return best
    low, high = _bracket(lots, width * height)
    best = attempt(low)
    while not is_seen_whole(best) and low > LEAST_SCALE:
        low, high = low / 2, low
        best = attempt(low)
    for _ in range(_TRIES):
        middle = (low * high) ** 0.5
        tried = attempt(middle)
        if is_seen_whole(tried):
            low, best = middle, tried
        else:
            high = middle
    return best


def _bracket(lots: Sequence[Lot], room: float) -> tuple[float, float]:
    area = sum(item.width * item.height for lot in lots for item in lot.items)
    perfect = min((room / max(area, 1.0)) ** 0.5, GREATEST_SCALE)
    return perfect * 0.4, perfect


class _Shelf:
    """Rows under way."""

    def __init__(self, row_width: float, scale: float, words: Words, *, written: bool) -> None:
        self._scale = scale
        self._row_width = row_width
        self._gap = (words.gap if written else words.least_gap) / scale
        self._caption = words.caption_height / scale if written else 0.0
        self._word = 1.0 / scale if written else 0.0
        self._heading = words.heading_height / scale
        self._character = words.character / scale
        self._rows: list[Row] = []
        self._headings: list[Heading] = []
        self._segments: list[tuple[str, list[Item]]] = []
        self._x = self._y = self._gap

    def _cell(self, item: Item) -> float:
        return max(item.width, item.words * self._word) + self._gap

    def begin(self, lot: Lot) -> None:
        """Start a group: in the same row where all of it has room there, else in a new one."""
        if self._segments:
            needs = max(sum(map(self._cell, lot.items)), len(lot.heading) * self._character)
            self._x += self._gap * 2
            if lot.own_row or self._x + needs > self._row_width:
                self._end_row()
        self._segments.append((lot.heading, []))

    def add(self, item: Item) -> None:
        cell = self._cell(item)
        if self._x + cell > self._row_width and self._segments[-1][1]:
            self._end_row()
            self._segments.append(("", []))
        self._segments[-1][1].append(item)
        self._x += cell

    def _end_row(self) -> None:
        headed = any(heading for heading, _ in self._segments)
        tallest = max(item.height for _, items in self._segments for item in items)
        foot = self._y + (self._heading if headed else 0.0) + tallest
        x, spots, row = self._gap, [], len(self._rows)
        for heading, items in self._segments:
            start = x
            for item in sorted(items, key=lambda item: item.rank):
                inset = (self._cell(item) - self._gap - item.width) / 2
                y = foot - item.height
                spots.append(Spot(item.id, x + inset, y, item.width, item.height, row))
                x += self._cell(item)
            if heading:
                room = self._row_width - 2 * self._gap - start
                x = max(x, start + min(len(heading) * self._character, room))
                self._headings.append(Heading(heading, start, foot - tallest, x - start))
            x += self._gap * 2
        self._rows.append(Row(self._y, foot + self._caption, tuple(spots)))
        self._y = foot + self._caption + self._gap
        self._segments = []
        self._x = self._gap

    def laid(self) -> Laid:
        if self._segments:
            self._end_row()
        right = max((s.x + s.width for row in self._rows for s in row.spots), default=0.0)
        right = max([right, *(h.x + h.width for h in self._headings)])
        return Laid(
            tuple(self._rows),
            tuple(self._headings),
            right + self._gap,
            self._y,
            self._scale,
            self._caption + self._gap,
        )
