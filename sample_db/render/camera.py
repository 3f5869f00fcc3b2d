"""Where a point of the mat falls in the photograph, and back.

The mat is a plane in millimetres, origin under the middle of the picture, x right and y up; the
photograph is upright pixels, x right and y down, the centre of the first pixel at (0.5, 0.5).
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sample_db.render.tint import Array

Point = tuple[float, float]
Ring = tuple[Point, ...]
Matrix = tuple[float, float, float, float, float, float, float, float, float]
Grid = NDArray[np.floating[Any]]


@dataclass(frozen=True)
class Camera:
    """A view of the mat: picture size in px, scale, turn in degrees and tilt per mm."""

    width: int = 1600
    height: int = 1200
    scale: float = 5.0
    """Pixels per millimetre in the middle of the picture."""
    turn: float = 0.0
    """Degrees counter-clockwise by which the mat appears turned."""
    tilt: Point = (0.0, 0.0)
    """How much nearer the mat comes per mm to the right and per mm upward."""

    @cached_property
    def to_px(self) -> Grid:
        """Mat millimetres to pixels, 3 × 3."""
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        turned = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])
        tilted = np.array([[1.0, 0, 0], [0, 1, 0], [-self.tilt[0], -self.tilt[1], 1]])
        k = self.scale
        frame = np.array([[k, 0, self.width / 2], [0, -k, self.height / 2], [0, 0, 1.0]])
        return _chain(frame, tilted, turned)

    @cached_property
    def to_mat(self) -> Grid:
        """Pixels to mat millimetres, 3 × 3."""
        return np.linalg.inv(self.to_px)


def laid(x: float, y: float, turn: float) -> Grid:
    """The 3 × 3 that lays a thing's own millimetres on the mat: turned, then moved to (x, y)."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    return np.array([[c, -s, x], [s, c, y], [0, 0, 1.0]])


def _chain(*matrices: Grid) -> Grid:
    out = matrices[0]
    for m in matrices[1:]:
        out = np.einsum("ij,jk->ik", out, m)
    return out


def chained(*matrices: Grid) -> Grid:
    """The product of 3 × 3 matrices, the last applied first."""
    return _chain(*matrices)


def carried(matrix: Grid, points: Iterable[Point]) -> Ring:
    """The points carried through a homography."""
    out = []
    for x, y in points:
        w = matrix[2, 0] * x + matrix[2, 1] * y + matrix[2, 2]
        px = (matrix[0, 0] * x + matrix[0, 1] * y + matrix[0, 2]) / w
        py = (matrix[1, 0] * x + matrix[1, 1] * y + matrix[1, 2]) / w
        out.append((float(px), float(py)))
    return tuple(out)


def carried_grid(matrix: Grid, x: Grid, y: Grid) -> tuple[Array, Array]:
    """Whole arrays carried through a homography, as 32-bit numbers."""
    w = matrix[2, 0] * x + matrix[2, 1] * y + matrix[2, 2]
    px = (matrix[0, 0] * x + matrix[0, 1] * y + matrix[0, 2]) / w
    py = (matrix[1, 0] * x + matrix[1, 1] * y + matrix[1, 2]) / w
    return px.astype(np.float32), py.astype(np.float32)


def flat(matrix: Grid) -> Matrix:
    """The nine numbers row by row, scaled so that the last is 1."""
    n = [float(v) for v in (matrix / matrix[2, 2]).ravel()]
    return n[0], n[1], n[2], n[3], n[4], n[5], n[6], n[7], n[8]
