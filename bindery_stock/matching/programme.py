"""The linear programme of a sharing-out: loads that pieces may take, and the parts they serve.

Each piece takes at most one load, or a mixture of loads that makes one; each part is served or left
out. Solved by HiGHS, which also picks among the loads without mixing them.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bindery_stock.matching.campaign import Campaign
from bindery_stock.matching.hoard import Floats
from bindery_stock.matching.jump_rows import JumpRows, jump_rows
from bindery_stock.matching.load_search import Load
from bindery_stock.matching.share_values import NOWHERE

if TYPE_CHECKING:
    from scipy.sparse import csc_array

Choice = tuple[int, Load]
"""A piece and the load it takes."""

_MOST_NODES = 10**9
_EXACT = 1e-7  # relative: where the picking of loads may end


@dataclass(frozen=True, slots=True)
class Solved:
    """The answer where loads may be mixed."""

    value: float
    prizes: Floats
    """What serving each part is worth; 0 for pinned ones."""


@dataclass(frozen=True, slots=True)
class Picked:
    """The answer where they may not."""

    bound: float
    """No choice among these loads costs less."""
    choices: tuple[Choice, ...]


class Programme:
    """The loads known so far. Pinned parts are no part of it."""

    def __init__(self, campaign: Campaign) -> None:
        """Begin with none."""
        self._campaign = campaign
        self._choices: list[Choice] = []
        self._costs: list[float] = []
        self._of_piece: list[dict[Load, float]] = [{} for _ in campaign.pieces]
        free = np.ones(len(campaign.parts), dtype=np.bool_)
        free[list(campaign.pins)] = False
        self._free = np.flatnonzero(free)
        self._pinned_at = [NOWHERE] * len(campaign.parts)
        for number, pin in campaign.pins.items():
            self._pinned_at[number] = campaign.piece_number(pin.code)

    def known(self, piece: int) -> Mapping[Load, float]:
        """The loads known for the piece, and what each costs."""
        return self._of_piece[piece]

    def add(self, piece: int, loads: Iterable[Load], cost: Callable[[Load], float]) -> int:
        """Add loads that the packer has laid in the piece; gives how many are new."""
        known, before = self._of_piece[piece], len(self._costs)
        for load in loads:
            if load and load not in known:
                known[load] = cost(load)
                self._choices.append((piece, load))
                self._costs.append(known[load])
        return len(self._costs) - before

    def sum_of(self, prizes: Floats) -> float:
        """All prizes together, less what leaving parts out at their own price saves."""
        volumes = self._campaign.volumes
        return float(prizes[self._free].sum()) + volumes.relief(prizes - self._campaign.left_out)

    def solve(self, time_limit: float) -> Solved | None:
        """The best mixture of loads, or nothing where the time was too short."""
        from scipy.optimize import linprog  # noqa: PLC0415 - at first use

        cost, rows, most = self._matrix(range(len(self._costs)))
        answer = linprog(  # type: ignore[call-overload] # its stubs know no sparse matrices
            cost,
            A_ub=rows,
            b_ub=most,
            bounds=(0, None),
            method="highs",
            options={"time_limit": time_limit},
        )
        if answer.status != 0:
            return None
        prizes = -np.asarray(answer.ineqlin.marginals)[: len(self._campaign.parts)]
        return Solved(float(answer.fun), np.clip(prizes, 0.0, self._most_prizes()))

    def _most_prizes(self) -> Floats:
        """What serving a part can be worth: its going without, and its volume where it has one."""
        volumes = self._campaign.volumes
        in_volume = np.array(volumes.of_part, dtype=np.int64) >= 0
        return self._campaign.left_out + np.where(in_volume, volumes.price, 0.0)

    def pick(
        self, prizes: Floats, best: Floats, dearer: float, time_limit: float, nodes: int | None
    ) -> Picked | None:
        """The best choice of whole loads among those that may be in one.

        ``best`` is what the best load of each piece is worth under the prizes. A load worth less by
        more than ``dearer``, which is by how much a plan may exceed the bound, is in no better plan
        (G. Nemhauser and L. Wolsey, *Integer and Combinatorial Optimization*, 1988, II.3.6). Jumps
        on the shelf are counted where they are not too many; the bound is one without them else.
        """
        from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 - at first use

        kept = [
            number
            for number, (piece, load) in enumerate(self._choices)
            if best[piece] - prizes[list(load)].sum() + self._costs[number] <= dearer
        ]
        cost, rows, most = self._matrix(kept)
        loads = [self._choices[n] for n in kept]
        jumps = jump_rows(self._campaign, loads, self._pinned_at, len(cost))
        count = len(jumps.costs)
        limits = [LinearConstraint(_widened(rows, count), -np.inf, most)]
        if jumps.limits:
            limits.append(LinearConstraint(_sparse(jumps, len(cost)), -np.inf, jumps.limits))
        answer = milp(
            np.concatenate((cost, jumps.costs)),
            constraints=limits,
            integrality=np.repeat((1, 0), (len(cost), count)),
            bounds=Bounds(0, np.repeat((1.0, np.inf), (len(cost), count))),
            options={
                "time_limit": time_limit,
                "mip_rel_gap": _EXACT,
                "node_limit": _MOST_NODES if nodes is None else nodes,
            },
        )
        bound = answer.mip_dual_bound
        if answer.x is None or bound is None or not math.isfinite(bound):
            return None
        taken = np.flatnonzero(np.asarray(answer.x)[: len(kept)] > 0.5).tolist()
        return Picked(float(bound), tuple(self._choices[kept[n]] for n in taken))

    def _matrix(self, numbers: Iterable[int]) -> "tuple[Floats, csc_array, Floats]":
        """Costs, rows and their limits: a row for each part, each piece and each part of a volume.

        Beside the loads there is a column for leaving out each part, and one for leaving each
        volume unfinished, which is at least what any of its parts is.
        """
        from scipy.sparse import csc_array  # noqa: PLC0415 - at first use

        count, pieces = len(self._campaign.parts), len(self._campaign.pieces)
        volumes = self._campaign.volumes
        costs, rows, columns = [], [], []
        for column, number in enumerate(numbers):
            piece, load = self._choices[number]
            costs.append(self._costs[number])
            rows += [*load, count + piece]
            columns += [column] * (len(load) + 1)
        rows += self._free.tolist()
        columns += range(len(costs), len(costs) + len(self._free))
        values = np.where(np.array(rows, dtype=np.int64) < count, -1.0, 1.0).tolist()
        first = len(costs) + len(self._free)
        row = count + pieces
        for out, part in enumerate(self._free.tolist()):
            if volumes.of_part[part] >= 0:
                rows += [row, row]
                columns += [len(costs) + out, first + volumes.of_part[part]]
                values += [1.0, -1.0]
                row += 1
        shape = (row, first + len(volumes.members))
        matrix = csc_array((values, (rows, columns)), shape=shape)
        limits = np.zeros(row)
        limits[self._free] = -1.0
        limits[count : count + pieces] = 1.0
        unfinished = np.full(len(volumes.members), volumes.price)
        return (
            np.concatenate((costs, self._campaign.left_out[self._free], unfinished)),
            matrix,
            limits,
        )


def _widened(rows: "csc_array", by: int) -> "csc_array":
    """The same rows with so many empty columns behind."""
    from scipy.sparse import csc_array  # noqa: PLC0415 - at first use

    ends = np.concatenate((rows.indptr, np.full(by, rows.indptr[-1])))
    shape = (rows.shape[0], rows.shape[1] + by)
    return csc_array((rows.data, rows.indices, ends), shape=shape)


def _sparse(jumps: JumpRows, columns: int) -> "csc_array":
    """The rows of jumps, behind so many columns."""
    from scipy.sparse import csc_array  # noqa: PLC0415 - at first use

    rows, at, values = zip(*jumps.entries, strict=True)
    return csc_array((values, (rows, at)), shape=(len(jumps.limits), columns + len(jumps.costs)))


def first_prizes(campaign: Campaign, time_limit: float) -> Floats:
    """Prizes to begin with: those where parts may be cut up to fill most of each piece's area."""
    from scipy.optimize import linprog  # noqa: PLC0415 - at first use
    from scipy.sparse import csc_array  # noqa: PLC0415 - at first use

    parts, pieces = np.nonzero(np.isfinite(campaign.cost))
    count, pairs = len(campaign.parts), len(parts)
    cost = np.concatenate((campaign.cost[parts, pieces], campaign.left_out))
    area = np.array([part.area for part in campaign.parts])
    room = np.array([piece.outline.area for piece in campaign.pieces]) * _FILLED
    entries = np.concatenate((-np.ones(pairs + count), area[parts] / room[pieces]))
    rows = np.concatenate((parts, np.arange(count), count + pieces))
    columns = np.concatenate((np.arange(pairs + count), np.arange(pairs)))
    shape = (count + len(room), pairs + count)
    answer = linprog(  # type: ignore[call-overload] # its stubs know no sparse matrices
        cost,
        A_ub=csc_array((entries, (rows, columns)), shape=shape),
        b_ub=np.concatenate((-np.ones(count), np.ones(len(room)))),
        bounds=(0, None),
        method="highs",
        options={"time_limit": time_limit},
    )
    if answer.status != 0:
        return np.zeros(count)
    prizes = -np.asarray(answer.ineqlin.marginals, dtype=np.float64)[:count]
    return np.clip(prizes, 0.0, campaign.left_out)


_FILLED = 0.8
"""Share of a piece's area that parts come to fill: any guess will do to begin with."""
