"""A photograph made small, to look for things in; colours for a reading never come from it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.decode import Negative
from bindery_stock.colour.profiles import LightEncoding
from bindery_stock.colour.space import Array, apply_matrix, xyz_to_lab

LENGTHS: Final = (700, 1400, 3200)
"""Longer side of the pictures looked at, in pixels, one after the other."""


@dataclass(frozen=True, slots=True)
class SmallPicture:
    """A picture made small, and how far."""

    codes: NDArray[np.uint8]
    """Upright, rows × columns × 3."""
    factor: int
    """Pixels of the photograph for one of these, along each side."""
    encoding: LightEncoding

    def labs(self, codes: NDArray[np.uint8]) -> Array:
        """About what CIELAB codes (… × 3) stand for."""
        return xyz_to_lab(apply_matrix(self.encoding.matrix, self.encoding.linear(codes)))


def small_pictures(photo: Negative, lengths: Sequence[int] = LENGTHS) -> Iterator[SmallPicture]:
    """The photograph in several sizes, smallest first, none of them twice."""
    done = 0
    for length in lengths:
        factor = max(1, round(max(photo.size) / length))
        if factor != done:
            done = factor
            codes, encoding = photo.reduced(factor)
            yield SmallPicture(codes, factor, encoding)
