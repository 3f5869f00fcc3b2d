"""Parts laid one after another in a piece of any outline, several corners tried for each."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import inf

from bindery_stock.shape.best_fit import distinct_turns, spread_placements
from bindery_stock.shape.fit import place_on
from bindery_stock.shape.ground import Ground
from bindery_stock.shape.placement import Placement
from bindery_stock.shape.rectangle_wanted import RectangleWanted

_CORNERS = 5  # tried for each part
_STEPS = 60  # parts laid down in all before the best found is taken


@dataclass
class OddPieceSearch:
    """Laying parts one after another in an irregular piece, several corners tried for each."""

    wanted: Sequence[RectangleWanted]
    ground_of: Sequence[int]
    """Which of the grounds each part lies on: parts of other zones have other ground."""
    gap: float
    go_on: Callable[[int], bool]
    steps: int = 0
    best_area: float = -1.0
    best: dict[int, Placement] = field(default_factory=dict)
    enough: float = inf
    """More area than this need not be sought, mm²."""

    def begin_with(self, grounds: list[Ground], laid: Sequence[Placement | None]) -> None:
        """What has been laid in one rectangle of the piece, with the rest laid round about it."""
        found = {index: placed for index, placed in enumerate(laid) if placed is not None}
        for placed in found.values():
            grounds = [usable.without(placed.polygon, self.gap) for usable in grounds]
        for index in sorted(range(len(laid)), key=lambda i: -self.wanted[i].area):
            part = self.wanted[index]
            if index in found:
                continue
            more = place_on(grounds[self.ground_of[index]], part.width, part.height, part.turns)
            if more is not None:
                found[index] = more
                grounds = [usable.without(more.polygon, self.gap) for usable in grounds]
        self.best, self.best_area = found, sum(self.wanted[index].area for index in found)

    def lay(
        self, grounds: list[Ground], order: list[int], laid: dict[int, Placement], area: float
    ) -> None:
        """Lay the parts of ``order`` beside what is ``laid``, keeping the best found."""
        if area > self.best_area:
            self.best_area, self.best = area, dict(laid)
        if not order or (area + self._at_most(grounds, order) <= self.best_area + 1e-6 and laid):
            return
        index, *rest = order
        for found in self._choices(grounds[self.ground_of[index]], self.wanted[index]):
            self.steps += 1
            after = [usable.without(found.polygon, self.gap) for usable in grounds]
            self.lay(after, rest, {**laid, index: found}, area + self.wanted[index].area)
            if self.stopped or self.done:
                return
        self.lay(grounds, rest, laid, area)

    @property
    def done(self) -> bool:
        """Whether nothing better can be found."""
        return len(self.best) == len(self.wanted) or self.best_area >= self.enough

    @property
    def stopped(self) -> bool:
        """Whether each further part takes the first place found for it."""
        return self.steps > _STEPS or not self.go_on(0)

    def _at_most(self, grounds: list[Ground], order: list[int]) -> float:
        """More area than this the parts still to be laid cannot take, mm²."""
        waiting = [0.0] * len(grounds)
        for index in order:
            waiting[self.ground_of[index]] += self.wanted[index].area
        rooms = (sum(polygon.area for polygon in usable.polygons) for usable in grounds)
        return sum(map(min, waiting, rooms))

    def _choices(self, usable: Ground, part: RectangleWanted) -> list[Placement]:
        if self.stopped:
            found = place_on(usable, part.width, part.height, part.turns)
            return [] if found is None else [found]
        turns = distinct_turns(part.turns, usable)
        return spread_placements(usable, part.width, part.height, turns, _CORNERS)


def orders(wanted: Sequence[RectangleWanted]) -> list[list[int]]:
    """The largest first, then the longest first."""
    by_area = sorted(range(len(wanted)), key=lambda i: -wanted[i].area)
    by_length = sorted(range(len(wanted)), key=lambda i: -max(wanted[i].width, wanted[i].height))
    return [by_area] if by_area == by_length else [by_area, by_length]
