"""The load of a piece that is worth most, each part being worth a prize less what it costs there.

Loads are gone through depth-first, the parts worth most to the square millimetre first. A branch is
left where even parts cut up to fill the room would not be worth enough (G. Dantzig, *Operations
Research* 5, 1957, 266-277).
"""

from abc import ABC, abstractmethod
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.hoard import Floats
from bindery_stock.matching.sizes import Content

Load = tuple[int, ...]
"""Numbers of the parts that come out of one piece beside its pinned ones, sorted."""

LEAST = 1e-8
"""A worth of less is none."""
_NODES = 4000  # looked at in one search


@dataclass(frozen=True, slots=True)
class Priced:
    """What was found for one piece."""

    loads: tuple[Load, ...]
    """Loads found, each of more worth than the one before and than what was known."""
    worth: float
    """Of the best."""
    at_most: float
    """No load is worth more."""

    @property
    def exact(self) -> bool:
        """Whether the best is known to be the best."""
        return self.at_most <= self.worth + LEAST


@dataclass(frozen=True, slots=True)
class _Item:
    part: int
    size: int
    worth: float
    area: float


class Pricing:
    """One piece, whose pinned parts always stay in."""

    def __init__(self, campaign: Campaign, piece: int, pinned: Content) -> None:
        """``pinned`` are the sizes of the pinned parts, which the packer has laid."""
        self.packer, self.sizes, self.pinned = campaign.packers[piece], campaign.sizes, pinned
        costs = campaign.cost[:, piece]
        able = np.isfinite(costs)
        able[list(campaign.pins)] = False
        self._parts = np.flatnonzero(able)
        self._costs = costs[self._parts]
        self._numbers = [campaign.size(part, piece) for part in self._parts.tolist()]

    def holds(self, part: int) -> bool:
        """Whether the part finds room beside the pinned ones."""
        at = int(np.searchsorted(self._parts, part))
        return self.packer.packs(self.pinned, self._numbers[at])

    def best(self, prizes: Floats, known: Iterable[Load], asks: int) -> Priced:
        """The best load where each part brings its prize. ``known`` are loads that can be laid.

        After ``asks`` new questions to the packer it is left at the best so far.
        """
        items = self._items(prizes)
        worth = {item.part: item.worth for item in items}
        best = max((sum(worth.get(p, 0.0) for p in load) for load in known), default=0.0)
        found: list[Load] = []
        while True:
            overturned = self.packer.overturned
            search = _Best(self, items, asks, _NODES)
            search.best = best
            search.go()
            best = search.best
            found += search.found
            if overturned == self.packer.overturned:  # else a branch was left that need not be
                return Priced(tuple(found), best, max(best, search.left_at))

    def every(self, prizes: Floats, least: float, most: int) -> tuple[list[Load], bool]:
        """Every load worth at least that much, and whether these are all.

        After ``most`` new questions or looks it ends.
        """
        items = self._items(prizes)
        while True:
            overturned = self.packer.overturned
            search = _Every(self, items, most, most)
            search.least = least
            search.go()
            if overturned == self.packer.overturned:
                return search.found, search.left_at <= 0.0

    def _items(self, prizes: Floats) -> list[_Item]:
        worths = prizes[self._parts] - self._costs
        found = []
        for n in np.flatnonzero(worths > LEAST).tolist():
            number = self._numbers[n]
            if self.packer.packs(self.pinned, number):
                area = self.sizes[number].area
                found.append(_Item(int(self._parts[n]), number, float(worths[n]), area))
        found.sort(key=lambda item: (-item.worth / item.area, item.part))
        return found


class _LoadSearch(ABC):
    """A search through the loads of a piece. Sets of items are the bits of whole numbers."""

    def __init__(self, pricing: Pricing, items: list[_Item], asks: int, nodes: int) -> None:
        self.items = items
        self.left_at = 0.0
        """The most that loads not looked at could be worth."""
        self.found: list[Load] = []
        self._packer, self._pinned = pricing.packer, pricing.pinned
        self._asked_at_most = self._packer.asked + asks
        self._nodes = nodes

    def go(self) -> None:
        """Look at all loads, or as many as are allowed."""
        if self.items:
            room = max(
                self._packer.room(item.size for item in self.items),
                *(item.area for item in self.items),
            )
            self._branch(self._pinned, (), 0.0, (1 << len(self.items)) - 1, room)

    @abstractmethod
    def enough(self, worth: float) -> bool:
        """Whether loads worth that much at most are to be looked at."""

    @abstractmethod
    def take(self, load: tuple[int, ...], worth: float) -> None:
        """Hear of a load that can be laid."""

    @abstractmethod
    def after(self, at: int, left: int) -> int:
        """What of the items left is still to be tried once an item is passed over."""

    def _branch(
        self, content: Content, chosen: tuple[int, ...], worth: float, left: int, room: float
    ) -> None:
        left = self._small_enough(left, room)
        while left:
            at_most = worth + self._cut_up(left, room)
            if not self.enough(at_most):
                return
            self._nodes -= 1
            if self._packer.asked >= self._asked_at_most or self._nodes < 0:
                self.left_at = max(self.left_at, at_most)
                return
            lowest = left & -left
            left ^= lowest
            at = lowest.bit_length() - 1
            item = self.items[at]
            if self._packer.packs(content, item.size):
                more, together = (*chosen, item.part), worth + item.worth
                self.take(more, together)
                fuller = self._packer.lay(content, item.size)
                self._branch(fuller, more, together, left, room - item.area)
            left = self.after(at, left)

    def _small_enough(self, left: int, room: float) -> int:
        kept = 0
        while left:
            lowest = left & -left
            left ^= lowest
            if self.items[lowest.bit_length() - 1].area <= room:
                kept |= lowest
        return kept

    def _cut_up(self, left: int, room: float) -> float:
        """What the room would be worth at most, parts being cut up to fill it."""
        worth = 0.0
        while left:
            lowest = left & -left
            left ^= lowest
            item = self.items[lowest.bit_length() - 1]
            if item.area >= room:
                return worth + item.worth * room / item.area
            worth, room = worth + item.worth, room - item.area
        return worth


class _Best(_LoadSearch):
    """For the best load only: what is no better than a part passed over is out."""

    def __init__(self, pricing: Pricing, items: list[_Item], asks: int, nodes: int) -> None:
        super().__init__(pricing, items, asks, nodes)
        self.best = 0.0
        needs = pricing.sizes.needs_at_least
        self._no_better = [
            sum(
                1 << n
                for n in range(at + 1, len(items))
                if items[n].worth <= item.worth and needs(items[n].size, item.size)
            )
            for at, item in enumerate(items)
        ]

    def enough(self, worth: float) -> bool:
        return worth > self.best + LEAST

    def take(self, load: tuple[int, ...], worth: float) -> None:
        if worth > self.best + LEAST:
            self.best = worth
            self.found.append(tuple(sorted(load)))

    def after(self, at: int, left: int) -> int:
        return left & ~self._no_better[at]


class _Every(_LoadSearch):
    """For all loads worth at least so much."""

    least = 0.0

    def enough(self, worth: float) -> bool:
        return worth >= self.least - LEAST

    def take(self, load: tuple[int, ...], worth: float) -> None:
        if worth >= self.least - LEAST:
            self.found.append(tuple(sorted(load)))

    def after(self, at: int, left: int) -> int:  # noqa: ARG002 - every one is still to be tried
        return left
