"""The pixels of a marked patch, and one honest colour for them.

An instrument's aperture integrates light, so the colour of a patch is the mean in linear light;
glints, shadows and stray threads go first: whatever lies beyond three median absolute deviations
(scaled to a standard deviation) on any CIELAB axis, and every clipped pixel.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.decode import Negative
from bindery_stock.colour.difference import delta_e00
from bindery_stock.colour.profiles import Encoding
from bindery_stock.colour.space import Array, Lab, apply_matrix, xyz_to_lab
from bindery_stock.errors import ColourError

Polygon = Sequence[tuple[float, float]]
"""Corners in pixels of the upright photograph, x right, y down; (0, 0) is the outer corner of the
first pixel, whose centre is (0.5, 0.5)."""

LEAST_PIXELS: Final = 50
MOST_SAMPLES: Final = 40_000
"""A larger patch is sampled: more pixels no longer change the second decimal."""
MAD_LIMIT: Final = 3.0
_MAD_TO_SD: Final = 1.4826
_SD_FLOOR: Final = 0.5
"""In Lab units: an even patch of 8-bit codes is not rejected for its rounding."""


@dataclass(frozen=True, slots=True)
class PatchMean:
    """What the pixels of one patch say."""

    linear: Array
    """The mean of the accepted pixels: three linear channels of the photograph's encoding."""
    lab: Lab
    """The same as CIELAB, uncorrected."""
    spread: float
    """Root mean square ΔE00 of the accepted pixels about the mean."""
    pixels: int
    """Pixels inside the polygon."""
    rejected: float
    """Share rejected as outliers, 0..1."""
    clipped: float
    """Share clipped at either end of the codes, 0..1."""


def circle(x: float, y: float, radius: float) -> Polygon:
    """A round patch as a polygon of 32 corners with the area of the circle."""
    angles = np.arange(32) * (2 * np.pi / 32)
    # The inscribed polygon is smaller than its circle; widen it to the same area.
    r = radius * float(np.sqrt(2 * np.pi / (32 * np.sin(2 * np.pi / 32))))
    return [(x + r * float(np.cos(t)), y + r * float(np.sin(t))) for t in angles]


def patch_codes(
    photo: Negative, polygon: Polygon, what: str = "The patch", *, least: int = LEAST_PIXELS
) -> NDArray[Any]:
    """The codes (n × channels) of the pixels whose centres lie inside the polygon.

    ``what`` names the patch in errors. Raises ``ColourError`` where it leaves the photograph or has
    fewer than ``least`` pixels.
    """
    corners = np.asarray(polygon, dtype=np.float64)
    if corners.ndim != 2 or corners.shape[1:] != (2,) or len(corners) < 3:
        raise ColourError(f"{what} needs at least three corners. Mark it again.")
    if not np.isfinite(corners).all():
        raise ColourError(f"{what} has a corner that is nowhere. Mark it again.")
    width, height = photo.size
    slack = 0.5
    low, high = corners.min(axis=0), corners.max(axis=0)
    if (low < -slack).any() or high[0] > width + slack or high[1] > height + slack:
        raise ColourError(
            f"{what} reaches outside the photograph ({width} × {height} pixels). Move it inside."
        )
    left, top = (int(v) for v in np.floor(np.maximum(low, 0)))
    right, bottom = (int(v) for v in np.ceil(np.minimum(high, (width, height))))
    inside = _inside(corners, left, top, right, bottom)
    if int(inside.sum()) < least:
        raise ColourError(
            f"{what} has only {int(inside.sum())} pixels; a colour needs {least}. "
            "Draw it larger, or photograph from nearer."
        )
    codes = np.asarray(photo.crop((left, top, right, bottom)))
    return codes.reshape(codes.shape[0], codes.shape[1], -1)[inside]


def patch_mean(codes: NDArray[Any], encoding: Encoding) -> PatchMean:
    """Reject clipped pixels and outliers; the mean in linear light of the rest.

    Where most of the patch is clipped nothing is left to reject: all of it is averaged and
    ``clipped`` says so.
    """
    pixels = len(codes)
    if pixels > MOST_SAMPLES:
        chosen = np.random.default_rng(0).choice(pixels, MOST_SAMPLES, replace=False)
        codes = codes[np.sort(chosen)]
    top = 65535 if codes.dtype.itemsize > 1 else 255
    clip = ((codes == 0) | (codes >= top)).any(axis=1)
    clipped = float(clip.mean())
    usable = codes if clipped > 0.5 else codes[~clip]
    linear = encoding.linear(usable)
    lab = xyz_to_lab(apply_matrix(encoding.matrix, linear))
    keep = within_mad(lab)
    mean = linear[keep].mean(axis=0)
    mean_lab = xyz_to_lab(apply_matrix(encoding.matrix, mean))
    steps = delta_e00(mean_lab, lab[keep])
    return PatchMean(
        linear=mean,
        lab=(float(mean_lab[0]), float(mean_lab[1]), float(mean_lab[2])),
        spread=float(np.sqrt(np.mean(steps**2))),
        pixels=pixels,
        rejected=1.0 - float(keep.mean()),
        clipped=clipped,
    )


def within_mad(lab: Array) -> NDArray[np.bool_]:
    """Which of the colours (n × 3) lie within 3 MAD of the median on every axis."""
    away = np.abs(lab - np.median(lab, axis=0))
    sd = np.maximum(_MAD_TO_SD * np.median(away, axis=0), _SD_FLOOR)
    return np.asarray((away <= MAD_LIMIT * sd).all(axis=1))


def _inside(corners: Array, left: int, top: int, right: int, bottom: int) -> NDArray[np.bool_]:
    """Even-odd rule at the pixel centres of a box."""
    x = np.arange(left, right)[None, :] + 0.5
    y = np.arange(top, bottom)[:, None] + 0.5
    inside = np.zeros((bottom - top, right - left), dtype=bool)
    for (x1, y1), (x2, y2) in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        if y1 == y2:
            continue
        crosses = (y1 <= y) != (y2 <= y)
        inside ^= crosses & (x < x1 + (y - y1) * (x2 - x1) / (y2 - y1))
    return inside
