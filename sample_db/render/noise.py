"""Seeded smooth noise, sampled at any point: the unevenness of threads, light and dirt."""

import numpy as np
from scipy import ndimage

from sample_db.render.tint import Array

_CELLS = 256
_SMOOTH = 1.6


class Cloud:
    """One periodic field of smooth noise with mean 0 and standard deviation 1."""

    def __init__(self, rng: np.random.Generator) -> None:
        """Draw the field from ``rng``."""
        raw = rng.standard_normal((_CELLS, _CELLS)).astype(np.float32)
        soft = ndimage.gaussian_filter(raw, _SMOOTH, mode="wrap")
        self._field = (soft - soft.mean()) / soft.std()

    def at(self, u: Array, v: Array, size: float, *, stretch: float = 1.0) -> Array:
        """Noise at (u, v) mm whose blobs are about ``size`` mm across, ``stretch`` times in v."""
        pace = np.float32(4.0 / size)
        return sampled(self._field, v * (pace / np.float32(stretch)), u * pace)

    def broad(self, u: Array, v: Array, size: float, *, stretch: float = 1.0) -> Array:
        """The same where u and v run evenly over a grid and the blobs are many points across.

        Worked out at every few points only and drawn out between them.
        """
        pace = np.hypot(u[1, 1] - u[0, 0], v[1, 1] - v[0, 0]) if min(u.shape) > 1 else size
        every = int(min(size / (10 * max(float(pace), 1e-6)), min(u.shape) / 4, 64))
        if every < 3:
            return self.at(u, v, size, stretch=stretch)
        rows, columns = (np.unique(np.r_[0:n:every, n - 1]) for n in u.shape)
        few = self.at(u[np.ix_(rows, columns)], v[np.ix_(rows, columns)], size, stretch=stretch)
        return _drawn_out(_drawn_out(few, rows).T, columns).T

    def rough(self, u: Array, v: Array, size: float, octaves: int = 3) -> Array:
        """Several sizes at once, each half as large and half as strong as the last."""
        total = np.zeros(np.shape(u), np.float32)
        strength, norm = 1.0, 0.0
        for n in range(octaves):
            shift = np.float32(17.3 * n)
            total += strength * self.broad(u + shift, v - shift, size / 2**n)
            norm += strength**2
            strength /= 2
        return total / np.float32(np.sqrt(norm))


def sampled(field: Array, row: Array, column: Array) -> Array:
    """A periodic field read between its cells, straight-line both ways."""
    high, wide = field.shape
    r0, c0 = np.floor(row), np.floor(column)
    fr, fc = (row - r0).astype(np.float32), (column - c0).astype(np.float32)
    r = r0.astype(np.int32) % high
    c = c0.astype(np.int32) % wide
    r1, c1 = (r + 1) % high * wide, (c + 1) % wide
    r *= wide
    flat = field.ravel()
    upper = flat[r + c]
    upper += (flat[r + c1] - upper) * fc
    lower = flat[r1 + c]
    lower += (flat[r1 + c1] - lower) * fc
    return np.asarray(upper + (lower - upper) * fr, dtype=np.float32)


def _drawn_out(few: Array, rows: Array) -> Array:
    """Rows given at ``rows`` drawn out straight to every row between."""
    every = np.arange(int(rows[-1]) + 1)
    after = np.clip(np.searchsorted(rows, every, side="right"), 1, len(rows) - 1)
    before = after - 1
    share = ((every - rows[before]) / (rows[after] - rows[before])).astype(np.float32)[:, None]
    return few[before] * (1 - share) + few[after] * share


def step(low: float, high: float, x: Array) -> Array:
    """A soft step from 0 at ``low`` to 1 at ``high``."""
    t = np.clip((x - low) / (high - low), 0.0, 1.0)
    return np.asarray(t * t * (3 - 2 * t), dtype=np.float32)
