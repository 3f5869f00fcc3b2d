"""Many parts in one piece, with real placements, and every answer kept.

A 'yes' of the packer is exact: the parts lie in the cloth, clear of flaws and of one another. A
'no' is exact for a single part; for several it only says that the packer found no way. Parts cut
from one piece may touch; the margin is kept to the piece's own edges and flaws.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from operator import attrgetter

import shapely

from bindery_stock.matching.snug import shrunk, snuggest
from bindery_stock.matching.values import Part, Piece
from bindery_stock.shape import Placement, Zone
from bindery_stock.shape.fit import place_on
from bindery_stock.shape.ground import Ground, ground
from bindery_stock.shape.inner_fit import polygons_of

_ROUNDING = 1e-6  # share of an area


@dataclass(frozen=True, slots=True)
class Size:
    """What packing needs to know of a part: lengths in mm, turns as half turns in degrees."""

    width: float
    height: float
    margin: float
    turns: tuple[float, ...]
    zones: tuple[Zone, ...] = ()

    def needs_at_least(self, other: "Size") -> bool:
        """Whether wherever this size fits, ``other`` does too."""
        return (
            self.width >= other.width
            and self.height >= other.height
            and self.margin >= other.margin
            and set(self.turns) <= set(other.turns)
            and self.zones == other.zones
        )

    def meet(self, other: "Size") -> "Size":
        """The largest size that fits wherever either of the two does."""
        turns = (*self.turns, *(turn for turn in other.turns if turn not in self.turns))
        width, height = min(self.width, other.width), min(self.height, other.height)
        return Size(width, height, min(self.margin, other.margin), turns, self.zones)


def size_in(part: Part, piece: Piece) -> Size:
    """The size of a part as it may lie in this piece. Its turns may be none at all.

    Zones matter only where there are flaws to keep out of them; without, half a turn changes
    nothing.
    """
    zones = part.sight if piece.flaws else ()
    whole = 360.0 if zones else 180.0
    turns = dict.fromkeys(turn % whole for turn in part.turns_in(piece.pattern))
    return Size(part.width, part.height, part.margin, tuple(turns), zones)


class Sizes:
    """The different sizes of a sharing-out, each with a number."""

    def __init__(self) -> None:
        """Begin with none."""
        self._numbers: dict[Size, int] = {}
        self._sizes: list[Size] = []

    def number(self, size: Size) -> int:
        """The number of this size, given when it is first seen."""
        if size not in self._numbers:
            self._numbers[size] = len(self._sizes)
            self._sizes.append(size)
        return self._numbers[size]

    def __getitem__(self, number: int) -> Size:
        """The size of that number."""
        return self._sizes[number]


Content = tuple[int, ...]
"""The numbers of the sizes laid in a piece, sorted."""


@dataclass(slots=True)
class Laid:
    """Some sizes laid in a piece."""

    content: Content
    placements: tuple[Placement, ...]
    """One for each of the content, in its order."""
    free: dict[tuple[float, tuple[Zone, ...]], Ground] = field(default_factory=dict)
    """By margin and zones, where a further part may lie."""
    refused: list[Size] = field(default_factory=list)
    """Sizes known to find no room beside these."""
    taken: dict[Size, Placement] = field(default_factory=dict)
    """Sizes known to find room beside these, and where."""


class Packer:
    """Lays parts into one piece and remembers every answer."""

    def __init__(self, piece: Piece, sizes: Sizes, fixed: Sequence[Placement] = ()) -> None:
        """``fixed`` are rectangles already given away, which nothing may overlap."""
        self.piece = piece
        self._sizes = sizes
        self._fixed = tuple(fixed)
        self._laid: dict[Content, Laid] = {(): Laid((), ())}
        self._no: set[Content] = set()

    def laid(self, content: Content) -> Laid:
        """The way found for a content that was answered with yes."""
        return self._laid[content]

    def room(self) -> float:
        """Square millimetres that may be used, by the least margin asked for so far."""
        empty = self._laid[()]
        grounds = empty.free.values() or [ground(self.piece.outline)]
        return max(sum(polygon.area for polygon in free.polygons) for free in grounds)

    def area(self, size: int) -> float:
        """Square millimetres that one of this size needs."""
        return _area(self._sizes[size])

    def most_known(self, size: Size) -> int:
        """The most parts needing at least this size that were ever laid in the piece."""
        counts = (
            sum(self._sizes[number].needs_at_least(size) for number in content)
            for content in self._laid
        )
        return max(counts, default=0)

    def extends(self, content: Content, size: int) -> bool:
        """Whether ``size`` finds room beside ``content`` as it lies."""
        wanted = self._sizes[size]
        if any(taken.needs_at_least(wanted) for taken in self._laid[content].taken):
            return True
        return self._extended(content, size) is not None

    def lay(self, content: Content, size: int) -> Content:
        """Lay ``size`` beside ``content``, where it was found to go; gives them together."""
        both = _with(content, size)
        if both not in self._laid and self._extended(content, size) is None:
            # Where a larger one found room the smaller has it too.
            laid, wanted = self._laid[content], self._sizes[size]
            larger = next(p for s, p in laid.taken.items() if s.needs_at_least(wanted))
            self._keep(laid, size, shrunk(larger, wanted.width, wanted.height))
        return both

    def packs(self, content: Content, size: int) -> bool:
        """Whether ``size`` finds room beside ``content``, which may be laid anew for it."""
        return self.extends(content, size) or self.holds(_with(content, size))

    def holds(self, content: Content) -> bool:
        """Whether all of ``content`` is found to go into the piece, laid in several orders."""
        if content in self._laid:
            return True
        if content in self._no or self._hopeless(content):
            return False
        if any(self._lays(order) for order in self._orders(content)):
            return True
        self._no.add(content)
        return False

    def less(self, content: Content, size: int) -> Content:
        """``content`` with one of ``size`` taken out, the others lying as they did."""
        at = content.index(size)
        rest = (*content[:at], *content[at + 1 :])
        if rest not in self._laid:
            placed = self._laid[content].placements
            self._laid[rest] = Laid(rest, (*placed[:at], *placed[at + 1 :]))
        return rest

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
        measures: tuple[Callable[[Size], float], ...] = (
            _area,
            attrgetter("height"),
            attrgetter("width"),
        )
        orders: list[list[int]] = []
        for measure in measures:
            keyed = sorted((-measure(self._sizes[number]), number) for number in content)
            order = [number for _, number in keyed]
            if order not in orders:
                orders.append(order)
        return orders

    def _hopeless(self, content: Content) -> bool:
        """Whether area, or a size that does not fit even alone, refuses the content for certain."""
        sizes = [self._sizes[number] for number in set(content)]
        alone = self._laid[()].refused
        if any(not size.turns for size in sizes):
            return True
        if any(size.needs_at_least(no) for size in sizes for no in alone):
            return True
        area = sum(_area(self._sizes[number]) for number in content)
        room = max(sum(p.area for p in self._free(self._laid[()], size).polygons) for size in sizes)
        return area > room * (1 + _ROUNDING)

    def _extended(self, content: Content, number: int) -> Laid | None:
        """One size more, laid where it lies snuggest; the answer is kept."""
        wanted = _with(content, number)
        if wanted in self._laid:
            return self._laid[wanted]
        laid, size = self._laid[content], self._sizes[number]
        if self._hopeless(wanted) or any(size.needs_at_least(no) for no in laid.refused):
            return None
        found = snuggest(self._free(laid, size), size.width, size.height, size.turns)
        if found is None and not content and not self._fixed and size.margin:
            found = place_on(self._bare(size), size.width, size.height, size.turns)
        if found is None:
            laid.refused.append(size)
            return None
        return self._keep(laid, number, found)

    def _keep(self, laid: Laid, number: int, placement: Placement) -> Laid:
        laid.taken[self._sizes[number]] = placement
        content = _with(laid.content, number)
        at = content.index(number)
        placed = (*laid.placements[:at], placement, *laid.placements[at:])
        result = self._laid[content] = Laid(content, placed)
        return result

    def _free(self, laid: Laid, size: Size) -> Ground:
        """The ground beside the fixed parts and what is laid, by margin and zones."""
        key = (size.margin, size.zones)
        if key not in laid.free:
            free = self._bare(size)
            if size.margin:
                # Sharp inner corners in place of arcs of many points: a little less, never more.
                drawn_in = shapely.buffer(free.free, -size.margin, join_style="mitre")
                free = replace(free, polygons=tuple(polygons_of(drawn_in)))
            for placement in (*self._fixed, *laid.placements):
                free = free.without(placement.polygon)
            laid.free[key] = free
        return laid.free[key]

    def _bare(self, size: Size) -> Ground:
        """The whole piece as one part of this size may use it."""
        margin, flaws = size.margin, self.piece.flaws
        return ground(self.piece.outline, margin=margin, flaws=flaws, zones=size.zones)


def _with(content: Content, size: int) -> Content:
    return tuple(sorted((*content, size)))


def _area(size: Size) -> float:
    return size.width * size.height
