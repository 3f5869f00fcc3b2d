"""Laying pieces out in rows, each standing on its row's foot like scraps on a shelf.

Everything is in millimetres with y downward from the top of the hoard; room for words is given in
screen pixels and turned into millimetres at the scale at which the whole hoard is seen.
"""

import math
from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

GREATEST_SCALE = 2.0
"""Pixels per millimetre: a handful of scraps is not blown up beyond this."""
LEAST_SCALE = 0.01
_WORDS_COST = 0.65
"""Room for words under the pieces is kept where the pieces are still drawn at this share of the
scale they would have without words."""
_TRIES = 8


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


def lay(
    lots: Sequence[ShelfGroup],
    row_width: float,
    scale: float,
    words: ShelfWords,
    *,
    written: bool = True,
) -> ShelfLayout:
    """Lay the lots in rows no wider than ``row_width`` mm, unless one thing alone is wider.

    ``written`` keeps room for words under the pieces when they are seen at ``scale``.
    """
    shelf = _Shelf(row_width, scale, words, written=written)
    return shelf.laid(shelf.rows([_Columns(lot) for lot in lots if lot.items]))


def lay_to_fit(
    lots: Sequence[ShelfGroup], view: tuple[float, float], words: ShelfWords
) -> ShelfLayout:
    """Lay the lots so that the whole hoard is seen as large as it can be in ``view`` pixels."""
    columns = [_Columns(lot) for lot in lots if lot.items]
    width, height = max(view[0], 1.0), max(view[1], 1.0)

    def shelf_at(scale: float, *, written: bool) -> _Shelf:
        return _Shelf(width / scale, scale, words, written=written)

    def greatest(*, written: bool) -> float:
        def is_seen_whole(scale: float) -> bool:
            shelf = shelf_at(scale, written=written)
            return shelf.height(columns) * scale <= height

        return _greatest_scale(is_seen_whole, _perfect_scale(columns, width, height))

    bare, written = greatest(written=False), greatest(written=True)
    is_written = written >= bare * _WORDS_COST
    shelf = shelf_at(written if is_written else bare, written=is_written)
    return shelf.laid(shelf.rows(columns))


def _perfect_scale(columns: Sequence["_Columns"], width: float, height: float) -> float:
    """The scale if no room were lost between the pieces."""
    area = sum(w * h for lot in columns for w, h in zip(lot.widths, lot.heights, strict=True))
    return float((width * height / max(area, 1.0)) ** 0.5)


def _greatest_scale(is_seen_whole: Callable[[float], bool], perfect: float) -> float:
    high = min(perfect, GREATEST_SCALE)
    if is_seen_whole(high):
        return high
    low = high * 0.5
    while not is_seen_whole(low) and low > LEAST_SCALE:
        low, high = low / 2, low
    for _ in range(_TRIES):
        middle = (low * high) ** 0.5
        if is_seen_whole(middle):
            low = middle
        else:
            high = middle
    return low


class _Columns:
    """A lot with its sizes in columns, so that rows are broken quickly."""

    def __init__(self, lot: ShelfGroup) -> None:
        self.lot = lot
        self.widths = [item.width for item in lot.items]
        self.heights = [item.height for item in lot.items]
        self.words = [item.words for item in lot.items]


Segment = tuple[_Columns, int, int]
"""Things of a lot that lie in one row: from the first to before the last."""


class _Shelf:
    """How much room there is at one scale; all in mm."""

    def __init__(self, row_width: float, scale: float, words: ShelfWords, *, written: bool) -> None:
        self._scale = scale
        self._row_width = row_width
        self._gap = (words.gap if written else words.least_gap) / scale
        self._row_gap = (words.gap if written else words.least_row_gap) / scale
        self._caption = words.caption_height / scale if written else 0.0
        self._word = 1.0 / scale if written else 0.0
        self._heading = words.heading_height / scale
        self._character = words.character / scale

    def _cells(self, lot: _Columns) -> list[float]:
        word, gap = self._word, self._gap
        return [max(w, t * word) + gap for w, t in zip(lot.widths, lot.words, strict=True)]

    def rows(self, columns: Sequence[_Columns]) -> list[list[Segment]]:
        """Break the lots into rows; a lot that has room beside the one before shares its row."""
        rows: list[list[Segment]] = []
        row: list[Segment] = []
        x = self._gap
        for lot in columns:
            cells = self._cells(lot)
            if row:
                x += self._gap * 2
                needs = max(sum(cells), len(lot.lot.heading) * self._character)
                if x + needs > self._row_width:
                    rows.append(row)
                    row, x = [], self._gap
            first = 0
            for number, cell in enumerate(cells):
                if x + cell > self._row_width and number > first:
                    rows.append([*row, (lot, first, number)])
                    row, x, first = [], self._gap, number
                x += cell
            row.append((lot, first, len(cells)))
        return [*rows, row] if row else rows

    def height(self, columns: Sequence[_Columns]) -> float:
        """The height of the whole; more than anything where one thing is wider than a row."""
        if any(max(lot.widths) + 2 * self._gap > self._row_width for lot in columns):
            return math.inf
        return self._row_gap + sum(self._row_height(row) for row in self.rows(columns))

    def _row_height(self, row: Sequence[Segment]) -> float:
        return self._head(row) + _tallest(row) + self._caption + self._row_gap

    def _head(self, row: Sequence[Segment]) -> float:
        headed = any(lot.lot.heading and not first for lot, first, _ in row)
        return self._heading if headed else 0.0

    def laid(self, rows: Sequence[Sequence[Segment]]) -> ShelfLayout:
        """Give everything its place."""
        made: list[ShelfRow] = []
        headings: list[Heading] = []
        y = self._row_gap
        for number, row in enumerate(rows):
            foot = y + self._head(row) + _tallest(row)
            spots = self._spots(row, number, foot, headings)
            made.append(ShelfRow(y, foot + self._caption, tuple(spots)))
            y += self._row_height(row)
        right = max([s.x + s.width for row in made for s in row.spots], default=0.0)
        right = max([right, *(h.x + h.width for h in headings)])
        room_below = self._caption + self._row_gap
        return ShelfLayout(
            tuple(made), tuple(headings), right + self._gap, y, self._scale, room_below
        )

    def _spots(
        self, row: Sequence[Segment], number: int, foot: float, headings: list[Heading]
    ) -> list[ShelfSpot]:
        x = self._gap
        spots: list[ShelfSpot] = []
        for lot, first, last in row:
            start, heading = x, lot.lot.heading
            for item in sorted(lot.lot.items[first:last], key=_rank):
                cell = max(item.width, item.words * self._word)
                left = x + (cell - item.width) / 2
                top = foot - item.height
                spots.append(ShelfSpot(item.id, left, top, item.width, item.height, number))
                x += cell + self._gap
            if heading and not first:
                room = self._row_width - self._gap - start
                width = max(x - self._gap - start, min(len(heading) * self._character, room))
                headings.append(Heading(heading, start, foot - _tallest(row), width))
                x = max(x, start + width)
            x += self._gap * 2
        return spots


def _tallest(row: Sequence[Segment]) -> float:
    return max(max(lot.heights[first:last]) for lot, first, last in row)


def _rank(item: ShelfItem) -> float:
    return item.rank
