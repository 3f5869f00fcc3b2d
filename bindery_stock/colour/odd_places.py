"""Where a cloth in a photograph is not of its own usual colour: stained, faded, stamped, in shade.

Looked at in the quick picture for the screen: a difference within one picture is told by it well
enough to keep a patch away, though no colour is read from it.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from bindery_stock.colour.difference import delta_e00
from bindery_stock.colour.space import SRGB_TO_XYZ, apply_matrix, srgb_decode, xyz_to_lab

Box = tuple[float, float, float, float]
"""Left, top, right, bottom in pixels."""
_ACROSS: Final = 40
"""Squares along the longer side of the cloth: each averages the weave."""
_SAMPLES: Final = 250_000
"""About so many pixels are looked at, spread evenly."""
_WHOLE: Final = 0.6
"""Share of a square that must lie on the cloth: at the edge its shadow speaks."""
_LEAST: Final = 3.0
"""ΔE00 from the usual colour below which no square is odd: uneven dye and light (own choice)."""
_SPREADS: Final = 3.0
_MAD_TO_SD: Final = 1.4826


def odd_places(picture: NDArray[np.uint8], outline: Sequence[tuple[float, float]]) -> list[Box]:
    """Squares of the cloth within ``outline`` whose colour stands off from the usual one.

    ``picture`` is rows × columns × 3 in sRGB, ``outline`` in its pixels. The usual colour is the
    median of all squares; those beyond 3 ΔE00 of it, and beyond three standard deviations (from
    the median of all), are odd. None where the cloth is too small to be parted into squares.
    """
    ring = np.asarray(outline, dtype=np.float64)
    height, width = picture.shape[:2]
    left, top = np.floor(np.clip(ring.min(axis=0), 0, (width, height))).astype(int)
    right, bottom = np.ceil(np.clip(ring.max(axis=0), 0, (width, height))).astype(int)
    step = max(1, int(np.sqrt(max(right - left, 1) * max(bottom - top, 1) / _SAMPLES)))
    codes = picture[top:bottom:step, left:right:step]
    rows, columns = codes.shape[:2]
    square = max(rows, columns) / _ACROSS
    if square < 2:
        return []
    mask = Image.new("1", (columns, rows))
    drawn = (ring - (left, top)) / step - 0.5
    ImageDraw.Draw(mask).polygon([(float(x), float(y)) for x, y in drawn], fill=1)
    down, across = np.nonzero(np.asarray(mask))
    wide = int(columns / square) + 1
    number = (down / square).astype(np.intp) * wide + (across / square).astype(np.intp)
    count = np.bincount(number)
    light = srgb_decode(np.arange(256) / 255)[codes[down, across]]
    sums = np.stack([np.bincount(number, channel) for channel in light.T], axis=-1)
    whole = np.flatnonzero(count >= _WHOLE * square**2)
    if not len(whole):
        return []
    labs = xyz_to_lab(apply_matrix(SRGB_TO_XYZ, sums[whole] / count[whole, None]))
    away = delta_e00(np.median(labs, axis=0), labs)
    limit = max(_LEAST, _SPREADS * _MAD_TO_SD * float(np.median(away)))
    side = square * step
    return [
        (left + x * side, top + y * side, left + (x + 1) * side, top + (y + 1) * side)
        for y, x in (divmod(int(one), wide) for one in whole[away > limit])
    ]
