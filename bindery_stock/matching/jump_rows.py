"""Jumps on the shelf as rows of the programme, where loads are picked whole.

For two neighbours a column holds what their jump costs. Wherever the one may be cut, it is at least
the jump from there to where the other is cut, less so much that the row says nothing while the one
is cut elsewhere. Mixed loads make next to nothing of it, so it has no place in the bound of the
mixture; a choice of whole loads it counts exactly.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.load_search import Load

_MOST_ENTRIES = 60_000
"""Of all rows together; with more the picking would take longer than it is worth."""


Ways = Mapping[int, Sequence[int]]
"""By piece, the columns of the loads that a part is cut in there."""


@dataclass(slots=True)
class JumpRows:
    """Entries as (row, column, value), each row no more than its limit; a cost for each column."""

    costs: list[float] = field(default_factory=list)
    entries: list[tuple[int, int, float]] = field(default_factory=list)
    limits: list[float] = field(default_factory=list)

    def add(self, column: int, ways: Ways, elsewhere: Ways, far: "_Far") -> None:
        """For each way of the one, how far the other's are: what ``column`` costs at least."""
        for here, loads in ways.items():
            jumps = {there: far(here, there) for there in elsewhere}
            most = max(jumps.values(), default=0.0)
            if most <= 0.0:
                continue
            loose = most if loads else 0.0  # pinned there, it is nowhere else
            row = len(self.limits)
            self.entries.append((row, column, -1.0))
            self.entries += [(row, load, loose) for load in loads]
            self.entries += [
                (row, load, jumps[there]) for there, others in elsewhere.items() for load in others
            ]
            self.limits.append(loose)


_Far = Callable[[int, int], float]
"""What the jump costs between the one cut here and the other cut there."""


def jump_rows(
    campaign: Campaign, loads: Sequence[tuple[int, Load]], pinned: Sequence[int], first: int
) -> JumpRows:
    """The rows for these loads, the columns of the jumps beginning at ``first``.

    ``pinned`` tells where pinned parts are. None are given where they would be too many.
    """
    shelf, price = campaign.shelf, campaign.prices.jump
    made = JumpRows()
    if price == 0.0:
        return made
    cut_at: dict[int, dict[int, list[int]]] = {part: {} for part in shelf.spines()}
    for column, (piece, load) in enumerate(loads):
        for part in cut_at.keys() & set(load):
            cut_at[part].setdefault(piece, []).append(column)

    def far(one: int, other: int) -> _Far:
        return lambda here, there: price * shelf.counted(one, here, other, there)

    for pair in shelf.neighbours:
        jump = first + len(made.costs)
        made.costs.append(1.0)
        for one, other in (pair, pair[::-1]):
            ways: Ways = {pinned[one]: ()} if pinned[one] >= 0 else cut_at[one]
            if pinned[other] < 0:
                made.add(jump, ways, cut_at[other], far(one, other))
        if len(made.entries) > _MOST_ENTRIES:
            return JumpRows()
    return made
