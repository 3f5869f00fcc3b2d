"""Finding the 24 patches of a target in a photograph from its four corner patches.

The four points may be given from any corner and in either sense: of the eight ways a grid of six
by four can lie on them the one whose colours agree with the reference is taken.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bindery_stock.colour.decode import Negative
from bindery_stock.colour.difference import delta_e00
from bindery_stock.colour.models import Sightings
from bindery_stock.colour.patch import patch_pixels
from bindery_stock.colour.reference import COLUMNS, GREYS, PATCHES, ROWS, SINCE_2014, Reference
from bindery_stock.colour.space import Array, Lab, apply_matrix, xyz_to_lab
from bindery_stock.errors import ColourError

_SHARE: Final = 0.44
"""The middle of a patch that is read, as a share of the pitch: clear of its frame."""
_NEARLY_FULL: Final = 250 / 255
"""From here on a camera's shoulder has flattened the colour."""
_CLIPPED_SHARE: Final = 0.1
_DROWNED_SHARE: Final = 0.5
_UNEVEN: Final = 8.0
"""Spread in ΔE00 within one painted patch that only glare, a shadow or a thing across it makes."""

_GRID: Final = np.array([(c, r) for r in range(ROWS) for c in range(COLUMNS)], dtype=np.float64)
_UNIT: Final = np.array([(0, 0), (COLUMNS - 1, 0), (COLUMNS - 1, ROWS - 1), (0, ROWS - 1)])
"""Grid places of patches 1, 6, 24, 19: once round the target."""


@dataclass(frozen=True)
class Target:
    """A target of 24 patches in a photograph.

    ``corners`` are the centres of patches 1, 6, 19 and 24 in upright pixels; where they are given
    in another order the way the target lies is found. ``reference`` is what the patches are: a
    ``Reference`` or 24 CIELAB D50 colours.
    """

    corners: Sequence[tuple[float, float]]
    reference: Reference | Sequence[Lab] = SINCE_2014

    def __post_init__(self) -> None:
        """Refuse corners that make no four-sided figure, and values that are not 24 colours."""
        _ = self.known
        points = np.asarray(self.corners, dtype=np.float64)
        if points.shape != (4, 2) or not np.isfinite(points).all():
            raise ColourError("A target is marked by four points: its corner patches.")
        ring = _ring(points)
        after = np.roll(ring, -1, axis=0) - ring
        turns = after[:, 0] * np.roll(after, -1, axis=0)[:, 1]
        turns = turns - after[:, 1] * np.roll(after, -1, axis=0)[:, 0]
        if not ((turns > 1).all() or (turns < -1).all()):
            raise ColourError(
                "The target's four corner points do not make a four-sided figure. Put one on the "
                "middle of each corner patch."
            )

    @property
    def known(self) -> Reference:
        """The reference with its source named."""
        if isinstance(self.reference, Reference):
            return self.reference
        return Reference(tuple(self.reference), "values given by the user")


@dataclass(frozen=True)
class TargetSeen:
    """The patches of a target as a photograph shows them, in the order of the reference."""

    linear: Array
    """24 × 3 linear channels."""
    lab: Array
    """24 × 3 CIELAB as the photograph's profile has them, uncorrected."""
    spread: Array
    """24 root mean square ΔE00 within the patch."""
    faults: tuple[str, ...]
    """24: why a patch cannot be used, or nothing."""
    to_grid: Array
    """3 × 3 homography from upright pixels to columns and rows of the target."""
    turned: bool
    """Whether the corners were given in another order than 1, 6, 19, 24."""

    @property
    def where(self) -> Array:
        """24 × 2: where each lies, ±1 at the outer columns of the target."""
        return places(_GRID)

    def sightings(self, matrix: Array, reference: Reference) -> Sightings:
        """All 24, usable or not, for fitting."""
        greys = np.zeros(len(PATCHES), dtype=bool)
        greys[list(GREYS)] = True
        return Sightings(self.linear, self.where, reference.array, greys, matrix)


def places(grid: Array) -> Array:
    """Columns and rows (n × 2) as ±1 at the outer columns, 0 in the middle."""
    half = (COLUMNS - 1) / 2
    return (grid - ((COLUMNS - 1) / 2, (ROWS - 1) / 2)) / half


def project(homography: Array, points: ArrayLike) -> Array:
    """Points (n × 2) through a homography."""
    p = np.asarray(points, dtype=np.float64)
    flat = np.concatenate([p, np.ones((len(p), 1))], axis=1)
    moved = apply_matrix(homography, flat)
    return np.asarray(moved[:, :2] / moved[:, 2:])


