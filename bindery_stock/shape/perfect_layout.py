"""Rectangles that fill a sheet without waste: found, or known not to be there, by depth-first."""

from collections.abc import Callable, Sequence

from bindery_stock.shape.depth_first import DepthFirst, SeenWay, scales, seen_ways
from bindery_stock.shape.sheet_parts import SheetSpot, Size

_MOST_GAPS = 150_000
_GAPS_A_LOOK = 100  # counted as one half-filled sheet looked at


def lay_without_waste(
    sheet: Size, ways: Sequence[Sequence[Size]], go_on: Callable[[int], bool]
) -> list[SheetSpot | None]:
    """Where parts lie that fill ``sheet`` wholly; all ``None`` where no such way was found."""

    def goes_on(gaps: int) -> bool:
        return gaps <= _MOST_GAPS and (gaps % _GAPS_A_LOOK != 0 or go_on(1))

    scale = scales(sheet, ways)
    search = DepthFirst(sheet, scale, _broadest, goes_on)
    search.fill([(0.0, 0.0, sheet[0])], seen_ways(sheet, ways, scale), 0.0)
    spots: list[SheetSpot | None] = [None] * len(ways)
    for seen, x, y in search.found or ():
        spots[seen.part] = SheetSpot(x, y, seen.way)
    return spots


def _broadest(seen: SeenWay, _waste: float, _flush: float) -> float:
    return -seen.width * seen.whole - seen.height
