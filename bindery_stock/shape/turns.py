"""Turning points about the origin, exactly where the turn is a whole quarter."""

from math import cos, radians, sin

import numpy as np
import numpy.typing as npt

Points = npt.NDArray[np.float64]
"""An n × 2 array of x and y."""

_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


def cosine_and_sine(turn: float) -> tuple[float, float]:
    """Cosine and sine of ``turn`` degrees, free of rounding at quarter turns."""
    turn = turn % 360.0
    return _QUARTERS.get(turn) or (cos(radians(turn)), sin(radians(turn)))


def turned(points: Points, turn: float) -> Points:
    """``points`` turned counter-clockwise about the origin by ``turn`` degrees."""
    if turn % 360.0 == 0.0:
        return points
    c, s = cosine_and_sine(turn)
    x, y = points[:, 0], points[:, 1]
    return np.stack((x * c - y * s, x * s + y * c), axis=1)
