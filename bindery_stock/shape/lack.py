"""What a piece lacks that will not take a part: the near miss, in words."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, inf

from bindery_stock.shape.fit import place_on
from bindery_stock.shape.ground import Ground, ground
from bindery_stock.shape.outline import Flaw, Outline
from bindery_stock.shape.placement import check_size, check_turns
from bindery_stock.shape.usable_rectangle import rough_extent
from bindery_stock.shape.zones import WHERE_FLAWS_MAY_LIE, FlawRule, Zone


@dataclass(frozen=True)
class Lack:
    """What is missing for a part to fit. All lengths in whole mm, rounded up."""

    words: str
    """``18 mm too short along the warp``."""
    along: float = 0.0
    """Missing along the part's height, with its full width kept; infinite where no strip of that
    width can be had at all."""
    across: float = 0.0
    """Missing along the part's width, with its full height kept; infinite likewise."""

    @property
    def nearness(self) -> float:
        """The lesser of the two: by how much the part would have to shrink one way."""
        return min(self.along, self.across)


def lack(
    outline: Outline,
    width: float,
    height: float,
    *,
    turns: Sequence[float] = (0, 180),
    margin: float = 0.0,
    flaws: Sequence[Flaw] = (),
    zones: Sequence[Zone] = (),
    rule: FlawRule = WHERE_FLAWS_MAY_LIE,
) -> Lack | None:
    """What ``outline`` lacks for a part of ``width`` × ``height`` mm; ``None`` where it fits.

    Found by trying: the part is offered without the flaws, turned by a quarter, without the margin,
    and then ever shorter and ever narrower. Raises as :func:`bindery_stock.shape.place`.
    """
    check_size(width, height)
    check_turns(tuple(turns))
    usable = ground(outline, margin=margin, flaws=flaws, zones=zones, rule=rule)
    if place_on(usable, width, height, turns):
        return None
    for left_out in _flaws_left_out(flaws):
        kept = [flaw for flaw in flaws if flaw not in left_out]
        other = ground(outline, margin=margin, flaws=kept, zones=zones, rule=rule)
        if place_on(other, width, height, turns):
            return Lack(_but_for(left_out))
    without_margin = ground(outline, flaws=flaws, zones=zones, rule=rule)
    if margin and place_on(without_margin, width, height, turns):
        return Lack(f"fits, but without the margin of {margin:g} mm")
    along, across = _missing(usable, width, height, turns)
    quarter = tuple(turn + 90.0 for turn in turns)
    if place_on(usable, width, height, quarter):
        across_warp = all(turn % 180.0 == 0.0 for turn in turns)
        words = "long enough only across the warp" if across_warp else "fits only a quarter turned"
        return Lack(words, along, across)
    upright = all(turn % 180.0 == 0.0 for turn in turns)
    return Lack(_words(usable, along, across, upright=upright), along, across)


def _flaws_left_out(flaws: Sequence[Flaw]) -> list[Sequence[Flaw]]:
    """Each flaw alone, then all together."""
    alone: list[Sequence[Flaw]] = [(flaw,) for flaw in flaws]
    return [*alone, flaws] if len(flaws) > 1 else alone


def _but_for(flaws: Sequence[Flaw]) -> str:
    names = {"hole": "hole", "weak": "weak place", "stain": "stain", "stamping": "stamping"}
    kinds = list(dict.fromkeys(names.get(flaw.kind.value, flaw.kind.value) for flaw in flaws))
    return "fits but for the " + " and the ".join(kinds)


def _missing(
    usable: Ground, width: float, height: float, turns: Sequence[float]
) -> tuple[float, float]:
    half_turns = {float(turn) % 180.0 for turn in turns}
    sure_height = max(rough_extent(usable, turn, width=width) for turn in half_turns)
    sure_width = max(rough_extent(usable, turn, height=height) for turn in half_turns)
    along = _shortfall(height, sure_height, lambda h: place_on(usable, width, h, turns) is not None)
    across = _shortfall(width, sure_width, lambda w: place_on(usable, w, height, turns) is not None)
    return along, across


def _shortfall(wanted: float, sure: float, fits: Callable[[float], bool]) -> float:
    """How much must come off ``wanted`` for it to fit, to the millimetre above.

    ``sure`` is an extent thought to fit; the search begins there and steps out ever wider.
    """
    lacking = max(ceil(wanted - sure), 1)  # whole mm off: fits at good, not at bad
    good, bad, step = lacking, 0, 2
    while good < wanted and not fits(wanted - good):
        good, bad, step = good + step, good, 2 * step
    if good >= wanted:
        return inf
    step = 2
    while bad < good - step and fits(wanted - (good - step)):
        good, step = good - step, 2 * step
    bad = max(bad, good - step)
    while good - bad > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if fits(wanted - middle) else (good, middle)
    return float(good)


def _words(usable: Ground, along: float, across: float, *, upright: bool) -> str:
    if not usable.polygons:
        return "nothing of it can be used"
    if along == inf and across == inf:
        return "too small both ways"
    if along <= across:
        return f"{along:.0f} mm too short" + (" along the warp" if upright else "")
    return f"{across:.0f} mm too narrow"
