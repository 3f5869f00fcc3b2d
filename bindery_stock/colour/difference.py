"""How far apart two colours are: CIEDE2000, and the signed parts of the step.

ΔE00 is colormath's matrix form. Where two hues lie across 0° its mean hue exceeds 360°, which
shifts ΔE00 by at most 2e-4 (and only where ΔE00 is about 40); elsewhere it agrees with the formula
as published to rounding.

Source: G. Sharma, W. Wu, E. N. Dalal, Color Research and Application 30(1), 2005, 21-30,
doi 10.1002/col.20070.
"""

from dataclasses import dataclass
from typing import cast

import numpy as np
from colormath.color_diff_matrix import delta_e_cie2000
from numpy.typing import ArrayLike

from bindery_stock.colour.space import Array
from bindery_stock.errors import ColourError


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
    if not (np.isfinite(one).all() and np.isfinite(many).all()):
        raise ColourError("A colour compared has a figure that is not a number. Measure it again.")
    if many.size == 0:
        return np.zeros(many.shape[:-1])
    answer = delta_e_cie2000(one, many.reshape(-1, 3))
    return cast("Array", np.nan_to_num(answer)).reshape(many.shape[:-1])


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
