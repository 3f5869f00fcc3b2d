"""How much each size may weigh so that no load a piece can take weighs more than one.

A division of parts that weighs more is no mixture of loads the piece can take, and is cut off
(local cuts: D. Applegate, R. Bixby, V. Chvátal, W. Cook, *Documenta Mathematica*, extra volume ICM
1998 III, 645-656). The weights are found by turns: weights that the loads known so far allow, then
the heaviest load under them.
"""

from collections.abc import Sequence

import numpy as np
from scipy.optimize import linprog

from bindery_stock.matching.hoard import Floats
from bindery_stock.matching.packer import Content, Packer

_TURNS = 12
_LOADS_TRIED = 80
_OVER = 1e-6
_HEAVY_ENOUGH = 1.25
"""A load this heavy corrects the weights well; the heaviest need not be looked for."""


def weights(
    packer: Packer, sizes: Sequence[int], shares: Sequence[float], least: float
) -> tuple[float, ...] | None:
    """Weights for ``sizes`` under which ``shares`` of them weigh more than ``least``, or nothing.

    Under these weights no load of the sizes, each as often as one likes, that the packer is found
    to take weighs more than one. ``None`` also where this would take too long to find.
    """
    known = [np.eye(len(sizes))[n] for n in range(len(sizes))]
    for _ in range(_TURNS):
        answer = linprog(
            -np.asarray(shares),
            A_ub=np.array(known),
            b_ub=np.ones(len(known)),
            bounds=(0, 1),
            method="highs",
        )
        if answer.status != 0:
            return None
        found = np.asarray(answer.x, dtype=np.float64)
        if float(found @ np.asarray(shares)) <= least:
            return None
        heaviest = _Heaviest(packer, sizes, found).load()
        if heaviest is None:
            return None
        if heaviest @ found <= 1 + _OVER:
            return tuple((found / max(float(heaviest @ found), 1.0)).tolist())
        known.append(heaviest)
    return None


class _Heaviest:
    """The search for the heaviest load of a piece, size by size, with as many of each as go in."""

    def __init__(self, packer: Packer, sizes: Sequence[int], weight: Floats) -> None:
        self._packer = packer
        order = np.argsort(-weight, kind="stable")
        self._order = [int(n) for n in order if weight[n] > _OVER]
        self._sizes, self._weight = sizes, weight
        self._areas = [packer.area(size) for size in sizes]
        self._room = packer.room()
        self._best, self._best_load = 0.0, np.zeros(len(sizes))
        self._tried = 0

    def load(self) -> Floats | None:
        """How many of each size the heaviest load has; nothing where too many had to be tried."""
        self._add((), np.zeros(len(self._sizes)), 0, self._room)
        return None if self._tried > _LOADS_TRIED else self._best_load

    def _add(self, content: Content, load: Floats, at: int, room: float) -> None:
        weight = float(load @ self._weight)
        if weight > self._best + _OVER:
            self._best, self._best_load = weight, load.copy()
        if self._best > _HEAVY_ENOUGH or at == len(self._order):
            return
        rest = self._order[at:]
        densest = max(self._weight[n] / self._areas[n] for n in rest)
        if weight + densest * room <= max(self._best, 1.0) + _OVER or self._tried > _LOADS_TRIED:
            return
        number = rest[0]
        self._tried += 1
        if self._areas[number] <= room and self._packer.packs(content, self._sizes[number]):
            more = load.copy()
            more[number] += 1
            fuller = self._packer.lay(content, self._sizes[number])
            self._add(fuller, more, at, room - self._areas[number])
        self._add(content, load, at + 1, room)