def find_patches(photo: Negative, target: Target) -> TargetSeen:
    """Read the 24 patches, whichever way the target lies.

    Raises ``ColourError`` where the points lie outside the photograph or the patches are too small.
    """
    ring = _ring(np.asarray(target.corners, dtype=np.float64))
    ways = [np.roll(r, k, axis=0) for r in (ring, ring[::-1]) for k in range(4)]
    given = np.asarray(target.corners, dtype=np.float64)[[0, 1, 3, 2]]
    # As given first: it wins a tie.
    ways.sort(key=lambda way: not np.array_equal(way, given))
    scores = [_disagreement(photo, way, target.known) for way in ways]
    best = ways[int(np.argmin(scores))]
    return _read(photo, best, turned=not np.array_equal(best, given))


def _ring(points: Array) -> Array:
    """The four points in order once round their middle."""
    away = points - points.mean(axis=0)
    return points[np.argsort(np.arctan2(away[:, 1], away[:, 0]))]


def homography(source: ArrayLike, goal: ArrayLike) -> Array:
    """The 3 × 3 that takes four points to four others."""
    rows, wanted = [], []
    pairs = zip(np.asarray(source, float), np.asarray(goal, float), strict=True)
    for (x, y), (u, v) in pairs:
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        wanted += [u, v]
    solved = np.linalg.solve(np.array(rows), np.array(wanted))
    return np.append(solved, 1.0).reshape(3, 3)


def _squares(to_photo: Array, share: float) -> NDArray[Any]:
    """The four corners of the middle of each patch: 24 × 4 × 2 in pixels."""
    half = share / 2
    offsets = np.array([(-half, -half), (half, -half), (half, half), (-half, half)])
    around = (_GRID[:, None] + offsets[None]).reshape(-1, 2)
    return project(to_photo, around).reshape(-1, 4, 2)


def _codes(photo: Negative, way: Array, share: float) -> list[NDArray[Any]]:
    squares = _squares(homography(_UNIT, way), share)
    return [
        patch_pixels(
            photo, [(float(x), float(y)) for x, y in square], f"Target patch {n}", least=9
        ).codes
        for n, square in enumerate(squares, 1)
    ]


def _disagreement(photo: Negative, way: Array, reference: Reference) -> float:
    """How badly the colours on a grid laid this way agree with the reference.

    The median over the patches: a leaf over a third of the target does not sway it.
    """
    codes = _codes(photo, way, _SHARE)
    light = np.array([np.median(photo.encoding.linear(c), axis=0) for c in codes])
    measured = xyz_to_lab(apply_matrix(photo.encoding.matrix, light))
    return float(np.median(damped(measured, reference.array)))


def damped(measured: Array, known: Array) -> Array:
    """How far each colour stays from its reference after the best affine map in CIELAB.

    Least absolute deviations by reweighting: foreign colours do not pull the map their way.
    """
    terms = np.concatenate([measured, np.ones((len(measured), 1))], axis=1)
    weight = np.ones(len(measured))
    away = weight
    for _ in range(20):
        root = np.sqrt(weight)[:, None]
        fitted = np.linalg.lstsq(terms * root, known * root, rcond=None)[0]
        away = np.linalg.norm(np.einsum("ni,ij->nj", terms, fitted) - known, axis=1)
        weight = 1 / np.maximum(away, 1.0)
    return np.asarray(away)


def _read(photo: Negative, way: Array, *, turned: bool) -> TargetSeen:
    linear, spread, faults = [], [], []
    for codes in _codes(photo, way, _SHARE):
        light = photo.encoding.linear(codes)
        middle = np.median(light, axis=0)
        labs = xyz_to_lab(apply_matrix(photo.encoding.matrix, light))
        centre = xyz_to_lab(apply_matrix(photo.encoding.matrix, middle))
        uneven = float(np.sqrt(np.mean(delta_e00(centre, labs) ** 2)))
        linear.append(middle)
        spread.append(uneven)
        faults.append(_fault(codes, uneven))
    seen = np.array(linear)
    return TargetSeen(
        linear=seen,
        lab=xyz_to_lab(apply_matrix(photo.encoding.matrix, seen)),
        spread=np.array(spread),
        faults=tuple(faults),
        to_grid=homography(way, _UNIT),
        turned=turned,
    )


def _fault(codes: NDArray[Any], uneven: float) -> str:
    top = 65535 if codes.dtype.itemsize > 1 else 255
    if ((codes >= top * _NEARLY_FULL).mean(axis=0) > _CLIPPED_SHARE).any():
        return "clipped: too bright"
    if ((codes == 0).mean(axis=0) > _DROWNED_SHARE).any():
        return "clipped: outside what the photograph can hold"
    if uneven > _UNEVEN:
        return "uneven: glare, a shadow or something across it"
    return ""
