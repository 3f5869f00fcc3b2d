"""What packing needs to know of parts: their sizes, each with a number, and which needs more."""

from collections.abc import Sequence
from dataclasses import dataclass

from bindery_stock.matching.values import Part, Piece
from bindery_stock.shape import Zone

Content = tuple[int, ...]
"""The numbers of the sizes laid in a piece, sorted."""


_QUARTERS = (0.0, 90.0, 180.0, 270.0)


@dataclass(frozen=True, slots=True)
class PackSize:
    """What packing needs to know of a part: lengths in mm, turns in degrees."""

    width: float
    height: float
    margin: float
    turns: tuple[float, ...]
    zones: tuple[Zone, ...] = ()
    triangular: bool = False
    free: float = 0.0

    @property
    def area(self) -> float:
        """Square millimetres."""
        return self.width * self.height * (0.5 if self.triangular else 1.0)

    def needs_at_least(self, other: "PackSize") -> bool:
        """Whether wherever this size fits, ``other`` does too."""
        return (
            self.width >= other.width
            and self.height >= other.height
            and self.margin >= other.margin
            and set(self.turns) <= set(other.turns)
            and self.zones == other.zones
            and self.triangular <= other.triangular
            and self.free <= other.free
        )


def size_in(part: Part, piece: Piece) -> PackSize:
    """The size of a part as it may lie in this piece. Its turns may be none at all.

    Zones matter only where there are flaws to keep out of them; without, half a turn changes
    nothing but in a corner patch. Of the turns a part is free to take, those by quarters are tried.
    """
    zones = part.sight if piece.flaws else ()
    whole = 360.0 if zones or part.triangular else 180.0
    wanted = part.turns_in(piece.pattern)
    quarters = [q for q in _QUARTERS if any(_apart(q, turn) <= part.free for turn in wanted)]
    turns = dict.fromkeys(turn % whole for turn in (*wanted, *(quarters if part.free else ())))
    return PackSize(
        part.width, part.height, part.margin, tuple(turns), zones, part.triangular, part.free
    )


def _apart(turn: float, other: float) -> float:
    return abs((turn - other + 180.0) % 360.0 - 180.0)


class Sizes:
    """The different sizes of a sharing-out, each with a number."""

    def __init__(self) -> None:
        """Begin with none."""
        self._numbers: dict[PackSize, int] = {}
        self._sizes: list[PackSize] = []
        self._needs: dict[tuple[int, int], bool] = {}

    def number(self, size: PackSize) -> int:
        """The number of this size, given when it is first seen."""
        if size not in self._numbers:
            self._numbers[size] = len(self._sizes)
            self._sizes.append(size)
        return self._numbers[size]

    def __getitem__(self, number: int) -> PackSize:
        """The size of that number."""
        return self._sizes[number]

    def area(self, content: Content) -> float:
        """Square millimetres of all of ``content`` together."""
        return sum(self._sizes[number].area for number in content)

    def needs_at_least(self, number: int, other: int) -> bool:
        """Whether wherever the one size fits, the other does too."""
        pair = (number, other)
        if pair not in self._needs:
            self._needs[pair] = self._sizes[number].needs_at_least(self._sizes[other])
        return self._needs[pair]

    def replaces(self, larger: Content, smaller: Content) -> list[int] | None:
        """Which of ``larger`` each of ``smaller`` may lie in the place of, each in another.

        Nothing where they cannot all. Found by augmenting paths (H. W. Kuhn, *Naval Research
        Logistics Quarterly* 2, 1955, 83-97).
        """
        given: dict[int, int] = {}

        def finds(at: int, seen: set[int]) -> bool:
            for place, number in enumerate(larger):
                if place not in seen and self.needs_at_least(number, smaller[at]):
                    seen.add(place)
                    if place not in given or finds(given[place], seen):
                        given[place] = at
                        return True
            return False

        if len(smaller) > len(larger) or not all(finds(at, set()) for at in range(len(smaller))):
            return None
        places = {at: place for place, at in given.items()}
        return [places[at] for at in range(len(smaller))]


def with_one(content: Sequence[int], size: int) -> Content:
    """``content`` and one of ``size`` more."""
    return tuple(sorted((*content, size)))
