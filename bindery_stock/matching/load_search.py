"""Searching the loads of a piece, whose parts are worth a prize less what they cost there.

Loads are gone through depth-first, the parts worth most to the square millimetre first. A branch is
left where even parts cut up to fill the room would not be worth enough (G. Dantzig, *Operations
Research* 5, 1957, 266-277).
"""

from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from bindery_stock.matching.packer import Packer
from bindery_stock.matching.sizes import Content, Sizes

Load = tuple[int, ...]
"""Numbers of the parts that come out of one piece beside its pinned ones, sorted."""

LEAST = 1e-8
"""A worth of less is none."""


@dataclass(slots=True)
class Item:
    """A part that may be in a load."""

    part: int
    size: int
    worth: float
    area: float
    shade: int
    lot: float = 0.0
    """Its part of the price of one lot more: no load pays less for its parts of one shade."""

    @property
    def thin(self) -> float:
        """What it is worth at most beside that."""
        return self.worth - self.lot


@dataclass(frozen=True, slots=True)
class SearchLimits:
    """How far a search may go."""

    asks: int
    """New questions to the packer."""
    nodes: int
    """Looks at what a load begun may come to."""
    over: Callable[[], bool]
    """Whether the time is up."""


class Costs(Protocol):
    """What the search asks of the piece."""

    packer: Packer
    sizes: Sizes
    pinned: Content
    base: float

    def least_cloth(self, area: float) -> float:
        """What parts of that area lose of whole cloth at least, priced."""

    def least_extra(self, load: Load, area: float) -> float:
        """What a load costs at least beside its parts."""

    def extra(self, content: Content, load: Load) -> float:
        """What it costs beside its parts, laid as the packer laid it."""

    def slack(self, one: Item, instead: Item) -> float:
        """What a load may cost more beside its parts where one gives way to another."""


class LoadSearch(ABC):
    """A search through the loads of a piece. Sets of items are the bits of whole numbers."""

    def __init__(self, pricing: Costs, items: list[Item], limits: "SearchLimits") -> None:
        """It ends at the limits, at the latest."""
        self.items = items
        self.left_at = 0.0
        """The most that loads not looked at could be worth."""
        self.found: list[Load] = []
        self._pricing, self._packer, self._pinned = pricing, pricing.packer, pricing.pinned
        self._spare = pricing.base
        """A load may keep more of its whole cloth than the pinned parts alone do: at most this."""
        self._asked_at_most = self._packer.asked + limits.asks
        self._nodes, self._over = limits.nodes, limits.over

    def go(self) -> None:
        """Look at all loads, or as many as are allowed."""
        if self.items:
            room = max(
                self._packer.room(item.size for item in self.items),
                *(item.area for item in self.items),
            )
            self._branch(Begun(self._pinned), (1 << len(self.items)) - 1, room)

    @abstractmethod
    def enough(self, worth: float) -> bool:
        """Whether loads worth that much at most are to be looked at."""

    @abstractmethod
    def take(self, load: Load, worth: float) -> None:
        """Hear of a load that can be laid and may be worth enough."""

    @abstractmethod
    def after(self, at: int, left: int) -> int:
        """What of the items left is still to be tried once an item is passed over."""

    def _branch(self, begun: "Begun", left: int, room: float) -> None:
        left = self._small_enough(left, room)
        sure = begun.thin - self._pricing.least_cloth(begun.area) + self._spare
        while left:
            at_most = sure + self._cut_up(left, room)
            if not self.enough(at_most):
                return
            self._nodes -= 1
            if self._packer.asked >= self._asked_at_most or self._nodes < 0 or self._over():
                self.left_at = max(self.left_at, at_most)
                return
            lowest = left & -left
            left ^= lowest
            at = lowest.bit_length() - 1
            item = self.items[at]
            if self._packer.packs(begun.content, item.size):
                more = begun.and_one(item, self._packer.lay(begun.content, item.size))
                self._weigh(more)
                self._branch(more, left, room - item.area)
            left = self.after(at, left)

    def _weigh(self, begun: "Begun") -> None:
        """Tell of a load, and work out what it costs only where that may be worth it."""
        load = tuple(sorted(begun.chosen))
        if self.enough(begun.worth - self._pricing.least_extra(load, begun.area)):
            worth = begun.worth - self._pricing.extra(begun.content, load)
            if self.enough(worth):
                self.take(load, worth)

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
            if item.thin <= 0.0:
                break
            if item.area >= room:
                return worth + item.thin * room / item.area
            worth, room = worth + item.thin, room - item.area
        return worth


@dataclass(frozen=True, slots=True)
class Begun:
    """A load begun."""

    content: Content
    chosen: tuple[int, ...] = ()
    worth: float = 0.0
    thin: float = 0.0
    area: float = 0.0

    def and_one(self, item: Item, content: Content) -> "Begun":
        """The load with one part more, laid as ``content``."""
        return Begun(
            content,
            (*self.chosen, item.part),
            self.worth + item.worth,
            self.thin + item.thin,
            self.area + item.area,
        )


class BestLoad(LoadSearch):
    """For the best load only: what is no better than a part passed over is out."""

    def __init__(self, pricing: Costs, items: list[Item], limits: "SearchLimits") -> None:
        """As every search; also which items are no better than others."""
        super().__init__(pricing, items, limits)
        self.best = 0.0
        self._no_better = [
            sum(
                1 << n
                for n in range(at + 1, len(items))
                if items[n].worth + pricing.slack(items[n], item) <= item.worth
                and pricing.sizes.needs_at_least(items[n].size, item.size)
            )
            for at, item in enumerate(items)
        ]

    def enough(self, worth: float) -> bool:
        """Whether that is more than the best so far."""
        return worth > self.best + LEAST

    def take(self, load: Load, worth: float) -> None:
        """Keep it as the best so far."""
        self.best = worth
        self.found.append(load)

    def after(self, at: int, left: int) -> int:
        """All but what is no better."""
        return left & ~self._no_better[at]


class EveryLoad(LoadSearch):
    """For all loads worth at least so much."""

    least = 0.0

    def enough(self, worth: float) -> bool:
        """Whether that is as much as was asked for."""
        return worth >= self.least - LEAST

    def take(self, load: Load, worth: float) -> None:  # noqa: ARG002 - enough was asked
        """Keep it."""
        self.found.append(load)

    def after(self, at: int, left: int) -> int:  # noqa: ARG002 - every one is still to be tried
        """All of them."""
        return left
