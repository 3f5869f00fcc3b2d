"""Many parts in one piece, with real placements, and every answer kept.

A 'yes' of the packer is exact: the parts lie in the cloth, clear of flaws and of one another. A
'no' is exact for a single part; for several it only says that the packer found no way. What needs
at least as much as what was refused is refused too. Parts cut from one piece keep the width of the
knife between them; the margin is kept to the piece's own edges and flaws.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from operator import attrgetter

import shapely

from bindery_stock.matching.fits import Lying, flaws_for
from bindery_stock.matching.sizes import Content, PackSize, Sizes, with_one
from bindery_stock.matching.snug import half, shrunk, snuggest, snuggest_patch
from bindery_stock.matching.values import Piece
from bindery_stock.shape import Zone, place_patch, triangle
from bindery_stock.shape.fit import place
from bindery_stock.shape.ground import Ground, ground
from bindery_stock.shape.inner_fit import polygons_of

_ROUNDING = 1e-6  # share of an area
_MEASURES: tuple[Callable[[PackSize], float], ...] = tuple(
    attrgetter(name) for name in ("area", "height", "width")
)


@dataclass(slots=True)
class PackedLoad:
    """Some sizes laid in a piece."""

    content: Content
    placements: tuple[Lying, ...]
    """One for each of the content, in its order."""
    free: dict[tuple[float, tuple[Zone, ...]], Ground] = field(default_factory=dict)
    """By margin and zones, where a further part may lie."""
    refused: list[int] = field(default_factory=list)
    """Sizes known to find no room beside these."""
    taken: dict[int, Lying] = field(default_factory=dict)
    """Sizes known to find room beside these, and where."""


class Packer:
    """Lays parts into one piece and remembers every answer."""

    def __init__(
        self, piece: Piece, sizes: Sizes, fixed: Sequence[Lying] = (), knife: float = 0.0
    ) -> None:
        """``fixed`` are parts already laid, which nothing may overlap; ``knife`` mm lie between."""
        self.piece = piece
        self.asked = 0
        """How often a place was looked for and no kept answer would do."""
        self.overturned = 0
        """How often what was refused was laid after all."""
        self._sizes = sizes
        self._fixed, self._knife = tuple(fixed), knife
        self._laid: dict[Content, PackedLoad] = {(): PackedLoad((), ())}
        self._no: set[Content] = set()
        self._tried: list[Content] = []
        self._rooms: dict[tuple[float, tuple[Zone, ...]], float] = {}

    def laid(self, content: Content) -> PackedLoad:
        """The way found for a content that was answered with yes."""
        return self._laid[content]

    def room(self, sizes: Iterable[int]) -> float:
        """Square millimetres that several parts of these sizes may use together at most."""
        wanted = {(s.margin, s.zones): s for s in (self._sizes[size] for size in sizes)}
        if len(wanted) > 1:  # what one may use another need not
            return self.piece.outline.area
        ((key, size),) = wanted.items()
        if key not in self._rooms:
            polygons = self._free(self._laid[()], size).polygons
            self._rooms[key] = sum(polygon.area for polygon in polygons) * (1 + _ROUNDING)
        return self._rooms[key]

    def extends(self, content: Content, size: int) -> bool:
        """Whether ``size`` finds room beside ``content`` as it lies."""
        needs = self._sizes.needs_at_least
        if any(needs(taken, size) for taken in self._laid[content].taken):
            return True
        return self._extended(content, size) is not None

    def lay(self, content: Content, size: int) -> Content:
        """Lay ``size`` beside ``content``, where it was found to go; gives them together."""
        both = with_one(content, size)
        if both not in self._laid and self._extended(content, size) is None:
            # Where a larger one found room the smaller has it too.
            laid, needs = self._laid[content], self._sizes.needs_at_least
            larger = next(place for taken, place in laid.taken.items() if needs(taken, size))
            self._keep(laid, size, self._shrunk(larger, size))
        return both

    def packs(self, content: Content, size: int) -> bool:
        """Whether ``size`` finds room beside ``content``, which may be laid anew for it."""
        return self.extends(content, size) or self.holds(with_one(content, size))

    def may_pack(self, content: Content, size: int) -> bool:
        """Whether ``size`` may find room beside ``content``, as far as is known without looking."""
        both, needs = with_one(content, size), self._sizes.needs_at_least
        if both in self._laid:
            return True
        if both in self._no or self._hopeless(both):
            return False
        return bool(content) or not any(needs(size, no) for no in self._laid[()].refused)

    def holds(self, content: Content) -> bool:
        """Whether all of ``content`` is found to go into the piece, laid in several orders."""
        if content in self._laid:
            return True
        if self._refuses(content):
            return False
        if any(self._lays(order) for order in self._orders(content)):
            return True
        self._no.add(content)
        self._tried.append(content)
        return False

    def less(self, content: Content, size: int) -> Content:
        """``content`` with one of ``size`` taken out, the others lying as they did."""
        at = content.index(size)
        rest = (*content[:at], *content[at + 1 :])
        if rest not in self._laid:
            placed = self._laid[content].placements
            self._laid[rest] = PackedLoad(rest, (*placed[:at], *placed[at + 1 :]))
        return rest

    def _shrunk(self, larger: Lying, number: int) -> Lying:
        size = self._sizes[number]
        smaller = shrunk(larger, size.width, size.height)
        return half(smaller) if size.triangular else smaller

    def _refuses(self, content: Content) -> bool:
        """Whether what is known refuses the content."""
        if content in self._no:
            return True
        replaces = self._sizes.replaces
        if self._hopeless(content) or any(replaces(content, no) is not None for no in self._tried):
            self._no.add(content)
            return True
        return False

    def _lays(self, order: Sequence[int]) -> bool:
        content: Content = ()
        for size in order:
            laid = self._extended(content, size)
            if laid is None:
                return False
            content = laid.content
        return True

    def _orders(self, content: Content) -> list[list[int]]:
        """The largest first, the tallest first, the broadest first."""
        orders: list[list[int]] = []
        for measure in _MEASURES:
            keyed = sorted((-measure(self._sizes[number]), number) for number in content)
            order = [number for _, number in keyed]
            if order not in orders:
                orders.append(order)
        return orders

    def _hopeless(self, content: Content) -> bool:
        """Whether area, or a size that does not fit even alone, refuses the content for certain."""
        alone, needs = self._laid[()].refused, self._sizes.needs_at_least
        sizes = set(content)
        if any(not self._sizes[size].turns for size in sizes):
            return True
        if any(needs(size, no) for size in sizes for no in alone):
            return True
        return len(content) > 1 and self._sizes.area(content) > self.room(sizes)

    def _extended(self, content: Content, number: int) -> PackedLoad | None:
        """One size more, laid where it lies snuggest; the answer is kept."""
        wanted = with_one(content, number)
        if wanted in self._laid:
            return self._laid[wanted]
        laid, needs = self._laid[content], self._sizes.needs_at_least
        if self._hopeless(wanted) or any(needs(number, no) for no in laid.refused):
            return None
        found = self._look(laid, self._sizes[number])
        if found is None:
            laid.refused.append(number)
            return None
        return self._keep(laid, number, found)

    def _look(self, laid: PackedLoad, size: PackSize) -> Lying | None:
        """The snuggest place beside what is laid, or nothing."""
        self.asked += 1
        usable = self._free(laid, size)
        look = snuggest_patch if size.triangular else snuggest
        found = look(usable, size.width, size.height, size.turns)
        if found is None and not laid.content and not self._fixed:
            return self._alone(size)
        return found

    def _alone(self, size: PackSize) -> Lying | None:
        """An exact fit with all the freedom that the part has."""
        outline, flaws, turns = self.piece.outline, self.piece.flaws, size.turns
        if not (size.margin or size.free or size.triangular) or not turns:
            return None
        if size.triangular:
            flaws = tuple(flaws_for(size.zones, flaws))
            part = triangle(size.width, size.height)
            return place_patch(
                outline, part, turns=turns, free=size.free, margin=size.margin, flaws=flaws
            )
        return place(
            outline,
            size.width,
            size.height,
            turns=turns,
            margin=size.margin,
            flaws=flaws,
            zones=size.zones,
            free=size.free,
        )

    def _keep(self, laid: PackedLoad, number: int, placement: Lying) -> PackedLoad:
        laid.taken[number] = placement
        content = with_one(laid.content, number)
        at = content.index(number)
        placed = (*laid.placements[:at], placement, *laid.placements[at:])
        result = self._laid[content] = PackedLoad(content, placed)
        if content in self._no:
            self._overturn(result)
        return result

    def _overturn(self, laid: PackedLoad) -> None:
        """What was refused has been laid after all: so can be what needs no more."""
        self.overturned += 1
        self._no.clear()
        refused, self._tried = self._tried, []
        for content in refused:
            places = self._sizes.replaces(laid.content, content)
            if places is None:
                self._tried.append(content)
            elif content not in self._laid:
                placed = (laid.placements[place] for place in places)
                shrunken = tuple(
                    self._shrunk(placement, size)
                    for placement, size in zip(placed, content, strict=True)
                )
                self._laid[content] = PackedLoad(content, shrunken)

    def _free(self, laid: PackedLoad, size: PackSize) -> Ground:
        """The ground beside the fixed parts and what is laid, by margin and zones."""
        key = (size.margin, size.zones)
        if key not in laid.free:
            free = self._bare(size)
            if size.margin:
                # Sharp inner corners in place of arcs of many points: a little less, never more.
                drawn_in = shapely.buffer(free.free, -size.margin, join_style="mitre")
                free = replace(free, polygons=tuple(polygons_of(drawn_in)))
            for placement in (*self._fixed, *laid.placements):
                free = free.without(placement.polygon, self._knife)
            laid.free[key] = free
        return laid.free[key]

    def _bare(self, size: PackSize) -> Ground:
        """The whole piece as one part of this size may use it."""
        margin, flaws = size.margin, self.piece.flaws
        return ground(self.piece.outline, margin=margin, flaws=flaws, zones=size.zones)
