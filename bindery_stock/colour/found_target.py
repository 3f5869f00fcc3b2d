"""A target of 24 patches found in a photograph by itself.

It is looked for as a lattice of even places whose colours, six by four of them, agree with
the reference after the best affine map in CIELAB: so light, white balance and exposure of the
photograph do not matter. The picture is looked at small first, then in larger sizes.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.decode import Negative, open_negative
from bindery_stock.colour.flats import Flats, flats
from bindery_stock.colour.lattice import Lattice, homography_through, lattices, mapped
from bindery_stock.colour.reference import COLUMNS, ROWS, SINCE_2014, Reference
from bindery_stock.colour.small_picture import SmallPicture, small_pictures
from bindery_stock.colour.space import Array
from bindery_stock.colour.target import Target, find_patches, project
from bindery_stock.errors import ColourError

SURE: Final = 9.0
"""Up to here a target is taken …"""
ASKED: Final = 20.0
"""… and up to here offered: median distance in CIELAB after the best affine map."""
_LEAST_SEEN: Final = 10
_LARGEST: Final = 0.05
"""Of the picture: no patch of a target that lies in it whole is larger."""
_BESIDE: Final = 8
"""More places of the same lattice round about belong to a larger chart, not to a target."""
_POINTS: Final = np.array(
    [(x, y) for x in (-0.16, -0.08, 0, 0.08, 0.16) for y in (-0.16, -0.08, 0, 0.08, 0.16)]
)
"""Where a cell is sampled, in steps from its middle."""
_GRID: Final = np.array([(c, r) for r in range(ROWS) for c in range(COLUMNS)])
_WAYS: Final = tuple(
    np.stack(way, axis=1)
    for way in (
        (_GRID[:, 0], _GRID[:, 1]),
        (COLUMNS - 1 - _GRID[:, 0], ROWS - 1 - _GRID[:, 1]),
        (ROWS - 1 - _GRID[:, 1], _GRID[:, 0]),
        (_GRID[:, 1], COLUMNS - 1 - _GRID[:, 0]),
    )
)
"""The four turns in which 24 patches can lie on a lattice, by their cells."""
_WIDEST: Final = 40
"""Cells of a lattice with its surroundings; a wider one is a mat, a wall or a fence."""
_REWEIGHTED: Final = 16
_SCALE: Final = 50.0
_HAIR: Final = 1e-3
"""Keeps a lattice of one colour from dividing by nothing."""
_CORNERS: Final = (0, COLUMNS - 1, (ROWS - 1) * COLUMNS, ROWS * COLUMNS - 1)
_MOST_FAULTS: Final = 2
"""Patches that may not serve where a target lay before: a shadow, a finger."""

Corners = Sequence[tuple[float, float]]


def _go_on() -> None:
    """Nobody asks the search to end."""


@dataclass(frozen=True, slots=True)
class FoundTarget:
    """A target found in a photograph by itself."""

    target: Target
    """Its corners in the order of ``Target``."""
    score: float
    """Median distance of its colours from the reference in CIELAB, after the best affine map."""
    sure: bool
    """Whether it may be taken; otherwise it is to be offered."""


def find_target(
    photo: Path,
    reference: Reference = SINCE_2014,
    *,
    tried: Sequence[Corners] = (),
    check: Callable[[], None] = _go_on,
) -> FoundTarget | None:
    """Look for a target of 24 patches in a photograph; None where there is none.

    ``tried`` are corners looked at first: where the target lay in another photograph of the
    sitting. ``check`` is called often and ends the search by raising. Raises ``PhotoError`` where
    the file cannot be read.
    """
    return target_in(open_negative(Path(photo)), reference, tried=tried, check=check)


def target_in(
    photo: Negative,
    reference: Reference = SINCE_2014,
    *,
    tried: Sequence[Corners] = (),
    check: Callable[[], None] = _go_on,
) -> FoundTarget | None:
    """As ``find_target``, in a photograph already decoded."""
    if not photo.has_colour:
        return None
    for corners in tried:
        check()
        there = _where_it_lay(photo, corners, reference)
        if there is not None:
            return there
    best: FoundTarget | None = None
    for small in small_pictures(photo):
        for found in flats(small.codes, _LARGEST):
            check()
            for lattice in lattices(found):
                check()
                one = _best_in(small, found, lattice, reference)
                if one is not None and (best is None or one.score < best.score):
                    best = one
            if best is not None and best.sure:
                return best
    return best


def _where_it_lay(photo: Negative, corners: Corners, reference: Reference) -> FoundTarget | None:
    """The target where it lay before; None unless nearly every patch lies within its place."""
    try:
        seen = find_patches(photo, Target(corners, reference))
    except ColourError:  # the place lies outside this photograph
        return None
    score = float(np.median(away(seen.lab[None], reference.array)))
    if score > SURE or sum(map(bool, seen.faults)) > _MOST_FAULTS:
        return None
    places = project(np.asarray(np.linalg.inv(seen.to_grid), np.float64), _GRID[list(_CORNERS)])
    return FoundTarget(Target([(float(x), float(y)) for x, y in places], reference), score, True)


def _best_in(
    small: SmallPicture, found: Flats, lattice: Lattice, reference: Reference
) -> FoundTarget | None:
    windows, labs = _windows(small, lattice)
    if not len(windows):
        return None
    scores = np.median(away(labs, reference.array), axis=1)
    best = int(np.argmin(scores))
    score = float(scores[best])
    if score > ASKED:
        return None
    corners = _corners(found, lattice, windows[best]) * small.factor
    target = Target([(float(x), float(y)) for x, y in corners], reference)
    return FoundTarget(target, score, score <= SURE)


def away(seen: Array, known: Array) -> Array:
    """How far each of n colours lies from what it is to be, many times over (w × n).

    ``seen`` is w × n × 3 CIELAB, ``known`` n × 3. As ``target.damped``, for many at once: the best
    affine map in least absolute deviations, by reweighting.
    """
    terms = np.concatenate([seen / _SCALE, np.ones((*seen.shape[:2], 1))], axis=2)
    weight = np.ones(seen.shape[:2])
    off = weight
    for _ in range(_REWEIGHTED):
        weighed = terms * weight[..., None]
        normal = np.einsum("wni,wnj->wij", weighed, terms) + _HAIR * np.eye(4)
        goal = np.einsum("wni,nj->wij", weighed, known)
        mapped_to = np.einsum("wni,wij->wnj", terms, np.linalg.solve(normal, goal))
        off = np.sqrt(((mapped_to - known) ** 2).sum(axis=2))
        weight = 1 / np.maximum(off, 1.0)
    return np.asarray(off)


def _windows(small: SmallPicture, lattice: Lattice) -> tuple[NDArray[np.int_], Array]:
    """Every way 24 patches can lie on the lattice: w × 24 × 2 cells in the order of the reference,
    and their colours, w × 24 × 3 CIELAB. None of them leaves the picture."""
    known = np.array(list(lattice.cells))
    low, high = known.min(axis=0) - (COLUMNS - 1), known.max(axis=0) + (COLUMNS - 1)
    if (high - low).max() > _WIDEST:
        return np.zeros((0, 24, 2), np.int_), np.zeros((0, 24, 3))
    labs, inside = _cells(small, lattice, low, high)
    seen = np.zeros(inside.shape)
    seen[tuple((known - low).T)] = 1
    windows = []
    for way in _WAYS:
        starts = np.moveaxis(np.indices(high - low - way.max(axis=0) + 1), 0, -1).reshape(-1, 1, 2)
        cells = way + starts
        at = (cells[..., 0], cells[..., 1])
        count = seen[at].sum(axis=1)
        fits = (count >= _LEAST_SEEN) & (len(known) - count <= _BESIDE) & inside[at].all(axis=1)
        windows.append(cells[fits])
    every = np.concatenate(windows)
    return every + low, labs[every[..., 0], every[..., 1]]


def _cells(
    small: SmallPicture, lattice: Lattice, low: NDArray[np.int_], high: NDArray[np.int_]
) -> tuple[Array, NDArray[np.bool_]]:
    """CIELAB of the middle of every cell (columns × rows × 3), and which lie in the picture."""
    shape = tuple(high - low + 1)
    cells = np.moveaxis(np.indices(shape), 0, -1).reshape(-1, 2) + low
    points = (cells[:, None] + _POINTS[None]).reshape(-1, 2)
    where = np.floor(lattice.places(points)).reshape(len(cells), -1, 2)
    height, width = small.codes.shape[:2]
    inside = ((where >= 0) & (where < (width, height))).all(axis=(1, 2))
    at = where.clip(0, (width - 1, height - 1)).astype(np.int_)
    codes = np.median(small.codes[at[..., 1], at[..., 0]], axis=1).astype(np.uint8)
    labs = small.labs(codes)
    return labs.reshape(*shape, 3), inside.reshape(shape)


def _corners(found: Flats, lattice: Lattice, cells: NDArray[np.int_]) -> Array:
    """The corner patches, by a homography through the places of these cells alone."""
    seen = [lattice.cells.get((int(c), int(r))) for c, r in cells]
    rows = [k for k, place in enumerate(seen) if place is not None]
    places = found.centres[[place for place in seen if place is not None]]
    through = homography_through(_GRID[rows].astype(np.float64), places)
    if through is None:
        return lattice.places(cells[list(_CORNERS)])
    return mapped(through, _GRID[list(_CORNERS)])
