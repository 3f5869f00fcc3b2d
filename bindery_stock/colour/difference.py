"""How far apart two colours are: CIEDE2000, and the signed parts of the step.

Source: G. Sharma, W. Wu, E. N. Dalal, Color Research and Application 30(1), 2005, 21-30,
doi 10.1002/col.20070, equations (2) to (22); hues in radians from 0 to a whole turn.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from bindery_stock.colour.space import Array
from bindery_stock.errors import ColourError

_TURN: Final = 2 * np.pi
_BLOCK: Final = 4096
"""Colours worked at once, so that what lies between stays in the processor's cache."""
_25_TO_7: Final = 25.0**7
_COS_30, _SIN_30 = float(np.cos(np.radians(30))), float(np.sin(np.radians(30)))
_COS_6, _SIN_6 = float(np.cos(np.radians(6))), float(np.sin(np.radians(6)))
_COS_63, _SIN_63 = float(np.cos(np.radians(63))), float(np.sin(np.radians(63)))


def delta_e00(lab: ArrayLike, labs: ArrayLike) -> Array:
    """CIEDE2000 of one colour against many, kL = kC = kH = 1.

    ``lab`` has the shape (3,), ``labs`` (…, 3); the answer has the shape of ``labs`` without its
    last axis; no colours at all (``[]``) give an empty answer. Raises ``ColourError`` for any other
    shape and for figures that are not finite.
    """
    one = np.asarray(lab, dtype=np.float64)
    many = np.asarray(labs, dtype=np.float64)
    if one.shape != (3,):
        raise ColourError(f"One colour of three figures is compared, not one of shape {one.shape}.")
    if many.shape == (0,):
        return np.zeros(0)
    if many.ndim == 0 or many.shape[-1] != 3:
        raise ColourError(f"The colours compared need three figures each, not shape {many.shape}.")
    _finite(one, many)
    rows = many.reshape(-1, 3)
    answer = np.empty(len(rows))
    for start in range(0, len(rows), _BLOCK):
        answer[start : start + _BLOCK] = _ciede2000(one[:, None], rows[start : start + _BLOCK].T)
    return answer.reshape(many.shape[:-1])


def pairwise(labs: ArrayLike, others: ArrayLike) -> Array:
    """CIEDE2000 of each colour with its partner (n × 3 each). Raises as ``delta_e00`` does."""
    these, those = np.asarray(labs, dtype=np.float64), np.asarray(others, dtype=np.float64)
    if these.ndim != 2 or these.shape[1] != 3 or these.shape != those.shape:
        raise ColourError(f"Colours pair one to one, not shapes {these.shape} and {those.shape}.")
    _finite(these, those)
    return _ciede2000(these.T, those.T)


def _finite(labs: Array, others: Array) -> None:
    if not (np.isfinite(labs).all() and np.isfinite(others).all()):
        raise ColourError("A colour compared has a figure that is not a number. Measure it again.")


def _ciede2000(lab: Array, other: Array) -> Array:
    """Of colours in rows L*, a*, b* (3 × n or 3 × 1 each)."""
    (l1, a1, b1), (l2, a2, b2) = lab, other
    weight = _seventh((np.sqrt(a1 * a1 + b1 * b1) + np.sqrt(a2 * a2 + b2 * b2)) / 2)
    stretch = 1.5 - 0.5 * np.sqrt(weight)
    a1, a2 = a1 * stretch, a2 * stretch
    c1, c2 = np.sqrt(a1 * a1 + b1 * b1), np.sqrt(a2 * a2 + b2 * b2)
    h1, h2 = np.arctan2(b1, a1), np.arctan2(b2, a2)
    h1 = h1 + _TURN * (h1 < 0)
    h2 = h2 + _TURN * (h2 < 0)
    apart = h2 - h1
    # Across 0° the shorter way round is meant: the step loses a turn, the mean half of one. The
    # hue of a grey is 0 and no step; its partner's hue stands for both.
    wraps = np.abs(apart) > np.pi
    hue_step = 2 * np.sqrt(c1 * c2) * np.sin((apart - _TURN * np.sign(apart) * wraps) / 2)
    mean = np.where(c1 * c2 == 0, h1 + h2, (h1 + h2) / 2 + np.pi * wraps)
    mean = mean - _TURN * (mean >= _TURN)
    c = (c1 + c2) / 2
    middle = ((l1 + l2) / 2 - 50) ** 2
    lightness = (l2 - l1) / (1 + 0.015 * middle / np.sqrt(20 + middle))
    chroma = (c2 - c1) / (1 + 0.045 * c)
    hue = hue_step / (1 + 0.015 * c * _hue_weight(mean))
    blue = (np.degrees(mean) - 275) / 25
    turn = -2 * np.sqrt(_seventh(c)) * np.sin(np.pi / 3 * np.exp(-blue * blue))
    square = lightness * lightness + chroma * chroma + hue * hue + turn * chroma * hue
    return np.asarray(np.sqrt(np.maximum(square, 0.0)))


def _seventh(chroma: Array) -> Array:
    """C⁷ / (C⁷ + 25⁷)."""
    cube = chroma * chroma * chroma
    power = cube * cube * chroma
    return np.asarray(power / (power + _25_TO_7))


def _hue_weight(hue: Array) -> Array:
    """T: its five cosines from one cosine and one sine."""
    cos1, sin1 = np.cos(hue), np.sin(hue)
    cos2, sin2 = cos1 * cos1 - sin1 * sin1, 2 * sin1 * cos1
    cos3, sin3 = cos2 * cos1 - sin2 * sin1, sin2 * cos1 + cos2 * sin1
    cos4, sin4 = cos2 * cos2 - sin2 * sin2, 2 * sin2 * cos2
    return np.asarray(
        1
        - 0.17 * (cos1 * _COS_30 + sin1 * _SIN_30)
        + 0.24 * cos2
        + 0.32 * (cos3 * _COS_6 - sin3 * _SIN_6)
        - 0.20 * (cos4 * _COS_63 + sin4 * _SIN_63)
    )


@dataclass(frozen=True, slots=True)
class SignedDifference:
    """The signed parts of the step from one colour to another, CIELAB (CIE 15:2018)."""

    lightness: float
    """ΔL*: positive where the second is lighter."""
    chroma: float
    """ΔC*ab: positive where the second is more vivid."""
    hue: float
    """ΔH*ab: positive where the second lies counter-clockwise (red to yellow to green)."""


def step(lab: ArrayLike, other: ArrayLike) -> SignedDifference:
    """ΔL*, ΔC*ab and ΔH*ab from ``lab`` to ``other``; ΔL*² + ΔC*² + ΔH*² = ΔE*ab²."""
    l1, a1, b1 = (float(v) for v in np.asarray(lab, dtype=np.float64))
    l2, a2, b2 = (float(v) for v in np.asarray(other, dtype=np.float64))
    c1, c2 = float(np.hypot(a1, b1)), float(np.hypot(a2, b2))
    # 2·√(C1·C2)·sin(Δh/2) without the angles: the sign is that of the cross product.
    square = max((a2 - a1) ** 2 + (b2 - b1) ** 2 - (c2 - c1) ** 2, 0.0)
    sign = -1.0 if a1 * b2 - a2 * b1 < 0 else 1.0
    return SignedDifference(l2 - l1, c2 - c1, sign * float(np.sqrt(square)))
