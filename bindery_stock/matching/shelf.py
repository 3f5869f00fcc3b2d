"""Spines side by side on the shelf: how far the cloth of each is from its neighbour's.

Each volume shows the shelf one part, the largest of those marked as its spine. Two volumes are
neighbours where they stand next to each other in a row; where either has no such part, no jump is
counted between them.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from bindery_stock.colour import delta_e00
from bindery_stock.matching.values import ANOTHER_COLOUR, Lab, Part

Row = Sequence[str]
"""Names of volumes as they stand on the shelf, from the left."""
Face = tuple[Lab | None, float | None]
"""The colour of the face that a part would show, and its uncertainty."""
_MOST = ANOTHER_COLOUR
"""A jump to another colour counts no more than this: no spine goes without to be rid of one."""


@dataclass(slots=True)
class Shelf:
    """The neighbours, and the cloth each could be cut from."""

    neighbours: tuple[tuple[int, int], ...]
    """Numbers of two parts side by side, the left one first."""
    _faces: dict[int, list[Face]]
    """For each of those parts what each piece would show."""
    _beside: dict[int, list[int]] = field(init=False)
    _known: dict[tuple[Lab, Lab], float] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        """Note who stands beside whom."""
        self._beside = {part: [] for pair in self.neighbours for part in pair}
        for left, right in self.neighbours:
            self._beside[left].append(right)
            self._beside[right].append(left)

    @classmethod
    def of(
        cls, parts: Sequence[Part], rows: Sequence[Row], faces: Callable[[int], list[Face]]
    ) -> "Shelf":
        """The spines of these rows; ``faces`` tells what each piece would show as a part."""
        spines: dict[str, int] = {}
        for number, part in enumerate(parts):
            if not (part.spine and part.volume and part.shown and part.lab):
                continue
            best = spines.setdefault(part.volume, number)
            if part.visibility * part.area > parts[best].visibility * parts[best].area:
                spines[part.volume] = number
        pairs = tuple(
            (spines[left], spines[right])
            for row in rows
            for left, right in pairwise(row)
            if left in spines and right in spines and left != right
        )
        return cls(pairs, {part: faces(part) for part in {p for pair in pairs for p in pair}})

    def spines(self) -> list[int]:
        """The parts that stand beside another, in the order of their numbers."""
        return sorted(self._beside)

    def beside(self, part: int) -> Sequence[int]:
        """The parts next to this one: none, one or two."""
        return self._beside.get(part, ())

    def jump(self, left: int, here: int, right: int, there: int) -> float:
        """ΔE00 between the cloth of two parts cut from these pieces; 0 where one goes without."""
        if here < 0 or there < 0:
            return 0.0
        one, other = self._faces[left][here][0], self._faces[right][there][0]
        if one is None or other is None:
            return 0.0
        if (one, other) not in self._known:
            found = float(delta_e00(one, [other])[0])
            self._known[one, other] = self._known[other, one] = found
        return self._known[one, other]

    def counted(self, left: int, here: int, right: int, there: int) -> float:
        """What counts of that jump: no more than one to another colour."""
        return min(self.jump(left, here, right, there), _MOST)

    def band(self, left: int, here: int, right: int, there: int) -> float | None:
        """The 95 % uncertainty of that jump, where both readings have one."""
        one, other = self._faces[left][here][1], self._faces[right][there][1]
        return None if one is None or other is None else math.hypot(one, other)

    def around(self, part: int, piece: int, where: Sequence[int]) -> float:
        """What counts of the jumps to both sides of a part, were it cut from that piece."""
        beside = self._beside.get(part, ())
        return sum(self.counted(part, piece, n, where[n]) for n in beside)

    def all_jumps(self, where: Sequence[int]) -> float:
        """What counts of all jumps, ``where`` telling of each part which piece it is in."""
        return math.fsum(self.counted(a, where[a], b, where[b]) for a, b in self.neighbours)
