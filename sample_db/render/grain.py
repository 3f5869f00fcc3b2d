"""The patterns embossed in book cloth, as reliefs from 0 (pressed in) to 1 (raised).

Each is a function of (u, v) in mm, u across the warp and v along it. Cell patterns repeat every
24 mm, as the pattern on an embossing roller does.
"""

from collections.abc import Callable

import numpy as np
from scipy import ndimage
from scipy.spatial import cKDTree

from sample_db.render.noise import Cloud, sampled, step
from sample_db.render.tint import Array

_REPEAT = 24.0
_FINE = 20
_TURN = 2 * np.pi


def embossed(pattern: str, u: Array, v: Array, rng: np.random.Generator) -> Array:
    """The relief of a named grain pattern; an unembossed cloth gives zeros."""
    maker = _PATTERNS.get(pattern)
    if maker is None:
        return np.zeros(u.shape, np.float32)
    cloud = Cloud(rng)
    du = 0.10 * cloud.broad(u, v, 14.0)
    dv = 0.10 * cloud.broad(v, u, 14.0)
    return np.asarray(maker(u + du, v + dv, rng), dtype=np.float32)


def depth(pattern: str) -> float:
    """How deep the pattern is pressed, mm."""
    return _DEPTHS.get(pattern, 0.0 if pattern not in _PATTERNS else 0.10)


def cells(u: Array, v: Array, size: float, rng: np.random.Generator) -> Array:
    """Irregular rounded cells about ``size`` mm across, as in leather and its imitations."""
    per_side = round(_REPEAT / size)
    grid = (np.stack(np.meshgrid(np.arange(per_side), np.arange(per_side)), -1) + 0.5) / per_side
    seeds = (grid.reshape(-1, 2) + rng.uniform(-0.42, 0.42, (per_side**2, 2)) / per_side) % 1.0
    n = int(_REPEAT * _FINE)
    axis = (np.arange(n) + 0.5) / n
    points = np.stack(np.meshgrid(axis, axis), -1).reshape(-1, 2)
    near = np.asarray(cKDTree(seeds, boxsize=np.ones(2)).query(points, k=2)[0])
    gap = ((near[:, 1] - near[:, 0]) * per_side).reshape(n, n)
    tile = ndimage.gaussian_filter(np.tanh(2.6 * gap), 0.9, mode="wrap").astype(np.float32)
    return sampled(tile, v * np.float32(_FINE), u * np.float32(_FINE))


def _ribs(pitch: float, angle: float = 0.0) -> Callable[..., Array]:
    c, s = np.float32(np.cos(np.radians(angle))), np.float32(np.sin(np.radians(angle)))

    def relief(u: Array, v: Array, _rng: np.random.Generator) -> Array:
        wave = 0.5 + 0.5 * np.cos((u * c + v * s) * (_TURN / pitch))
        return np.asarray(wave**0.8)

    return relief


def _wavy(pitch: float, length: float, swing: float) -> Callable[..., Array]:
    def relief(u: Array, v: Array, _rng: np.random.Generator) -> Array:
        bent = u + swing * np.sin(v * (_TURN / length))
        return np.asarray(0.5 + 0.5 * np.cos(bent * (_TURN / pitch)))

    return relief


def _dots(pitch: float, *, radius: float, staggered: bool = True) -> Callable[..., Array]:
    rise = pitch * (0.866 if staggered else 1.0)

    def relief(u: Array, v: Array, _rng: np.random.Generator) -> Array:
        row = np.floor(v / rise)
        shift = 0.5 * (row % 2) if staggered else 0.0
        x = (u / pitch + shift) % 1.0 - 0.5
        y = (v / rise) % 1.0 - 0.5
        away = np.hypot(x * pitch, y * rise)
        return np.asarray(np.sqrt(np.clip(1 - (away / radius) ** 2, 0, 1)))

    return relief


def _dot_and_line(u: Array, v: Array, rng: np.random.Generator) -> Array:
    pitch = 1.8
    line = step(0.30, 0.0, np.abs((u / pitch) % 1.0 - 0.5) * pitch - 0.05)
    dots = _dots(pitch, radius=0.40, staggered=False)(u + pitch / 2, v * 1.6, rng)
    return np.asarray(np.maximum(line, dots))


def _diaper(u: Array, v: Array, _rng: np.random.Generator) -> Array:
    a, b = (u + v) * (np.pi / 1.5), (u - v) * (np.pi / 1.5)
    return np.asarray(np.abs(np.sin(a) * np.sin(b)) ** 0.7)


