"""How good a sharing-out could be at best: a bound from below by linear programming (HiGHS).

Every part goes to one piece or is left out; the parts in a piece need no more than its area; and
no piece takes more parts than the packer was found to lay in it. These last rows are added where
the answer so far breaks them: of parts that each need at least as much as some size, a piece takes
no more than it takes of that size; and of parts that together found no room, one must stay out
(extended cover inequalities: E. Balas, *Mathematical Programming* 8, 1975, 146-164).

The packer's 'no' is not exact, so the bound is one on what this packer can do.
"""

import math
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import coo_array, csr_array, vstack

from bindery_stock.matching.campaign import LEFT_OUT, Campaign
from bindery_stock.matching.hull import weights
from bindery_stock.matching.packer import Content, Size

Floats = NDArray[np.float64]
Pair = tuple[int, int]

_VIOLATED = 1e-3  # a row broken by less gains nothing worth its keep
_TRACE = 1e-3  # a share smaller than this is none
_MOST_COPIES = 40


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The answer where parts may be divided between pieces."""

    bound: float
    shares: dict[Pair, float]
    """(part, piece) to the share of the part that it takes."""
    settled: bool
    """Whether these shares break no row: solving again would bring nothing."""


@dataclass
class Programme:
    """The linear programme of a campaign, and the rows found so far."""

    campaign: Campaign
    parts: NDArray[np.intp] = field(init=False)
    pieces: NDArray[np.intp] = field(init=False)
    _rows: dict[tuple[int, tuple[tuple[int, float], ...]], float] = field(default_factory=dict)
    """(piece, parts with their weights) to what these weigh together at most."""

    def __post_init__(self) -> None:
        """Begin with every pairing that some plan may use."""
        self.parts, self.pieces = np.nonzero(np.isfinite(self.campaign.cost))

    def forget_dear(self, at_most: float, time_limit: float) -> None:
        """Drop the pairings that no plan costing less than ``at_most`` can use."""
        answer = self._solve(time_limit)
        if answer is None:
            return
        value, _, reduced = answer
        keep = value + reduced[: len(self.parts)] <= at_most + _TRACE
        self.parts, self.pieces = self.parts[keep], self.pieces[keep]

    def relaxed(self, time_limit: float) -> Relaxed | None:
        """Solve with the rows found so far and add those that the answer breaks.

        ``None`` where the time was too short for an answer.
        """
        answer = self._solve(time_limit)
        if answer is None:
            return None
        value, x, _ = answer
        shares = self._shares(x)
        found = self._find_rows(shares)
        return Relaxed(value, shares, not found)

    def whole_numbers(self, time_limit: float, nodes: int | None) -> Relaxed | None:
        """As :meth:`relaxed`, with no part divided, as far as the time or the nodes reach."""
        cost, equal, rows, most = self._matrices()
        answer = milp(
            cost,
            constraints=[LinearConstraint(equal, 1, 1), LinearConstraint(rows, -np.inf, most)],
            integrality=np.ones(len(cost), dtype=np.int64),
            bounds=Bounds(0, 1),
            options={"time_limit": time_limit}
            if nodes is None
            else {"time_limit": time_limit, "node_limit": nodes},
        )
        if answer.mip_dual_bound is None or not math.isfinite(answer.mip_dual_bound):
            return None
        shares = {} if answer.x is None else self._shares(np.asarray(answer.x))
        found = self._find_rows(shares)
        return Relaxed(float(answer.mip_dual_bound), shares, not found)

    def _solve(self, time_limit: float) -> tuple[float, Floats, Floats] | None:
        cost, equal, rows, most = self._matrices()
        answer = linprog(  # type: ignore[call-overload] # its stubs know no sparse matrices
            cost,
            A_ub=rows,
            b_ub=most,
            A_eq=equal,
            b_eq=np.ones(equal.shape[0]),
            bounds=(0, None),
            method="highs",
            options={"time_limit": time_limit},
        )
        if answer.status != 0:
            return None
        return float(answer.fun), np.asarray(answer.x), np.asarray(answer.lower.marginals)

    def _shares(self, x: Floats) -> dict[Pair, float]:
        shares = zip(self._pairs(), x[: len(self.parts)].tolist(), strict=True)
        return {pair: share for pair, share in shares if share > _TRACE}

    def _pairs(self) -> list[Pair]:
        return list(zip(self.parts.tolist(), self.pieces.tolist(), strict=True))

    def _matrices(self) -> tuple[Floats, csr_array, csr_array, Floats]:
        """Cost, one row a part, the rows that limit a piece, and their limits."""
        campaign, pairs = self.campaign, len(self.parts)
        count = len(campaign.parts)
        cost = np.concatenate((campaign.cost[self.parts, self.pieces], np.full(count, LEFT_OUT)))
        columns = np.arange(pairs + count)
        each = np.concatenate((self.parts, np.arange(count)))
        equal = csr_array(coo_array((np.ones(pairs + count), (each, columns))))
        area = np.array([part.area for part in campaign.parts])[self.parts]
        room = np.array([packer.room() for packer in campaign.packers])
        shape = (len(room), pairs + count)
        # As shares of the piece's room, so that all rows are of one order of magnitude.
        weights = area / np.maximum(room[self.pieces], 1.0)
        areas = csr_array(coo_array((weights, (self.pieces, columns[:pairs])), shape=shape))
        covers, most = self._cover_matrix(pairs + count)
        return (
            cost,
            equal,
            csr_array(vstack([areas, covers])),
            np.concatenate((np.ones(len(room)), most)),
        )

    def _cover_matrix(self, width: int) -> tuple[csr_array, Floats]:
        column = {pair: n for n, pair in enumerate(self._pairs())}
        row_of, column_of, weight_of = [], [], []
        for row, (piece, weighed) in enumerate(self._rows):
            for part, weight in weighed:
                if (part, piece) in column:
                    row_of.append(row)
                    column_of.append(column[part, piece])
                    weight_of.append(weight)
        shape = (len(self._rows), width)
        matrix = csr_array(coo_array((weight_of, (row_of, column_of)), shape=shape))
        return matrix, np.array(list(self._rows.values()), dtype=np.float64)

    def _find_rows(self, shares: dict[Pair, float]) -> int:
        """Add the rows that these shares break; gives how many."""
        before = len(self._rows) - len(self.parts)
        by_piece: dict[int, dict[int, float]] = {}
        for (part, piece), share in shares.items():
            by_piece.setdefault(piece, {})[part] = share
        self._drop_misfits(list(shares))
        for piece, load in by_piece.items():
            if len(load) > 1:
                self._find_row(piece, load)
        return len(self._rows) - len(self.parts) - before

    def _find_row(self, piece: int, load: dict[int, float]) -> bool:
        """A row for one piece: the strongest kind that is broken. More would only slow solving."""
        divided = any(share < 1 - _TRACE for share in load.values())
        return (
            (divided and self._no_mixture(piece, load))
            or self._too_many(piece, load)
            or self._too_much(piece, load)
        )

    def _drop_misfits(self, pairs: list[Pair]) -> None:
        """Drop the pairings where the part does not fit even alone: the sieve is not exact."""
        misfits = [pair for pair in pairs if not self.campaign.fits_alone(*pair)]
        if misfits:
            gone = np.zeros(self.campaign.cost.shape, dtype=np.bool_)
            gone[tuple(np.array(misfits).T)] = True
            keep = ~gone[self.parts, self.pieces]
            self.parts, self.pieces = self.parts[keep], self.pieces[keep]

    def _too_many(self, piece: int, load: dict[int, float]) -> bool:
        """Rows for parts that each need at least as much as one size."""
        found = False
        campaign = self.campaign
        sizes = dict.fromkeys(self._size(part, piece) for part in sorted(load))
        meets = [a.meet(b) for a, b in combinations(sizes, 2) if a.zones == b.zones]
        for size in dict.fromkeys((*sizes, *meets)):
            number = campaign.sizes.number(size)
            above = [p for p in load if self._size(p, piece).needs_at_least(size)]
            total = sum(load[part] for part in above)
            if total <= 1 + _VIOLATED:
                continue
            most = self._copies(piece, number, math.ceil(total - _VIOLATED))
            if total > most + _VIOLATED:
                found |= self._add(piece, self._all_above(piece, [number]), most)
        return found

    def _copies(self, piece: int, size: int, enough: int) -> int:
        """How many of this size the piece is found to take, counted no further than ``enough``."""
        packer = self.campaign.packers[piece]
        count = 0
        content: Content = ()
        while count < min(enough, _MOST_COPIES) and packer.packs(content, size):
            content = packer.lay(content, size)
            count += 1
        return max(count, packer.most_known(self.campaign.sizes[size]))

    def _too_much(self, piece: int, load: dict[int, float]) -> bool:
        """A row for parts that found no room together."""
        chosen: list[int] = []
        spare = 1.0
        for part in sorted(load, key=lambda p: (-load[p], p)):
            spare -= 1.0 - load[part]
            if spare <= _VIOLATED:
                return False
            chosen.append(part)
            if not self._holds(piece, chosen):
                break
        else:
            return False
        for part in sorted(chosen, key=lambda p: (self.campaign.parts[p].area, p)):
            fewer = [other for other in chosen if other != part]
            if not self._holds(piece, fewer):
                chosen = fewer
        numbers = [self.campaign.size(part, piece) for part in chosen]
        more = set(chosen) | set(self._all_above(piece, numbers))
        return self._add(piece, sorted(more), len(chosen) - 1)

    def _holds(self, piece: int, parts: list[int]) -> bool:
        content = tuple(sorted(self.campaign.size(part, piece) for part in parts))
        return self.campaign.packers[piece].holds(content)

    def _all_above(self, piece: int, numbers: list[int]) -> list[int]:
        """The parts that need at least as much as every one of these sizes."""
        sizes = [self.campaign.sizes[number] for number in numbers]
        able = np.flatnonzero(np.isfinite(self.campaign.cost[:, piece])).tolist()
        return [p for p in able if all(self._size(p, piece).needs_at_least(s) for s in sizes)]

    def _size(self, part: int, piece: int) -> Size:
        return self.campaign.sizes[self.campaign.size(part, piece)]

    def _no_mixture(self, piece: int, load: dict[int, float]) -> bool:
        """A row for shares that are no mixture of loads the piece can take."""
        shares: dict[int, float] = {}
        for part, share in load.items():
            number = self.campaign.size(part, piece)
            shares[number] = shares.get(number, 0.0) + share
        packer = self.campaign.packers[piece]
        found = weights(packer, list(shares), list(shares.values()), 1 + 10 * _VIOLATED)
        if found is None:
            return False
        weighed = [(self.campaign.sizes[n], w) for n, w in zip(shares, found, strict=True)]
        row = {}
        for part in np.flatnonzero(np.isfinite(self.campaign.cost[:, piece])).tolist():
            size = self._size(part, piece)
            row[part] = max((w for s, w in weighed if size.needs_at_least(s)), default=0.0)
        return self._weigh(piece, {part: w for part, w in row.items() if w > _TRACE}, 1.0)

    def _add(self, piece: int, parts: list[int], most: int) -> bool:
        return self._weigh(piece, dict.fromkeys(parts, 1.0), most)

    def _weigh(self, piece: int, weighed: dict[int, float], most: float) -> bool:
        key = (piece, tuple(sorted(weighed.items())))
        if self._rows.get(key, math.inf) <= most:
            return False
        self._rows[key] = most
        return True
