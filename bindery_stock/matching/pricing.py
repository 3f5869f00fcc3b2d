"""The load of a piece worth most, each part being worth a prize less what it costs there."""

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.hoard import Floats
from bindery_stock.matching.load_search import LEAST, BestLoad, EveryLoad, Item, Load, SearchLimits
from bindery_stock.matching.orders import never
from bindery_stock.matching.sizes import Content

Over = Callable[[], bool]

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


class Pricing:
    """One piece, whose pinned parts always stay in."""

    def __init__(self, campaign: Campaign, piece: int, pinned: Content) -> None:
        """``pinned`` are the sizes of the pinned parts, which the packer has laid."""
        self.packer, self.sizes, self.pinned = campaign.packers[piece], campaign.sizes, pinned
        self._campaign, self._piece = campaign, piece
        code = campaign.pieces[piece].code
        pins = campaign.pins.items()
        self._pinned = tuple(n for n, p in pins if p.code == code and p.placement is None)
        self._pinned_area = sum(campaign.parts[part].area for part in self._pinned)
        self.base = campaign.extra(piece, pinned, self._pinned)
        """What the pinned parts cost beside their shade."""
        self._most_cloth = campaign.least_cloth(piece, campaign.whole(piece).area)
        costs = campaign.cost[:, piece]
        able = np.isfinite(costs)
        able[list(campaign.pins)] = False
        self._parts = np.flatnonzero(able)
        self._costs = costs[self._parts]
        self._numbers = [campaign.size(part, piece) for part in self._parts.tolist()]

    def holds(self, part: int) -> bool:
        """Whether the part finds room beside the pinned ones."""
        number = self._numbers[int(np.searchsorted(self._parts, part))]
        if self.packer.packs(self.pinned, number):
            self.packer.lay(self.pinned, number)
            return True
        return False

    def cost(self, load: Load) -> float:
        """What a load that the packer has laid adds to the whole, parts left out aside."""
        sizes = (self._campaign.size(part, self._piece) for part in load)
        content = tuple(sorted((*self.pinned, *sizes)))
        parts = float(self._campaign.cost[list(load), self._piece].sum())
        return parts + self.extra(content, load)

    def extra(self, content: Content, load: Load) -> float:
        """What a load costs beside its parts, the pinned ones being there anyway."""
        together = (*self._pinned, *load)
        return self._campaign.extra(self._piece, content, together) - self.base

    def least_extra(self, load: Load, area: float) -> float:
        """As ``extra``, but at least, however parts of that area in all may lie."""
        lots = self._campaign.lots(self._piece, (*self._pinned, *load))
        return lots + self.least_cloth(area) - self.base

    def least_cloth(self, area: float) -> float:
        """What parts of that area lose of whole cloth at least, priced, beside pinned ones."""
        return self._campaign.least_cloth(self._piece, area + self._pinned_area)

    def _shade(self, part: int) -> int:
        """The number of the part's shade in its volume, or -1 where it is no lot more here."""
        lots = self._campaign.lots
        more = lots(self._piece, (*self._pinned, part)) - lots(self._piece, self._pinned)
        return self._campaign.shades[part] if more > 0 else -1

    def slack(self, one: Item, instead: Item) -> float:
        """What a load may cost more beside its parts where one of them gives way to another."""
        lot = self._campaign.prices.lot
        lots = lot if instead.shade >= 0 and instead.shade != one.shade else 0.0
        # Of equal size the load lies as it did; else the packer may have laid it less well.
        return lots + (0.0 if one.size == instead.size else self._most_cloth)

    def best(
        self, prizes: Floats, known: Mapping[Load, float], asks: int, over: Over = never
    ) -> Priced:
        """The best load where each part brings its prize. ``known`` are loads that can be laid,
        with what they cost.

        After ``asks`` new questions to the packer, or when it is over, it is left at the best so
        far.
        """
        items = self._items(prizes)
        worths = (float(prizes[list(load)].sum()) - cost for load, cost in known.items())
        best = max((0.0, *worths))
        found: list[Load] = []
        while True:
            overturned = self.packer.overturned
            search = BestLoad(self, items, SearchLimits(asks, _NODES, over))
            search.best = best
            search.go()
            best = search.best
            found += search.found
            if overturned == self.packer.overturned:  # else a branch was left that need not be
                return Priced(tuple(found), best, max(best, search.left_at))

    def every(
        self, prizes: Floats, least: float, lost: float, most: int, over: Over = never
    ) -> tuple[list[Load], bool]:
        """Every load worth at least that much, and whether these are all.

        A part worth less than nothing may be in one, but by no more than ``lost``: so much less
        than the best is the least. After ``most`` new questions or looks, or when it is over, it
        ends.
        """
        items = self._items(prizes, -lost - LEAST)
        while True:
            overturned = self.packer.overturned
            search = EveryLoad(self, items, SearchLimits(most, most, over))
            search.least = least
            search.go()
            if overturned == self.packer.overturned:
                return search.found, search.left_at <= 0.0

    def _items(self, prizes: Floats, above: float = LEAST) -> list[Item]:
        """The parts that may find room and are worth more than that.

        Whether they do is left to the search: with plenty of cloth it would take all the time there
        is to ask for each of them beforehand.
        """
        worths = prizes[self._parts] - self._costs
        found = []
        for n in np.flatnonzero(worths > above).tolist():
            number = self._numbers[n]
            if self.packer.may_pack(self.pinned, number):
                part, area = int(self._parts[n]), self.sizes[number].area
                found.append(Item(part, number, float(worths[n]), area, self._shade(part)))
        alike = Counter(item.shade for item in found)
        for item in found:
            if item.shade >= 0:
                item.lot = self._campaign.prices.lot / alike[item.shade]
        found = [item for item in found if item.thin > above or item.lot]
        found.sort(key=lambda item: (-item.thin / item.area, item.part))
        return found
