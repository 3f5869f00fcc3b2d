"""A pass along the shelf: spines change places where fewer jumps are worth the shade they cost."""

from collections.abc import Callable
from itertools import combinations

from bindery_stock.matching.share_values import NOWHERE, Sharing

_GAIN = 1e-6


def change_places(sharing: Sharing, spent: Callable[[], bool]) -> bool:
    """Let spines that stand beside others swap their cloth until none gains; whether any did.

    ``spent`` is asked before each swap that is tried.
    """
    campaign, gained, again = sharing.campaign, False, True
    movable = [part for part in campaign.shelf.spines() if part not in campaign.pins]
    while again:
        again = False
        for one, other in combinations(movable, 2):
            if _hopeful(sharing, one, other):
                if spent():
                    return gained
                again = _swap(sharing, one, other) or again
                gained = gained or again
    return gained


def _hopeful(sharing: Sharing, one: int, other: int) -> bool:
    """Whether shades and jumps together would be less with their cloth swapped."""
    where = sharing.where
    here, there = where[one], where[other]
    if NOWHERE in (here, there) or here == there:
        return False
    shades = sharing.price(one, there) + sharing.price(other, here)
    now = sharing.cost(one) + sharing.cost(other)
    now += sharing.jumps(one, here) + sharing.jumps(other, there)
    if shades >= now:
        return False
    where[one], where[other] = there, here
    swapped = shades + sharing.jumps(one, there) + sharing.jumps(other, here)
    where[one], where[other] = here, there
    return swapped < now - _GAIN


def _swap(sharing: Sharing, one: int, other: int) -> bool:
    """Swap their cloth, if it holds them and the whole costs less so."""
    before, now = sharing.snapshot(), sharing.objective()
    here, there = sharing.where[one], sharing.where[other]
    sharing.take(one)
    sharing.take(other)
    for part, piece in ((one, there), (other, here)):
        if not sharing.packs(part, piece):
            sharing.restore(before)
            return False
        sharing.put(part, piece)
    if sharing.objective() < now - _GAIN:
        return True
    sharing.restore(before)
    return False
