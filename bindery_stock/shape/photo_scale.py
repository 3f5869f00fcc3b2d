"""From the pixels of an upright photograph to the millimetres of the piece.

A flat sheet seen by a camera without lens error is mapped by a homography (R. Hartley and
A. Zisserman, *Multiple View Geometry in Computer Vision*, 2nd ed. 2004, ch. 2 and alg. 4.2, the
normalised direct linear transform). A known length gives only a similarity and cannot see tilt;
four corners of a rectangle, or a grid, give the whole map. What more than four points leave over
is the lens error.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import acos, ceil, degrees, hypot, isfinite, sqrt

import numpy as np
import numpy.typing as npt

from bindery_stock.errors import ShapeError
from bindery_stock.shape.outline import Point

Matrix = tuple[float, float, float, float, float, float, float, float, float]
"""A 3 × 3 homography, row by row."""
Points = npt.NDArray[np.float64]

STEEPEST_TILT = 35.0
"""Degrees from straight above beyond which a photograph is refused: the far side has too few
pixels left to be measured (our own limit)."""
PICKING = 1.0
"""How far, in pixels, a point set by hand lies from the true place (one standard deviation)."""
UNSEEN_TILT = 0.015
"""Relative error of a length where only a ruler gives the scale: 2 to 6 % of area was measured on
rendered photographs taken slightly aslant, so 1 to 3 % of length."""
_MOST_BOW = 0.1  # of a side's length: further off it, a point is no middle of the side
_STATED_OVER = 200.0  # mm: the length over which the uncertainty is said


@dataclass(frozen=True)
class PhotoScale:
    """How a photograph shows the plane in which the piece lies."""

    matrix: Matrix
    """Upright photo pixels (y down) to millimetres (y up), row by row."""
    uncertainty: float
    """Standard uncertainty of a length of 200 mm, in mm."""
    tilt: float | None
    """Degrees between the camera's view and straight down; ``None`` where it cannot be known."""
    basis: str
    """What the scale rests on, in words."""

    @classmethod
    def from_length(cls, start: Point, end: Point, mm: float) -> "PhotoScale":
        """The scale from two pixels a known length apart, as on a ruler. Tilt stays unseen."""
        _check_length(mm, "known length")
        ends = _pixels((start, end), 2)
        apart = hypot(*(ends[1] - ends[0]))
        if apart < 2.0:
            raise ShapeError(
                "The two ends of the known length lie on one spot, so the scale would be zero. "
                "Drag along the ruler from one mark to another far from it."
            )
        scale = mm / apart
        picked = sqrt(2.0) * PICKING / apart
        return cls(
            (scale, 0.0, 0.0, 0.0, -scale, 0.0, 0.0, 0.0, 1.0),
            _STATED_OVER * hypot(picked, UNSEEN_TILT),
            None,
            f"a known length of {mm:g} mm; tilt unseen",
        )

    @classmethod
    def from_rectangle(cls, corners: Sequence[Point], width: float, height: float) -> "PhotoScale":
        """The scale from the four corners of a rectangle of ``width`` × ``height`` mm.

        The corners go round the rectangle, either way; the side from the first to the second is
        ``width`` long. With the middle of each side marked between its corners, eight points from
        a corner on, the lens error is read too. Millimetres start in its lower-left corner. Raises
        ``ShapeError`` where the corners do not make a rectangle seen aslant, or the photograph is
        too oblique.
        """
        _check_length(width, "rectangle's width")
        _check_length(height, "rectangle's height")
        seen = _pixels(corners)
        if len(seen) not in (4, 8):
            raise ShapeError(
                f"{len(seen)} points are marked. Mark the four corners, or eight points: the four "
                "corners and the middle of each side."
            )
        outer = seen if len(seen) == 4 else seen[0::2]
        winding = _winding(outer)
        far = np.array([(0.0, height), (width, height), (width, 0.0), (0.0, 0.0)])
        true = far if winding > 0 else far[[3, 2, 1, 0]]
        basis = f"a rectangle of {width:g} × {height:g} mm"
        if len(seen) == 4:
            return cls._fitted(seen, true, outer, f"{basis}; lens error unseen")
        _check_middles(outer, seen[1::2])
        middles = (true + np.roll(true, -1, axis=0)) / 2.0
        true = np.stack((true, middles), axis=1).reshape(8, 2)
        return cls._fitted(seen, true, outer, basis)

    @classmethod
    def from_grid(cls, nodes: Sequence[Sequence[Point]], pitch: float) -> "PhotoScale":
        """The scale from the nodes of a grid with lines ``pitch`` mm apart, as on a cutting mat.

        ``nodes`` are rows of pixels, the top row of the grid first, each from left to right. The
        lens error is read from what the best homography leaves over.
        """
        _check_length(pitch, "pitch of the grid")
        rows, columns = len(nodes), len(nodes[0]) if nodes else 0
        if rows < 2 or columns < 2 or any(len(row) != columns for row in nodes):
            raise ShapeError(
                "The grid needs at least two rows of two points, each row as long as the others. "
                "Mark the missing crossings."
            )
        seen = _pixels([node for row in nodes for node in row], rows * columns)
        x, y = np.meshgrid(np.arange(columns) * pitch, np.arange(rows)[::-1] * pitch)
        true = np.stack((x.ravel(), y.ravel()), axis=1)
        outer = [0, columns - 1, rows * columns - 1, (rows - 1) * columns]
        _winding(seen[outer])
        basis = f"a grid of {rows} × {columns} points {pitch:g} mm apart"
        if len(seen) == 4:
            basis = f"{basis}; lens error unseen"
        return cls._fitted(seen, true, seen[outer], basis)

    @classmethod
    def _fitted(cls, seen: Points, true: Points, outer: Points, basis: str) -> "PhotoScale":
        """The best homography, with the lens error where more than four points tell it."""
        fitted = _fit(seen, true)
        shifts = PICKING * np.eye(2 * len(seen))
        moved = [_fit(seen + shift.reshape(-1, 2), true) for shift in shifts]
        scale = cls._seen_from(fitted, outer, moved, basis)
        freedom = 2 * len(seen) - 8
        if freedom == 0:
            return scale
        left_over = _apply(fitted, seen) - true
        lens = sqrt(float((left_over**2).sum()) / freedom)
        unsure = hypot(scale.uncertainty, sqrt(2.0) * lens)
        return cls(scale.matrix, unsure, scale.tilt, f"{basis}; lens error {lens:.1f} mm")

    @classmethod
    def _seen_from(
        cls, fitted: Points, seen: Points, moved: list[Points], basis: str
    ) -> "PhotoScale":
        """Judge a homography by its tilt and by how it moves when the marks do."""
        middle = seen.mean(axis=0)
        tilt = _tilt(fitted, middle)
        if tilt > STEEPEST_TILT:
            raise ShapeError(
                f"The photograph was taken too much from the side (about {tilt:.0f}°; up to "
                f"{STEEPEST_TILT:.0f}° can be measured). Hold the camera straight above the piece "
                "and photograph it again."
            )
        ends = _apply(_inverse(fitted), _crossing_lengths(fitted, middle))
        squares = [
            (np.hypot(*(_apply(each, ends)[0::2] - _apply(each, ends)[1::2]).T) - _STATED_OVER) ** 2
            for each in moved
        ]
        unsure = sqrt(float(np.sum(squares, axis=0).max()))
        return cls(_nine(fitted), unsure, tilt, basis)

    @cached_property
    def _array(self) -> Points:
        return np.array(self.matrix).reshape(3, 3)

    def to_mm(self, points: Sequence[Point] | Points) -> Points:
        """Millimetres (n × 2) of upright photo pixels."""
        return _apply(self._array, _pixels(points))

    def to_px(self, points: Sequence[Point] | Points) -> Points:
        """Upright photo pixels (n × 2) of millimetres."""
        return _apply(_inverse(self._array), _pixels(points))

    def turned(self, tail: Point, head: Point) -> "PhotoScale":
        """The same scale with the warp arrow drawn from ``tail`` to ``head`` (pixels) as +y."""
        start, end = self.to_mm((tail, head))
        x, y = end - start
        length = hypot(x, y)
        if length == 0.0:
            raise ShapeError("The warp arrow has no length. Draw it along the warp.")
        turn = np.array([(y / length, -x / length, 0), (x / length, y / length, 0), (0, 0, 1)])
        return self._changed(turn)

    def settled(self, points: Sequence[Point] | Points) -> "PhotoScale":
        """The same scale moved so that the least x and y of ``points`` (pixels) become 0 mm."""
        left, low = self.to_mm(points).min(axis=0)
        return self._changed(np.array([(1.0, 0.0, -left), (0.0, 1.0, -low), (0.0, 0.0, 1.0)]))

    def words(self) -> str:
        """How far to trust the scale: ``±0.6 mm over 200 mm``, and what it rests on."""
        unsure = max(ceil(self.uncertainty * 10.0) / 10.0, 0.1)
        tilt = "" if self.tilt is None else f"; about {self.tilt:.0f}° aslant"
        return f"±{unsure:.1f} mm over {_STATED_OVER:.0f} mm, from {self.basis}{tilt}"

    def _changed(self, after: Points) -> "PhotoScale":
        matrix = np.einsum("ij,jk->ik", after, self._array)
        return PhotoScale(_nine(matrix), self.uncertainty, self.tilt, self.basis)


