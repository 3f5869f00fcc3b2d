"""Laying pieces out in rows, each standing on its row's foot like scraps on a shelf.

Everything is in millimetres with y downward from the top of the hoard; room for words is given in
screen pixels and turned into millimetres at the scale at which the whole hoard is seen.
"""

import math
from collections.abc import Callable, Sequence

from bindery_stock.bench.shelf.layout_values import (
    Heading,
    ShelfGroup,
    ShelfItem,
    ShelfLayout,
    ShelfRow,
    ShelfSpot,
    ShelfWords,
)

GREATEST_SCALE = 2.0
"""Pixels per millimetre: a handful of scraps is not blown up beyond this."""
LEAST_SCALE = 0.01
_WORDS_COST = 0.65
"""Room for words under the pieces is kept where the pieces are still drawn at this share of the
scale they would have without words."""
_TRIES = 8


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
