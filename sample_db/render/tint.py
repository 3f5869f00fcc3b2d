"""CIELAB (D50, 2° observer) to linear sRGB and back, independent of the program under test.

The matrix is the published Bradford-adapted one for sRGB seen under D50 (B. Lindbloom, "RGB/XYZ
Matrices"); the transfer curve is IEC 61966-2-1.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating[Any]]
Lab = tuple[float, float, float]
Linear = tuple[float, float, float]

_WHITE = (0.96422, 1.0, 0.82521)
_TO_RGB = (
    (3.1338561, -1.6168667, -0.4906146),
    (-0.9787684, 1.9161415, 0.0334540),
    (0.0719453, -0.2289914, 1.4052427),
)
_EPSILON = 216 / 24389
_KAPPA = 24389 / 27


def linear(lab: Lab) -> Linear:
    """Linear-light sRGB (0 to 1) of a CIELAB colour, unclamped."""
    fy = (lab[0] + 16) / 116
    xyz = []
    for f, white in zip((fy + lab[1] / 500, fy, fy - lab[2] / 200), _WHITE, strict=True):
        cubed = f**3
        xyz.append(white * (cubed if cubed > _EPSILON else (116 * f - 16) / _KAPPA))
    red, green, blue = (sum(m * c for m, c in zip(row, xyz, strict=True)) for row in _TO_RGB)
    return red, green, blue


def lab(rgb: Linear) -> Lab:
    """CIELAB of a linear-light sRGB colour."""
    xyz = np.linalg.solve(np.array(_TO_RGB), np.array(rgb, dtype=float))
    fx, fy, fz = (
        c ** (1 / 3) if c > _EPSILON else (_KAPPA * c + 16) / 116
        for c in (float(v) / w for v, w in zip(xyz, _WHITE, strict=True))
    )
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def encode(light: Array) -> NDArray[np.uint8]:
    """8-bit sRGB of linear light, clipped to what a photograph can hold."""
    x = np.clip(light, 0.0, 1.0)
    out = np.where(x <= 0.0031308, 12.92 * x, 1.055 * np.power(x, 1 / 2.4) - 0.055)
    return np.asarray(np.rint(out * 255), dtype=np.uint8)