def _pixels(points: Sequence[Point] | Points, count: int | None = None) -> Points:
    array = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    if count is not None and len(array) != count:
        raise ShapeError(f"{len(array)} points were marked where {count} are needed.")
    if not np.isfinite(array).all():
        raise ShapeError("A point is not a number. Mark it again on the photograph.")
    return array


def _check_length(mm: float, name: str) -> None:
    if not isfinite(mm) or mm <= 0.0:
        raise ShapeError(f"The {name} is {mm:g} mm. Type a length above nothing.")


def _winding(quad: Points) -> float:
    """Positive where the corners go round clockwise as seen; refuses what is not convex."""
    sides = np.roll(quad, -1, axis=0) - quad
    turns = sides[:, 0] * np.roll(sides, -1, axis=0)[:, 1]
    turns -= sides[:, 1] * np.roll(sides, -1, axis=0)[:, 0]
    if not (np.all(turns > 1.0) or np.all(turns < -1.0)):
        raise ShapeError(
            "The four corners do not go round a rectangle. Mark them one after another round its "
            "edge, each in a place of its own."
        )
    return float(turns[0])


def _check_middles(corners: Points, middles: Points) -> None:
    """Refuse middles that do not lie near the straight side between their corners."""
    sides = np.roll(corners, -1, axis=0) - corners
    to_middles = middles - corners
    along = (sides * to_middles).sum(axis=1) / (sides**2).sum(axis=1)
    off = np.hypot(*(to_middles - along[:, None] * sides).T) / np.hypot(*sides.T)
    if np.any(off > _MOST_BOW) or np.any(along < 0.2) or np.any(along > 0.8):
        raise ShapeError(
            "The eight points are not four corners with the middle of each side between them. "
            "Begin with a corner, and mark the middle of each side on the side itself."
        )


