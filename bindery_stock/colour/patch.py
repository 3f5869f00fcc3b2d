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

from bindery_stock.colour.decode import Box, Negative
from bindery_stock.colour.difference import delta_e00
from bindery_stock.colour.profiles import LightEncoding
from bindery_stock.colour.runs import Runs, runs_inside
from bindery_stock.colour.space import Array, Lab, apply_matrix, xyz_to_lab
from bindery_stock.colour.uncertainty import BLOCK, block_band
from bindery_stock.errors import ColourError

Polygon = Sequence[tuple[float, float]]
"""Corners in pixels of the upright photograph, x right, y down; (0, 0) is the outer corner of the
first pixel, whose centre is (0.5, 0.5)."""

LEAST_PIXELS: Final = 50
MOST_SAMPLES: Final = 40_000
"""A larger patch is sampled: more pixels no longer change the second decimal."""
_MOST_CROPPED: Final = 1_000_000
"""Pixels of a piece of the photograph that are looked at whole; of a larger one only blocks."""
_MOST_BLOCKS: Final = 400
_SQUARE: Final = 4
_ENOUGH_FOR_SPREAD: Final = 10_000
"""A spread is known to a hundredth of itself from as many; ΔE00 is the dearest step of all."""
MAD_LIMIT: Final = 3.0
_MAD_TO_SD: Final = 1.4826
_SD_FLOOR: Final = 0.5
"""In Lab units: an even patch of 8-bit codes is not rejected for its rounding."""


@dataclass(frozen=True, slots=True)
class PatchPixels:
    """The pixels of a patch, or a fair sample of a large one."""

    codes: NDArray[Any]
    """n × channels."""
    places: NDArray[np.int_]
    """n × 2, column and row in the upright photograph."""
    total: int
    """Pixels inside the polygon, sampled or not."""


@dataclass(frozen=True, slots=True)
class PatchMean:
    """What the pixels of one patch say."""

    linear: Array
    """The mean of the accepted pixels: three linear channels of the photograph's encoding."""
    lab: Lab
    """The same as CIELAB, uncorrected."""
    spread: float
    """Root mean square ΔE00 of the accepted pixels about the mean."""
    band: float
    """95 % band of the mean from the blocks within the patch, ΔE00."""
    pixels: int
    """Pixels inside the polygon."""
    rejected: float
    """Share left out of the mean, as outliers or clipped, 0..1."""
    clipped: float
    """Share clipped at either end of the codes, 0..1."""


def circle(x: float, y: float, radius: float) -> Polygon:
    """A round patch as a polygon of 32 corners with the area of the circle."""
    angles = np.arange(32) * (2 * np.pi / 32)
    # The inscribed polygon is smaller than its circle; widen it to the same area.
    r = radius * float(np.sqrt(2 * np.pi / (32 * np.sin(2 * np.pi / 32))))
    return [(x + r * float(np.cos(t)), y + r * float(np.sin(t))) for t in angles]


def patch_pixels(
    photo: Negative, polygon: Polygon, what: str = "The patch", *, least: int = LEAST_PIXELS
) -> PatchPixels:
    """The pixels whose centres lie inside the polygon (even-odd rule).

    ``what`` names the patch in errors. Raises ``ColourError`` where it leaves the photograph or has
    fewer than ``least`` pixels.
    """
    corners = np.asarray(polygon, dtype=np.float64)
    if corners.ndim != 2 or corners.shape[1:] != (2,) or len(corners) < 3:
        raise ColourError(f"{what} needs at least three corners. Mark it again.")
    if not np.isfinite(corners).all():
        raise ColourError(f"{what} has a corner that is nowhere. Mark it again.")
    size = np.array(photo.size)
    slack = 0.5
    low, high = corners.min(axis=0), corners.max(axis=0)
    if (low < -slack).any() or (high > size + slack).any():
        raise ColourError(
            f"{what} reaches outside the photograph ({size[0]} × {size[1]} pixels). Move it inside."
        )
    left, top = (int(v) for v in np.floor(np.maximum(low, 0)))
    right, bottom = (int(v) for v in np.ceil(np.minimum(high, size)))
    runs = runs_inside(corners, photo.size)
    total = runs.total
    if total < least:
        raise ColourError(
            f"{what} has only {total} pixels; a colour needs {least}. "
            "Draw it larger, or photograph from nearer."
        )
    if (right - left) * (bottom - top) > _MOST_CROPPED:
        codes, places = _from_blocks(photo, runs)
    else:
        codes, places = _from_box(photo, runs, (left, top, right, bottom))
    return PatchPixels(codes, places, total)


