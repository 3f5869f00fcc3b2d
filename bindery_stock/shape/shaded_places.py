"""Where in a piece a part would be closest in colour: along the edges and in the middle alike."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from bindery_stock.shape.fit import Lain, all_positions, settle
from bindery_stock.shape.ground import Ground
from bindery_stock.shape.placement import Placement
from bindery_stock.shape.turns import Points
from bindery_stock.shape.zones import Zone

Shade = Callable[[Sequence[Placement]], NDArray[np.float64]]
"""ΔE00 between the colour sought and the cloth, for each place where a part would lie."""

SAME_SHADE = 0.5
"""ΔE00 within which two places of a piece are of one colour (our own choice)."""
STEP_MM = 4.0
"""Places tried lie so far apart, or further where there are very many."""
_PLACES = 600
"""About so many inner places of one connected set of positions are tried."""
_AT_EDGES, _AMID = 24, 8
"""So many of the closest shade are given, spread over the piece."""


def ways_to_lie(turns: Sequence[float], zones: Sequence[Zone]) -> tuple[float, ...]:
    """The turns at which another strip of cloth is seen: of a part with zones, by half too."""
    return tuple(dict.fromkeys(float(turn) % (360.0 if zones else 180.0) for turn in turns))


def places_of_closest_shade(
    usable: Ground, width: float, height: float, turns: Sequence[float], shade: Shade
) -> list[Placement]:
    """Proved placements within half a ΔE00 of the closest found, those along edges first.

    Takes some hundredths of a second.
    """
    at_edges: list[_Trial] = []
    amid: list[_Trial] = []
    for turn in turns:
        for lain in all_positions(usable, width, height, turn):
            for spots, kept in zip(_tried(lain), (at_edges, amid), strict=True):
                shades = shade([_lying(lain, at) for at in spots])
                kept += [
                    _Trial(float(one), lain, at) for one, at in zip(shades, spots, strict=True)
                ]
    tried = sorted((*at_edges, *amid), key=lambda one: one.shade)
    best = next((one.shade for one in tried if one.settled(usable) is not None), math.inf)
    found = []
    for places, most in ((at_edges, _AT_EDGES), (amid, _AMID)):
        close = [one for one in places if one.shade <= best + SAME_SHADE]
        settled = [one.settled(usable) for one in _spread(close, most)]
        found += [placement for placement in settled if placement is not None]
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _Trial:
    """A position, and the shade of the cloth there."""

    shade: float
    lain: Lain
    at: Points

    def settled(self, usable: Ground) -> Placement | None:
        """The proved placement there or as near as can be."""
        return settle(usable, self.lain, self.at)


def _lying(lain: Lain, at: Points) -> Placement:
    return lain.at(at + lain.positions.offset, tight=False)


def _spread(tried: list[_Trial], most: int) -> list[_Trial]:
    """The closest of them, then each as far as can be from those before."""
    if not tried:
        return []
    places = np.array([one.at for one in tried])
    turns = np.array([one.lain.turn for one in tried])
    apart = np.full(len(tried), np.inf)
    pick, kept = int(np.argmin([one.shade for one in tried])), []
    for _ in range(min(most, len(tried))):
        kept.append(tried[pick])
        others = np.hypot(*(places - places[pick]).T)
        apart = np.minimum(apart, np.where(turns == turns[pick], others, np.inf))
        apart[pick] = -1.0
        pick = int(np.argmax(apart))
    return kept


def _tried(lain: Lain) -> tuple[Points, Points]:
    """Places along the edge of the positions, corners among them, and a grid amid them."""
    region = lain.positions.region
    along = shapely.get_coordinates(shapely.segmentize(region, STEP_MM))
    step = max(STEP_MM, float(np.sqrt(region.area / _PLACES)))
    left, low, right, high = region.bounds
    grid = np.stack(np.meshgrid(np.arange(left, right, step), np.arange(low, high, step)), axis=-1)
    inner = grid.reshape(-1, 2)
    return np.unique(along, axis=0), inner[shapely.contains_xy(region, inner)]