def _fit(seen: Points, true: Points) -> Points:
    """The homography from ``seen`` to ``true`` by the normalised direct linear transform."""
    (a, to_unit), (b, to_true) = _normalised(seen), _normalised(true)
    zeros, ones = np.zeros(len(a)), np.ones(len(a))
    x, y, u, v = a[:, 0], a[:, 1], b[:, 0], b[:, 1]
    first = np.stack((x, y, ones, zeros, zeros, zeros, -u * x, -u * y, -u), axis=1)
    second = np.stack((zeros, zeros, zeros, x, y, ones, -v * x, -v * y, -v), axis=1)
    smallest = np.linalg.svd(np.concatenate((first, second)))[2][-1].reshape(3, 3)
    fitted = np.linalg.inv(to_true) @ smallest @ to_unit
    return np.asarray(fitted / fitted[2, 2], dtype=np.float64)


def _normalised(points: Points) -> tuple[Points, Points]:
    middle = points.mean(axis=0)
    spread = float(np.hypot(*(points - middle).T).mean()) / sqrt(2.0)
    matrix = np.array(
        [(1 / spread, 0, -middle[0] / spread), (0, 1 / spread, -middle[1] / spread), (0, 0, 1)]
    )
    return (points - middle) / spread, matrix


def _apply(matrix: Points, points: Points) -> Points:
    x, y = points[:, 0], points[:, 1]
    u, v, w = (row[0] * x + row[1] * y + row[2] for row in matrix)
    if np.any(w * matrix[2, 2] <= 0.0):
        raise ShapeError(
            "A point lies beyond the horizon of the photograph's perspective. Set the scale again "
            "from four corners, or mark the point on the sheet itself."
        )
    return np.stack((u / w, v / w), axis=1)


def _inverse(matrix: Points) -> Points:
    return np.asarray(np.linalg.inv(matrix), dtype=np.float64)


def _jacobian(matrix: Points, at: Points) -> Points:
    x, y = at
    u, v, w = (row[0] * x + row[1] * y + row[2] for row in matrix)
    across = matrix[0, :2] * w - matrix[2, :2] * u
    down = matrix[1, :2] * w - matrix[2, :2] * v
    return np.array((across / (w * w), down / (w * w)), dtype=np.float64)


def _tilt(matrix: Points, at: Points) -> float:
    """Degrees of foreshortening at a pixel: a circle seen at tilt t is an ellipse of cos t."""
    greatest, least = np.linalg.svd(_jacobian(matrix, at), compute_uv=False)
    return degrees(acos(min(float(least / greatest), 1.0)))


def _crossing_lengths(matrix: Points, middle: Points) -> Points:
    """Ends of one length along x and one along y, crossing in the middle, in mm."""
    x, y = _apply(matrix, middle.reshape(1, 2))[0]
    half = _STATED_OVER / 2.0
    return np.array([(x - half, y), (x + half, y), (x, y - half), (x, y + half)])


def _nine(matrix: Points) -> Matrix:
    a, b, c, d, e, f, g, h, i = (float(value) for value in matrix.ravel())
    return (a, b, c, d, e, f, g, h, i)
