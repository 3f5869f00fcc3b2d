"""Even places that lie in rows and columns, as the patches of a target do.

From one place and two of its neighbours the lattice is grown step by step, each step as long as
the one before, so that perspective is followed; then one homography is laid through all of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.flats import Flats
from bindery_stock.colour.space import Array

if TYPE_CHECKING:
    from scipy.spatial import KDTree

Cell = tuple[int, int]
"""Column and row of a lattice, counted from its first place."""

_NEAR: Final = 9
"""How many neighbours of a place are looked at."""
_ALIKE: Final = 2.6
"""How many times as large one place of a lattice may be as the next."""
_OFF: Final = 0.22
"""How far from where it is looked for a place may lie, in steps."""
_STEP: Final = (1.0, 2.6)
"""Length of a step, in sides of a place: frames take up to a half, evenness the rim."""
_LEAST: Final = 8
_TRIES: Final = 60
"""Lattices grown at most from one set of places."""
_ROUNDS: Final = 4
_MOST: Final = 48
"""Twice the patches of a target: what grows beyond is a mat, a weave, a wall or a larger chart."""


@dataclass(frozen=True)
class Lattice:
    """Places in rows and columns."""

    cells: dict[Cell, int]
    """Which place lies in a cell."""
    to_picture: Array
    """3 × 3 homography, columns and rows to pixels of the picture."""

    def places(self, cells: NDArray[Any]) -> Array:
        """Where cells (n × 2, fractions too) lie in the picture."""
        return mapped(self.to_picture, cells)


def mapped(homography: Array, points: NDArray[Any]) -> Array:
    """Points (n × 2) through a homography."""
    x, y = np.asarray(points, dtype=np.float64).T
    h = homography
    w = h[2, 0] * x + h[2, 1] * y + h[2, 2]
    w = np.where(np.abs(w) < 1e-9, 1e-9, w)
    return np.stack(
        [(h[0, 0] * x + h[0, 1] * y + h[0, 2]) / w, (h[1, 0] * x + h[1, 1] * y + h[1, 2]) / w], 1
    )


def lattices(found: Flats) -> Iterator[Lattice]:
    """Lattices of at least eight places, those with the likeliest beginnings first."""
    if len(found.areas) < _LEAST:
        return
    from scipy.spatial import KDTree  # noqa: PLC0415 - at first use

    tree = KDTree(found.centres)
    used = np.zeros(len(found.areas), dtype=bool)
    tries = 0
    for seed, across, down in _beginnings(found, tree):
        if used[seed]:
            continue
        tries += 1
        if tries > _TRIES:
            return
        cells = _grown(found, tree, seed, across, down)
        if len(cells) > _MOST:
            used[list(cells.values())] = True
        if not _LEAST <= len(cells) <= _MOST:
            continue
        lattice = _settled(found, tree, cells)
        if lattice is not None:
            used[list(lattice.cells.values())] = True
            yield lattice


def _beginnings(found: Flats, tree: "KDTree") -> Iterator[tuple[int, Array, Array]]:
    """Places with two neighbours aside of one another, best supported first.

    A place is supported by every neighbour that lies where a step would lead.
    """
    count = min(_NEAR, len(found.areas))
    sides = np.sqrt(found.areas)
    away, near = tree.query(found.centres, k=count)
    steps = found.centres[near] - found.centres[:, None]
    ratio = found.areas[near] / found.areas[:, None]
    low, high = _STEP
    fits = (ratio < _ALIKE) & (ratio > 1 / _ALIKE)
    fits &= (away > low * sides[:, None]) & (away < high * sides[:, None])
    chosen = []
    for seed in np.flatnonzero(fits.sum(axis=1) >= 3):
        best = _best_pair(steps[seed][fits[seed]])
        if best is not None:
            chosen.append((best[0], int(seed), best[1], best[2]))
    chosen.sort(key=lambda one: (-one[0], one[1]))
    for _, place, across, down in chosen:
        yield place, across, down


def _best_pair(steps: Array) -> tuple[int, Array, Array] | None:
    """The two steps that explain most of a place's neighbours, the second clockwise of the first
    as pixels count."""
    one, other = steps[:, None], steps[None, :]
    length = np.hypot(steps[:, 0], steps[:, 1])
    cross = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    longer = length[None, :] / length[:, None]
    aside = (cross >= 0.6 * length[:, None] * length[None, :]) & (longer > 0.55) & (longer < 1.8)
    first, second = np.nonzero(aside)
    if not len(first):
        return None
    a, b = steps[first], steps[second]
    wanted = np.stack([a, b, -a, -b, a + b, a - b, b - a, -a - b], axis=1)
    gap = np.linalg.norm(wanted[:, :, None] - steps, axis=3).min(axis=2)
    near = gap < _OFF * np.minimum(length[first], length[second])[:, None]
    support = near.sum(axis=1)
    # Of equally good pairs the shorter: the longer ones skip a place.
    best = int(np.lexsort((length[first] + length[second], -support))[0])
    return (int(support[best]), a[best], b[best]) if support[best] >= 4 else None


def _grown(found: Flats, tree: "KDTree", seed: int, across: Array, down: Array) -> dict[Cell, int]:
    """Step by step from the seed, each step as the last one in its direction."""
    cells: dict[Cell, int] = {(0, 0): seed}
    steps: dict[Cell, tuple[Array, Array]] = {(0, 0): (across, down)}
    taken = {seed}
    waiting = [(0, 0)]
    while waiting and len(cells) <= _MOST:
        cell = waiting.pop(0)
        place = cells[cell]
        for axis, sense in ((0, 1), (0, -1), (1, 1), (1, -1)):
            beside = (cell[0] + sense, cell[1]) if axis == 0 else (cell[0], cell[1] + sense)
            if beside in cells:
                continue
            step = sense * steps[cell][axis]
            hit = _place_at(found, tree, found.centres[place] + step, step, place)
            if hit is None or hit in taken:
                continue
            taken.add(hit)
            cells[beside] = hit
            moved = sense * (found.centres[hit] - found.centres[place])
            old = steps[cell]
            steps[beside] = (moved, old[1]) if axis == 0 else (old[0], moved)
            waiting.append(beside)
    return cells


def _place_at(found: Flats, tree: "KDTree", point: Array, step: Array, like: int) -> int | None:
    away, hit = tree.query(point)
    if away > _OFF * float(np.hypot(*step)):
        return None
    ratio = found.areas[hit] / found.areas[like]
    return int(hit) if 1 / _ALIKE < ratio < _ALIKE else None


def _settled(found: Flats, tree: "KDTree", cells: dict[Cell, int]) -> Lattice | None:
    """One homography through the places; cells skipped on the way are looked for by it."""
    lattice: Lattice | None = None
    for _ in range(_ROUNDS):
        through = homography_through(np.array(list(cells)), found.centres[list(cells.values())])
        if through is None:
            return None
        lattice = Lattice(cells, through)
        more = _looked_for(found, tree, lattice)
        if more == cells:
            return lattice
        cells = more
        if len(cells) < _LEAST:
            return None
    return lattice


def _looked_for(found: Flats, tree: "KDTree", lattice: Lattice) -> dict[Cell, int]:
    """What lies where the homography leads, one cell beyond what is known."""
    columns, rows = np.array(list(lattice.cells)).T
    grid = np.array(
        [
            (c, r)
            for c in range(columns.min() - 1, columns.max() + 2)
            for r in range(rows.min() - 1, rows.max() + 2)
        ]
    )
    where = lattice.places(grid)
    step = np.linalg.norm(lattice.places(grid + 0.5) - where, axis=1) * np.sqrt(2)
    away, near = tree.query(where)
    hits = np.asarray(near)
    usual = float(np.median(found.areas[list(lattice.cells.values())]))
    ratio = found.areas[hits] / usual
    sound = (away < _OFF * step) & (ratio < 2 * _ALIKE) & (ratio > 0.5 / _ALIKE)
    return {
        (int(c), int(r)): int(hit)
        for (c, r), hit, well in zip(grid, hits, sound, strict=True)
        if well
    }


def homography_through(cells: Array, points: Array) -> Array | None:
    """The homography that takes cells (n × 2) nearest to points (n × 2), or None on one line.

    Normalised as R. Hartley, "In defense of the eight-point algorithm", IEEE Trans. PAMI 19(6),
    1997, has it.
    """
    ours, one = _normal(np.asarray(cells, dtype=np.float64))
    theirs, other = _normal(points)
    x, y = ours.T
    u, v = theirs.T
    zero, unit = np.zeros_like(x), np.ones_like(x)
    rows = np.concatenate(
        [
            np.stack([x, y, unit, zero, zero, zero, -u * x, -u * y, -u], axis=1),
            np.stack([zero, zero, zero, x, y, unit, -v * x, -v * y, -v], axis=1),
        ]
    )
    _, sizes, turned = np.linalg.svd(rows)
    if sizes[7] < 1e-6 * sizes[0]:
        return None
    inner = turned[-1].reshape(3, 3)
    made = np.linalg.inv(other) @ inner @ one
    return np.asarray(made / made[2, 2]) if abs(made[2, 2]) > 1e-12 else None


def _normal(points: Array) -> tuple[Array, Array]:
    middle = points.mean(axis=0)
    scale = np.sqrt(2) / max(float(np.linalg.norm(points - middle, axis=1).mean()), 1e-9)
    matrix = np.array([[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1.0]])
    return (points - middle) * scale, matrix
