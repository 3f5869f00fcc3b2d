"""Where a long text is broken into pages.

The text is set once, without pages, and cut afterwards between what must not be parted. What has to
stay together is told in three strengths: a line is never cut through; a row, a caution, a picture
with its words stay whole on any page that holds them; a heading stays with what it heads. Where a
page cannot grant the strongest, it grants the next.
"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

_NEAR = 1e-3
"""Positions nearer than this are one."""


@dataclass(frozen=True, slots=True)
class Keep:
    """A stretch of the text, from its top to its bottom, that is not to be parted."""

    top: float
    bottom: float


@dataclass(frozen=True, slots=True)
class TableHead:
    """The heading of a table, repeated over what of the table stands on a later page."""

    top: float
    bottom: float
    end: float
    """Where the table ends."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A text as it was set: its end, and everything that holds together in it."""

    end: float
    lines: tuple[Keep, ...]
    whole: tuple[Keep, ...]
    joined: tuple[Keep, ...]
    heads: tuple[TableHead, ...] = ()


@dataclass(frozen=True, slots=True)
class PageCut:
    """What of the text stands on one page, below the heading of its table where one goes on."""

    top: float
    bottom: float
    head: TableHead | None = None


class _Holds:
    """Stretches of one strength that a page of this height can hold."""

    def __init__(self, keeps: Sequence[Keep], room: float = inf) -> None:
        held = (keep for keep in keeps if keep.bottom - keep.top <= room + _NEAR)
        self._keeps = sorted(held, key=lambda keep: keep.top)
        self._tops = [keep.top for keep in self._keeps]
        self._longest = max((keep.bottom - keep.top for keep in self._keeps), default=0.0)

    def over(self, cut: float) -> float:
        """The top of the stretch that ``cut`` would part, or the cut itself."""
        first = bisect_left(self._tops, cut - self._longest - _NEAR)
        last = bisect_left(self._tops, cut - _NEAR)
        parted = (k.top for k in self._keeps[first:last] if k.bottom > cut + _NEAR)
        return min(parted, default=cut)

    def next_top(self, cut: float, end: float) -> float:
        """Where the first stretch at or below ``cut`` begins: no page begins with a gap."""
        at = bisect_left(self._tops, cut - _NEAR)
        return self._tops[at] if at < len(self._tops) else end


def broken(text: Measured, room: float) -> tuple[PageCut, ...]:
    """The pages of a text, each no higher than ``room``; every part of it on one page, once.

    A stretch higher than a page is parted between its lines. Raises ``ValueError`` where a page has
    no room at all.
    """
    if room <= 0:
        raise ValueError("a page has no room")
    holds = [_Holds(keeps, room) for keeps in (text.lines, text.whole, text.joined)]
    strengths = [holds[:count] for count in (3, 2, 1)]
    anything = _Holds((*text.lines, *text.whole))
    pages: list[PageCut] = []
    start = 0.0
    while start < text.end - _NEAR or not pages:
        head = next((h for h in text.heads if h.bottom - _NEAR <= start < h.end - _NEAR), None)
        taken = head.bottom - head.top if head else 0.0
        if taken > room / 2:
            head, taken = None, 0.0  # such a heading would leave nothing for its rows
        cut = _cut(strengths, start, start + room - taken, text.end)
        pages.append(PageCut(start, cut, head))
        start = cut if anything.over(cut) < cut else anything.next_top(cut, text.end)
    return tuple(pages)


def _cut(strengths: Sequence[Sequence[_Holds]], start: float, limit: float, end: float) -> float:
    """The lowest place above ``limit`` at which the page may end."""
    if limit >= end - _NEAR:
        return end
    for strength in strengths:
        cut = limit
        while (higher := min(hold.over(cut) for hold in strength)) < cut:
            cut = higher
        if cut > start + _NEAR:
            return cut
    return limit