def _net(u: Array, v: Array, _rng: np.random.Generator) -> Array:
    a = np.abs(np.sin((u + 0.6 * v) * (np.pi / 1.6)))
    b = np.abs(np.sin((u - 0.6 * v) * (np.pi / 1.6)))
    return step(0.45, 0.05, np.minimum(a, b))


def _honeycomb(u: Array, v: Array, _rng: np.random.Generator) -> Array:
    size = 1.7
    best = np.full(u.shape, np.inf, np.float32)
    second = best.copy()
    rise = size * 1.7320508
    for ox, oy in ((0.0, 0.0), (0.5, 0.5)):
        x = (u / size + ox) % 1.0 - 0.5
        y = (v / rise + oy) % 1.0 - 0.5
        for kx in (-1, 0, 1):
            away = np.hypot((x - kx) * size, y * rise).astype(np.float32)
            second = np.minimum(second, np.maximum(best, away))
            best = np.minimum(best, away)
    return step(0.0, 0.45, second - best)


def _herringbone(u: Array, v: Array, _rng: np.random.Generator) -> Array:
    fold = np.abs((u / 6.0) % 1.0 - 0.5) * 6.0
    return np.asarray(0.5 + 0.5 * np.cos((v + fold) * (_TURN / 1.3)))


def _morocco(u: Array, v: Array, rng: np.random.Generator) -> Array:
    small = cells(u, v, 1.0, rng)
    large = cells(u * 0.9 + 3, v * 0.9, 2.2, rng)
    return np.asarray(small * (0.45 + 0.55 * large))


def _straight_morocco(u: Array, v: Array, rng: np.random.Generator) -> Array:
    return cells(u * 1.25, v * 0.33, 1.2, rng)


def _sand(u: Array, v: Array, rng: np.random.Generator) -> Array:
    return cells(u, v, 0.62, rng) ** 1.5


def _pebble(u: Array, v: Array, rng: np.random.Generator) -> Array:
    return cells(u, v, 1.7, rng)


def _moire(u: Array, v: Array, rng: np.random.Generator) -> Array:
    cloud = Cloud(rng)
    fine = np.cos(u * (_TURN / 0.8))
    drift = cloud.broad(u, v, 16.0, stretch=3.0) * 5 + v * 0.25
    return np.asarray(0.5 + 0.22 * fine + 0.28 * np.cos(drift))


def _floral(u: Array, v: Array, _rng: np.random.Generator) -> Array:
    pitch = 9.0
    row = np.floor(v / pitch)
    x = ((u / pitch + 0.5 * (row % 2)) % 1.0 - 0.5) * pitch
    y = ((v / pitch) % 1.0 - 0.5) * pitch
    away, angle = np.hypot(x, y), np.arctan2(y, x)
    petals = step(0.5, 0.0, away - 2.3 * (0.62 + 0.38 * np.cos(5 * angle)))
    vine = step(0.45, 0.0, np.abs(x - 1.7 * np.sin(y * (_TURN / pitch))) - 0.15)
    raised = np.maximum(petals, vine * step(2.4, 3.0, away))
    return np.asarray(raised * (0.75 + 0.25 * np.cos(away * 5)))


_PATTERNS: dict[str, Callable[..., Array]] = {
    "morocco": _morocco,
    "straight-grain morocco": _straight_morocco,
    "pebble": _pebble,
    "fine rib": _ribs(0.85),
    "rib": _ribs(1.25),
    "coarse rib": _ribs(1.9),
    "diagonal rib": _ribs(1.3, 45.0),
    "ripple": _wavy(1.3, 7.0, 0.5),
    "wave": _wavy(2.2, 9.0, 1.4),
    "dot-and-line": _dot_and_line,
    "sand": _sand,
    "bead": _dots(1.25, radius=0.56, staggered=False),
    "bubble": _dots(1.9, radius=0.90),
    "pinhead": _dots(1.0, radius=0.34),
    "diaper": _diaper,
    "net": _net,
    "honeycomb": _honeycomb,
    "herringbone": _herringbone,
    "floral": _floral,
    "moiré": _moire,
}
_DEPTHS: dict[str, float] = {
    "fine rib": 0.07,
    "rib": 0.11,
    "coarse rib": 0.16,
    "sand": 0.10,
    "pebble": 0.17,
    "bubble": 0.16,
    "floral": 0.15,
    "moiré": 0.05,
    "morocco": 0.16,
    "straight-grain morocco": 0.15,
}
