"""The colour of a piece place by place: the mean light in small squares over its outline.

One reading speaks for a whole piece; under a part the cloth may be faded, stained or stamped.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PIL import Image, ImageDraw

from bindery_stock.colour.decode import Negative
from bindery_stock.colour.difference import delta_e00
from bindery_stock.colour.patch import Polygon, patch_mean, patch_pixels
from bindery_stock.colour.space import Array, Lab, apply_matrix, check_lab, lab_to_xyz, xyz_to_lab
from bindery_stock.errors import ColourError

CELL_MM: Final = 3.0
"""Side of a square: finer than the bands of a part that are seen, coarser than the weave."""
_MOST_PIXELS: Final = 1_500_000
"""So many pixels of the box about a piece are looked at, spread evenly: some hundred a square."""
_LEAST_COVERED: Final = 0.25
"""Share of a square that must lie on the piece, for it to speak."""
_FINE: Final = 4
"""Places looked at along each side of a square, where a shape covers it in part."""

Box = tuple[float, float, float, float]
"""Left, low, right, high in mm."""


@dataclass(frozen=True, eq=False)
class ColourMap:
    """The light of a piece in squares, relative to its own reading."""

    cell: float
    """Side of a square, mm."""
    origin: tuple[float, float]
    """The lower left corner of the first square, mm of the piece."""
    xyz: NDArray[np.float32]
    """Rows (up the warp) × columns × 3, D50, Y = 1 for the white; NaN where no cloth is."""

    def lab(self) -> Array:
        """CIELAB of each square, rows × columns × 3; NaN where no cloth is."""
        return xyz_to_lab(self.xyz.astype(np.float64))

    @cached_property
    def _sums(self) -> Array:
        """Summed light and squares of cloth, left of and below each corner of the grid."""
        known = np.isfinite(self.xyz[..., :1])
        stacked = np.concatenate([np.where(known, self.xyz, 0.0), known], axis=-1)
        sums = np.cumsum(np.cumsum(stacked, axis=0, dtype=np.float64), axis=1)
        return np.pad(sums, ((1, 0), (1, 0), (0, 0)))

    @cached_property
    def spread(self) -> float:
        """Root mean square ΔE00 of the cloth about its own mean."""
        known = self.xyz[np.isfinite(self.xyz[..., 0])].astype(np.float64)
        return float(
            np.sqrt(np.mean(delta_e00(xyz_to_lab(known.mean(axis=0)), xyz_to_lab(known)) ** 2))
        )

    def mean_in(self, boxes: ArrayLike) -> Array:
        """The mean XYZ of the cloth in sets of upright boxes (… × k × 4: left, low, right, high
        in mm): … × 3.

        Squares count by the share of them that lies in a box; NaN where there is no cloth.
        """
        sides = np.asarray(boxes, dtype=np.float64)
        x0, y0, x1, y1 = (sides[..., n] for n in range(4))
        total = self._below(x1, y1) - self._below(x0, y1) - self._below(x1, y0)
        summed = (total + self._below(x0, y0)).sum(axis=-2)
        with np.errstate(invalid="ignore", divide="ignore"):
            mean = summed[..., :3] / summed[..., 3:]
        mean[summed[..., 3] <= 0.0] = np.nan
        return np.asarray(mean)

    def _below(self, x: Array, y: Array) -> Array:
        sums = self._sums
        across, left = self._spot(x, 0, sums.shape[1] - 1)
        up, low = self._spot(y, 1, sums.shape[0] - 1)
        across, up = across[..., None], up[..., None]
        lower = sums[low, left] * (1 - across) + sums[low, left + 1] * across
        upper = sums[low + 1, left] * (1 - across) + sums[low + 1, left + 1] * across
        return np.asarray(lower * (1 - up) + upper * up)

    def _spot(self, at: Array, axis: int, count: int) -> tuple[Array, NDArray[np.intp]]:
        spot = np.clip((at - self.origin[axis]) / self.cell, 0.0, count)
        square = np.minimum(spot.astype(np.intp), count - 1)
        return spot - square, square

    def cells_in(self, rings: Sequence[Polygon]) -> tuple[Array, Array]:
        """The squares of cloth that convex shapes touch: their XYZ (n × 3) and shares (n,).

        ``rings`` are corners in mm of the piece; the share is of a square's area, up to 1.
        """
        shapes = [np.asarray(ring, dtype=np.float64) for ring in rings]
        reach = (np.concatenate(shapes) - self.origin) / self.cell
        last = np.array(self.xyz.shape[1::-1])
        left, low = (int(v) for v in np.clip(np.floor(reach.min(axis=0)), 0, last))
        right, high = (int(v) for v in np.clip(np.ceil(reach.max(axis=0)), 0, last))
        fine = (np.arange(_FINE) + 0.5) / _FINE
        x = self.origin[0] + (np.arange(left, right)[:, None] + fine).ravel() * self.cell
        y = self.origin[1] + (np.arange(low, high)[:, None] + fine).reshape(-1, 1) * self.cell
        inside = np.zeros((len(y), len(x)), dtype=np.bool_)
        for shape in shapes:
            inside |= _in_convex(shape, x, y)
        shares = inside.reshape(high - low, _FINE, right - left, _FINE).mean(axis=(1, 3))
        cells = self.xyz[low:high, left:right].astype(np.float64)
        kept = (shares > 0.0) & np.isfinite(cells[..., 0])
        return cells[kept], shares[kept]


def _in_convex(ring: Array, x: Array, y: Array) -> NDArray[np.bool_]:
    """Which places of a grid (``x`` across, ``y`` down as a column) lie in a convex ring."""
    steps = np.roll(ring, -1, axis=0) - ring
    sides = [
        step[0] * (y - corner[1]) - step[1] * (x - corner[0])
        for corner, step in zip(ring, steps, strict=True)
    ]
    left, right = np.minimum.reduce(sides) >= 0.0, np.maximum.reduce(sides) <= 0.0
    return np.asarray(left | right)


def colour_map(
    photo: Negative,
    to_mm: Sequence[float],
    outline: Polygon,
    holes: Sequence[Polygon],
    patch: Polygon,
    lab: Lab,
    *,
    cell: float = CELL_MM,
) -> ColourMap:
    """The map of a piece from its photograph, relative to its reading.

    ``to_mm`` is the homography (nine figures, row by row) from upright pixels to mm of the piece;
    ``outline`` and ``holes`` are rings in mm; ``patch``, in upright pixels, is where the colour
    ``lab`` was read. The linear light of all squares is multiplied, channel by channel, so that
    the patch has that colour. That is the reading's own correction where this was a gain (bare,
    by a neutral patch, by a target's exposure) and close to it for the rest; light that falls off
    across the photograph is not levelled.

    Raises ``ColourError`` where the patch cannot be read or the piece is not in the photograph.
    """
    matrix = photo.encoding.matrix
    seen = patch_mean(patch_pixels(photo, patch), photo.encoding).linear
    wanted = apply_matrix(np.asarray(np.linalg.inv(matrix)), lab_to_xyz(check_lab(lab)))
    gains = np.maximum(wanted, 0.0) / np.maximum(seen, 1e-6)
    forward = np.asarray(to_mm, dtype=np.float64).reshape(3, 3)
    back = np.asarray(np.linalg.inv(forward), dtype=np.float64)
    rings = [_through(back, np.asarray(ring, dtype=np.float64)) for ring in (outline, *holes)]
    codes, places = _pixels(photo, rings)
    mm = _through(forward, places)
    corners = np.asarray(outline, dtype=np.float64)
    origin = corners.min(axis=0)
    columns, rows = (max(1, int(n)) for n in np.ceil((corners.max(axis=0) - origin) / cell - 1e-9))
    square = np.clip(((mm - origin) / cell).astype(np.intp), 0, (columns - 1, rows - 1))
    number = square[:, 1] * columns + square[:, 0]
    light = photo.encoding.linear(codes) * gains
    counts = np.bincount(number, minlength=rows * columns)
    sums = [np.bincount(number, channel, rows * columns) for channel in light.T]
    whole = float(np.median(counts[counts > 0]))
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.stack(sums, axis=-1) / counts[:, None]
    mean[counts < _LEAST_COVERED * whole] = np.nan
    xyz = apply_matrix(matrix, mean).reshape(rows, columns, 3).astype(np.float32)
    return ColourMap(cell, (float(origin[0]), float(origin[1])), xyz)


def _through(homography: Array, points: Array) -> Array:
    """Points (n × 2) through a 3 × 3 homography."""
    x, y = points[:, 0], points[:, 1]
    across, up, depth = (row[0] * x + row[1] * y + row[2] for row in homography)
    return np.stack([across / depth, up / depth], axis=-1)


def _pixels(photo: Negative, rings: Sequence[Array]) -> tuple[NDArray[np.uint8], Array]:
    """Codes (n × channels) and centres (n × 2, upright) of pixels evenly spread over a piece."""
    width, height = photo.size
    low, high = rings[0].min(axis=0), rings[0].max(axis=0)
    left, top = (int(v) for v in np.floor(np.clip(low, 0, (width, height))))
    right, bottom = (int(v) for v in np.ceil(np.clip(high, 0, (width, height))))
    if right <= left or bottom <= top:
        raise ColourError("The piece does not lie in its photograph. Mark its outline again.")
    step = max(1, int(np.sqrt((right - left) * (bottom - top) / _MOST_PIXELS)))
    codes = np.asarray(photo.crop((left, top, right, bottom)))[::step, ::step]
    rows, columns = codes.shape[:2]
    mask = Image.new("1", (columns, rows))
    pen = ImageDraw.Draw(mask)
    for number, ring in enumerate(rings):
        # A pixel of the mask stands for its centre.
        drawn = (ring - (left + 0.5, top + 0.5)) / step
        pen.polygon([(float(x), float(y)) for x, y in drawn], fill=int(number == 0))
    down, across = np.nonzero(np.asarray(mask))
    if not len(down):
        raise ColourError("The piece does not lie in its photograph. Mark its outline again.")
    places = np.stack([left + across * step + 0.5, top + down * step + 0.5], axis=-1)
    return codes.reshape(rows, columns, -1)[down, across], places