def _from_box(photo: Negative, runs: Runs, box: Box) -> tuple[NDArray[Any], NDArray[np.int_]]:
    """All pixels of a patch, or a sample of them, from one piece of the photograph."""
    ranks = np.arange(runs.total)
    if len(ranks) > MOST_SAMPLES:
        rng = np.random.default_rng(0)
        ranks = np.sort(rng.choice(len(ranks), MOST_SAMPLES, replace=False))
    places = runs.places(ranks)
    return _codes(photo, box, places), places


def _from_blocks(photo: Negative, runs: Runs) -> tuple[NDArray[Any], NDArray[np.int_]]:
    """A sample of a large patch: every pixel of it as likely as any other.

    It comes in blocks, so that their spread can be told (see ``block_band``) and little of the
    photograph is copied: blocks are drawn among all that the patch touches, and in each one pixel
    of every square of four by four.
    """
    rng = np.random.default_rng(0)
    blocks = runs.blocks(BLOCK)
    if len(blocks) > _MOST_BLOCKS:
        blocks = blocks[np.sort(rng.choice(len(blocks), _MOST_BLOCKS, replace=False))]
    squares = np.stack(np.meshgrid(*2 * [np.arange(0, BLOCK, _SQUARE)]), axis=-1).reshape(-1, 2)
    drawn = rng.integers(0, _SQUARE, (len(blocks), *squares.shape))
    places = blocks[:, None] * BLOCK + squares + drawn
    kept = runs.hold(places.reshape(-1, 2)).reshape(places.shape[:2])
    right, bottom = photo.size
    codes = [
        _codes(photo, (x, y, min(x + BLOCK, right), min(y + BLOCK, bottom)), here[keep])
        for (x, y), here, keep in zip((blocks * BLOCK).tolist(), places, kept, strict=True)
    ]
    return np.concatenate(codes), places[kept]


def _codes(photo: Negative, box: Box, places: NDArray[np.int_]) -> NDArray[Any]:
    """The codes (n × channels) at places within a box."""
    left, top, _, _ = box
    return np.asarray(photo.codes(box)[places[:, 1] - top, places[:, 0] - left])


def patch_mean(patch: PatchPixels, encoding: LightEncoding) -> PatchMean:
    """Reject clipped pixels and outliers; the mean in linear light of the rest.

    Where most of the patch is clipped nothing is left to reject: all of it is averaged and
    ``clipped`` says so.
    """
    top = 65535 if patch.codes.dtype.itemsize > 1 else 255
    clip = ((patch.codes == 0) | (patch.codes >= top)).any(axis=1)
    clipped = float(clip.mean())
    usable = np.ones_like(clip) if clipped > 0.5 else ~clip
    linear = encoding.linear(patch.codes[usable])
    lab = xyz_to_lab(apply_matrix(encoding.matrix, linear))
    keep = within_mad(lab)
    mean = linear[keep].mean(axis=0)
    mean_lab = xyz_to_lab(apply_matrix(encoding.matrix, mean))
    accepted = lab[keep]
    if len(accepted) > _ENOUGH_FOR_SPREAD:
        accepted = np.random.default_rng(0).choice(accepted, _ENOUGH_FOR_SPREAD, replace=False)
    steps = delta_e00(mean_lab, accepted)
    return PatchMean(
        linear=mean,
        lab=(float(mean_lab[0]), float(mean_lab[1]), float(mean_lab[2])),
        spread=float(np.sqrt(np.mean(steps**2))),
        band=block_band(lab[keep], patch.places[usable][keep]),
        pixels=patch.total,
        rejected=1.0 - int(keep.sum()) / len(clip),
        clipped=clipped,
    )


def within_mad(lab: Array) -> NDArray[np.bool_]:
    """Which of the colours (n × 3) lie within 3 MAD of the median on every axis."""
    away = np.abs(lab - np.median(lab, axis=0))
    sd = np.maximum(_MAD_TO_SD * np.median(away, axis=0), _SD_FLOOR)
    return np.asarray((away <= MAD_LIMIT * sd).all(axis=1))
