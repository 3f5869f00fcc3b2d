"""The even, four-sided places of a picture: what patches of a target and cards look like.

Worked on codes, not on light: where a surface is even its codes are, and they are an eighth of the
memory. Three steps of evenness are looked at, since a photograph's noise is not known beforehand.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.space import Array

EVEN: Final = (6, 11, 20)
"""How far the codes of neighbours (3 × 3, of 255) may lie apart in an even place."""
_LEAST_AREA: Final = 8
_STRIP: Final = 32
"""Rows worked on at a time, so that the work needs little room."""
_ROUND: Final = 2
"""Rows beside a strip that bear on it: one for the median, one for the neighbours."""
FOUR_SIDED: Final = (0.84, 1.09)
"""Area over 12 √(determinant of the second moments): 1 for every parallelogram, 1.05 for an
ellipse, less for whatever is ragged, branched or hollow."""
_LEAST_ROUND: Final = 0.06
"""Smaller over larger second moment: a patch seen at a slant is no strip."""


@dataclass(frozen=True)
class Flats:
    """Even places that may be four-sided, n of them, in pixels of the picture looked at."""

    centres: Array
    """n × 2, x right, y down; the centre of the first pixel is (0.5, 0.5)."""
    areas: Array
    """n, in pixels."""
    moments: Array
    """n × 3, variances along x and y and the covariance."""

    @property
    def fill(self) -> Array:
        """n: area over what a parallelogram of these moments has; see ``FOUR_SIDED``."""
        return np.asarray(self.areas / (12 * np.sqrt(self._determinant)))

    @property
    def roundness(self) -> Array:
        """n: smaller over larger second moment."""
        half = (self.moments[:, 0] + self.moments[:, 1]) / 2
        away = np.sqrt(np.maximum(half * half - self._determinant, 0))
        return np.asarray((half - away) / (half + away))

    @property
    def _determinant(self) -> Array:
        var_x, var_y, both = self.moments.T
        return np.asarray(np.maximum(var_x * var_y - both * both, 1e-9))

    def only(self, keep: NDArray[Any]) -> "Flats":
        """Those places alone."""
        return Flats(self.centres[keep], self.areas[keep], self.moments[keep])


def smoothed(codes: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The median of each pixel and its neighbours, along rows and then along columns."""
    return _median(_median(codes, 1), 0)


def _median(codes: NDArray[np.uint8], axis: int) -> NDArray[np.uint8]:
    before, here, after = _thirds(codes, axis)
    low, high = np.minimum(before, here), np.maximum(before, here)
    out = codes.copy()
    _thirds(out, axis)[1][...] = np.maximum(low, np.minimum(high, after))
    return out


def _thirds(codes: NDArray[np.uint8], axis: int) -> tuple[NDArray[np.uint8], ...]:
    if axis:
        return codes[:, :-2], codes[:, 1:-1], codes[:, 2:]
    return codes[:-2], codes[1:-1], codes[2:]


def unevenness(codes: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """How far apart the codes about each pixel lie (3 × 3, the worst channel); the rim is 255."""
    worst = np.full(codes.shape[:2], 255, np.uint8)
    inner = worst[1:-1, 1:-1]
    inner[...] = 0
    for channel in range(codes.shape[2]):
        high = low = codes[..., channel]
        for axis in (0, 1):
            before, here, after = _thirds(high, axis)
            high = np.maximum(np.maximum(before, here), after)
            before, here, after = _thirds(low, axis)
            low = np.minimum(np.minimum(before, here), after)
        np.maximum(inner, high - low, out=inner)
    return worst


def flats(codes: NDArray[np.uint8], most_share: float) -> Iterator[Flats]:
    """The even places at each step of evenness, none larger than a share of the picture."""
    from scipy import ndimage  # noqa: PLC0415 - at first use

    uneven = _unevenness_by_strips(codes)
    most = most_share * uneven.size
    # Made once, since they are as large as the picture.
    even, labels = np.empty(uneven.shape, np.bool_), np.empty(uneven.shape, np.int32)
    for limit in EVEN:
        count = ndimage.label(np.less_equal(uneven, limit, out=even), output=labels)
        found = _measured(labels, int(count), most)
        yield found.only(_four_sided(found))


def _unevenness_by_strips(codes: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The unevenness of the smoothed picture, in little room: two rows round a strip decide it."""
    out = np.full(codes.shape[:2], 255, np.uint8)
    for top in range(0, codes.shape[0], _STRIP):
        first = max(top - _ROUND, 0)
        worst = unevenness(smoothed(codes[first : top + _STRIP + _ROUND]))
        low = 0 if top == 0 else top - first
        rows = worst[low : low + _STRIP]
        out[top : top + len(rows)] = rows
    return out


def _measured(labels: NDArray[Any], count: int, most: float) -> Flats:
    tops = range(0, labels.shape[0], _STRIP)
    whole = np.zeros(count + 1)
    for top in tops:
        whole += np.bincount(labels[top : top + _STRIP].ravel(), minlength=count + 1)
    meant = (whole >= _LEAST_AREA) & (whole <= most)
    meant[0] = False
    number = np.cumsum(meant) - 1
    sums = np.zeros((6, int(meant.sum())))
    for top in tops:
        strip = labels[top : top + _STRIP]
        rows, columns = np.nonzero(meant[strip])
        label = number[strip[rows, columns]]
        across, down = columns + 0.5, rows + (top + 0.5)
        weights = (None, across, down, across * across, down * down, across * down)
        for k, weight in enumerate(weights):
            sums[k] += np.bincount(label, weight, sums.shape[1])
    area = sums[0]
    middle = sums[1:3] / area
    # A pixel is itself a square: a twelfth more along each axis.
    var_x = sums[3] / area - middle[0] ** 2 + 1 / 12
    var_y = sums[4] / area - middle[1] ** 2 + 1 / 12
    both = sums[5] / area - middle[0] * middle[1]
    return Flats(middle.T.copy(), area, np.stack([var_x, var_y, both], axis=1))


def _four_sided(found: Flats) -> NDArray[np.bool_]:
    low, high = FOUR_SIDED
    fill = found.fill
    return np.asarray((fill >= low) & (fill <= high) & (found.roundness >= _LEAST_ROUND))
