"""Several rectangles in one rectangular sheet: a search that widens for as long as it may.

Quick rules first; then a beam that starts narrow and doubles its width. Each width is tried with
several weights, from either side of the sheet, and again from the middle of the best layout found.
By turns with them the best layout is bettered: part of it is taken up and laid anew.
"""

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from bindery_stock.shape.beam import GIVEN_UP, Beam, BeamLevel, Weights
from bindery_stock.shape.boards import Boards
from bindery_stock.shape.perfect_layout import lay_without_waste
from bindery_stock.shape.quick_rules import OrderSearch, QuickRules
from bindery_stock.shape.refill import Refill
from bindery_stock.shape.sheet_parts import SheetParts, SheetSpot, Size
from bindery_stock.shape.skylines import Skylines

_CELLS = 2_000_000  # sheets × columns carried at a time: some hundred megabytes
_BEAM = 150  # looks that each beam counts as, however soon it ends
_LOOKS_AN_ORDER = 40  # a quick rule takes about as long as so many looks
_WEIGHTS: tuple[Weights, ...] = ((3.0, 0.3, 1.0, 1.0), (1.2, 0.2, 0.3, 1.0), (3.0, 0.0, 1.0, 0.5))
"""Of a part's area for each part, less for a flush side; how much large parts go first; and how
much what must go to waste counts. Others are drawn after these."""
_LIKELY: tuple[Weights, Weights] = ((0.8, 0.0, 0.0, 0.3), (5.0, 0.4, 1.5, 1.5))
_FEW = 40
_PERFECT_PARTS = 24
"""Of more than so many a layout without waste is not found in any time worth taking."""
_PERFECT = 1e-6  # share of a sheet: with less to spare a layout without waste is looked for
_BEAM_A_REFILL = 2  # so many times as long for beams as for bettering what was found
_SOON_BOUNDED = 12  # parts; of more the bound takes longer than the quick rules
_FIRST_REFILL = 1_600  # looks, before the first beam
_ORDERS = (0.1, 1.0)
"""Time for other orders of the quick rules beside that of the beams: of few parts, and else."""
_WIDE = 128
"""Beams double up to this width, and grow slowly from there on: other weights find more."""


def fill_sheet(
    size: Size,
    ways: Sequence[Sequence[Size]],
    *,
    guillotine: bool,
    go_on: Callable[[int], bool],
    enough: Callable[[Sequence[SheetSpot | None]], bool],
) -> list[SheetSpot | None]:
    """Where each part lies in a sheet of that size, as much area as is found; ``None`` if not.

    ``ways`` gives each part the sizes it may lie in, width × height in mm. ``go_on`` is told how
    many half-filled sheets are looked at next, and stops the search; ``enough`` tells of a layout
    whether none can be better.
    """
    split = 2 if guillotine else 1
    parts = [[(w, h) for w, h in each for _ in range(split)] for each in ways]
    flipped = [[(h, w) for w, h in each] for each in parts]
    frame: type[Boards] | type[Skylines] = Boards if guillotine else Skylines
    beams = [
        Beam(sheet, SheetParts.of(own), frame.empty(sheet), go_on)
        for sheet, own in ((size, parts), (size[::-1], flipped))
    ]
    full = min(size[0] * size[1], sum(max(w * h for w, h in each) for each in ways)) - 1e-6
    quick = OrderSearch(QuickRules(size, ways, guillotine), go_on)
    refill = None if guillotine else Refill(size, ways, go_on)
    for _ in quick.every_rule():
        if quick.area >= full or not go_on(len(ways)):
            return quick.spots
    few = len(ways) <= _SOON_BOUNDED
    if refill is not None and not (few and enough(quick.spots)):
        _refill(refill, quick, enough if few else _never, _FIRST_REFILL)
    if enough(quick.spots):
        return quick.spots
    perfect = not guillotine and full > size[0] * size[1] * (1.0 - _PERFECT)
    for beam in _widened(beams, quick, full):
        quick.take(_spots_of(beams, len(ways), split))
        if perfect and len(ways) <= _PERFECT_PARTS and beam == 1:
            quick.take(lay_without_waste(size, ways, go_on))
        if refill is not None:
            _refill(refill, quick, enough, sum(each.looked_at for each in beams) // _BEAM_A_REFILL)
        if enough(quick.spots):
            break
    quick.take(_spots_of(beams, len(ways), split))
    return quick.spots


def _never(_spots: Sequence[SheetSpot | None]) -> bool:
    return False


def _refill(
    refill: Refill,
    quick: OrderSearch,
    enough: Callable[[Sequence[SheetSpot | None]], bool],
    looks: int,
) -> None:
    """Better what has been found, until so many looks have been spent on that in all."""
    refill.begin_with(quick.spots)
    while refill.looked_at < looks and not enough(refill.best) and refill.change():
        pass
    quick.take(refill.best)


def _spots_of(beams: Sequence[Beam], count: int, split: int) -> list[SheetSpot | None]:
    """What the better of the beams has found."""
    best = max(beams, key=lambda beam: beam.best_area)
    spots: list[SheetSpot | None] = [None] * count
    for laid in best.best:
        x, y = (laid.x, laid.y) if best is beams[0] else (laid.y, laid.x)
        way = int(best.parts.way[laid.column]) // split
        spots[int(best.parts.part[laid.column])] = SheetSpot(x, y, way)
    return spots


def _widened(beams: Sequence[Beam], quick: OrderSearch, full: float) -> Iterator[int]:
    """Search ever wider, until stopped or nothing is left to be found; after each beam its number.

    As many steps as a beam has taken are spent on other orders for the quick rules.
    """
    random = np.random.default_rng(1)
    share = _ORDERS[beams[0].parts.count > _FEW or quick.rules.guillotine]
    width, count = 16.0, 0
    while True:
        for beam, start, weights in _starts(beams, random, first=width == 16.0):
            most = max(_CELLS // (len(beam.parts.part) * GIVEN_UP), 1)
            beam.to_beat = max(quick.area, *(each.best_area for each in beams))
            before = beam.looked_at
            # where nothing can come of a beam it looks at no sheet, and must end all the same
            if beam.to_beat >= full or not beam.go_on(_BEAM):
                return
            if not beam.run(start(), min(int(width), most), weights):
                return
            yield count
            count += 1
            for _ in range(int(share * (beam.looked_at - before) / _LOOKS_AN_ORDER)):
                if quick.area >= full or not quick.go_on(_LOOKS_AN_ORDER):
                    return
                quick.changed()
        width *= 2.0 if width < _WIDE else 1.15


def _starts(
    beams: Sequence[Beam], random: np.random.Generator, *, first: bool
) -> Iterator[tuple[Beam, Callable[[], BeamLevel], Weights]]:
    """From the empty sheet, either way round, and from the middle of the best."""
    drawn = random.uniform(*_LIKELY, size=(len(_WEIGHTS), 4)).tolist()
    for weights in _WEIGHTS if first else (tuple(each) for each in drawn):
        for beam in beams:
            yield beam, beam.start, weights
    best = max(beams, key=lambda beam: beam.best_area)
    for share in (0.25, 0.5):
        count = int(share * len(best.best))
        weights = tuple(random.uniform(*_LIKELY).tolist())
        yield best, lambda count=count: best.again(count), weights  # type: ignore[misc]
