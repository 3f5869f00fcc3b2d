"""Between linear light, XYZ, CIELAB and sRGB codes: vectorised, D50 and the 2° observer.

XYZ is scaled so that the white has Y = 1 and is relative to the ICC connection-space white (D50).
Products of n × 3 by 3 × 3 are written as sums: a threaded BLAS wakes its threads for each of them
and takes a hundred times as long.

Sources: CIE 15:2018 (CIELAB); IEC 61966-2-1:1999 (sRGB); ICC.1:2022 §6.3 (D50) and annex E
(Bradford adaptation).
"""

import warnings
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bindery_stock.errors import ColourError

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Lab = tuple[float, float, float]

D50: Final[Array] = np.array([0.9642, 1.0, 0.8249])
"""The white of the ICC connection space, XYZ with Y = 1 (ICC.1:2022 §6.3.4.3)."""
D65: Final[Array] = np.array([0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290])
"""The white of sRGB from its published chromaticity 0.3127, 0.3290 (IEC 61966-2-1)."""

BRADFORD: Final[Array] = np.array(
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]]
)
"""XYZ to the sharpened responses of the Bradford adaptation (ICC.1:2022 annex E)."""

_EPSILON: Final = 216 / 24389
_KAPPA: Final = 24389 / 27
_SHOWN_WITHIN: Final = 0.2
"""A colour comes back from the screen's codes within this in L*, a* and b*, where it is shown:
colormath's matrices are rounded."""
_LIMIT: Final = 128.0
"""a* and b* beyond this cannot be written in the ICC's own Lab encoding."""


def apply_matrix(matrix: Array, values: Array) -> Array:
    """``matrix`` (3 × 3) applied to each of ``values`` (… × 3)."""
    x, y, z = values[..., 0], values[..., 1], values[..., 2]
    return np.stack([row[0] * x + row[1] * y + row[2] * z for row in matrix], axis=-1)


def adaptation(source_white: Array, target_white: Array) -> Array:
    """The Bradford matrix that takes XYZ under one white to XYZ under another."""
    gains = apply_matrix(BRADFORD, target_white) / apply_matrix(BRADFORD, source_white)
    inverse = np.linalg.inv(BRADFORD)
    return np.asarray(np.einsum("ij,j,jk->ik", inverse, gains, BRADFORD))


def primaries_matrix(xy: ArrayLike, white: Array) -> Array:
    """Linear RGB to XYZ (D50) from the chromaticities of three primaries and their white.

    ``xy`` is 3 × 2, ``white`` XYZ with Y = 1.
    """
    points = np.asarray(xy, dtype=np.float64)
    columns = np.stack(
        [
            points[:, 0] / points[:, 1],
            np.ones(3),
            (1 - points[:, 0] - points[:, 1]) / points[:, 1],
        ]
    )
    scaled = columns * np.linalg.solve(columns, white)[None, :]
    return np.asarray(np.einsum("ij,jk->ik", adaptation(white, D50), scaled))


SRGB_TO_XYZ: Final[Array] = primaries_matrix([[0.64, 0.33], [0.30, 0.60], [0.15, 0.06]], D65)
"""Linear sRGB to XYZ (D50)."""
XYZ_TO_SRGB: Final[Array] = np.asarray(np.linalg.inv(SRGB_TO_XYZ), dtype=np.float64)


def srgb_decode(codes: ArrayLike) -> Array:
    """SRGB codes scaled to 0..1 to linear light; negative codes mirror."""
    v = np.asarray(codes, dtype=np.float64)
    size = np.abs(v)
    return np.sign(v) * np.where(size <= 0.04045, size / 12.92, ((size + 0.055) / 1.055) ** 2.4)


def srgb_encode(linear: ArrayLike) -> Array:
    """Linear light to sRGB codes scaled to 0..1; negative values mirror."""
    v = np.asarray(linear, dtype=np.float64)
    size = np.abs(v)
    return np.sign(v) * np.where(size <= 0.0031308, size * 12.92, 1.055 * size ** (1 / 2.4) - 0.055)


def xyz_to_lab(xyz: Array) -> Array:
    """XYZ (D50, Y = 1 for the white) to CIELAB, any shape ending in 3."""
    t = np.asarray(xyz, dtype=np.float64) / D50
    f = np.where(t > _EPSILON, np.cbrt(t), (_KAPPA * t + 16) / 116)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def lab_to_xyz(lab: ArrayLike) -> Array:
    """CIELAB to XYZ (D50, Y = 1 for the white), any shape ending in 3."""
    v = np.asarray(lab, dtype=np.float64)
    fy = (v[..., 0] + 16) / 116
    f = np.stack([fy + v[..., 1] / 500, fy, fy - v[..., 2] / 200], axis=-1)
    cubed = f**3
    return D50 * np.where(cubed > _EPSILON, cubed, (116 * f - 16) / _KAPPA)


def check_lab(lab: ArrayLike) -> Lab:
    """The colour as three floats, or ``ColourError`` saying which figure is out of range.

    L* lies in 0..100; a* and b* within ±128.
    """
    try:
        values = np.asarray(lab, dtype=np.float64)
    except (TypeError, ValueError):
        raise ColourError(f"{lab!r} is no colour. Give L*, a* and b* as plain figures.") from None
    if values.shape != (3,):
        raise ColourError("A colour is three figures: L*, a* and b*. Give all three.")
    for name, value in zip(("L*", "a*", "b*"), values, strict=True):
        low, high = (0.0, 100.0) if name == "L*" else (-_LIMIT, _LIMIT)
        if not np.isfinite(value):
            raise ColourError(f"{name} is not a number. Type L*, a* and b* as plain figures.")
        if not low <= value <= high:
            raise ColourError(
                f"{name} = {value:g} is out of range: it lies between {low:g} and {high:g}. "
                "Check the figure and its sign."
            )
    return (float(values[0]), float(values[1]), float(values[2]))


def to_srgb(lab: ArrayLike) -> tuple[tuple[int, int, int], bool]:
    """The sRGB codes (0..255) to show a colour with, and whether the screen can show it.

    Out of the sRGB gamut the codes are clipped and the flag is false. Raises ``ColourError`` for a
    colour out of range.
    """
    return _shown(check_lab(lab))


def srgb_codes(labs: ArrayLike) -> NDArray[np.uint8]:
    """The sRGB codes (0..255) to show each of n × 3 colours with, clipped where none shows it.

    Within one code of ``to_srgb``, in a hundredth of its time.
    """
    linear = apply_matrix(XYZ_TO_SRGB, lab_to_xyz(labs))
    return np.round(np.clip(srgb_encode(linear), 0.0, 1.0) * 255).astype(np.uint8)


@lru_cache(maxsize=4096)
def _shown(lab: Lab) -> tuple[tuple[int, int, int], bool]:
    # Loaded at first use: colormath's conversions bring a whole library of graphs with them.
    with warnings.catch_warnings():
        # Where no compiled file of it could be kept, each start would compile it and complain of
        # backslashes in its docstrings. They are not ours to mend and harm nothing.
        warnings.filterwarnings(
            "ignore", message=".*invalid escape sequence", module=r".*\bcolormath\b"
        )
        from colormath.color_conversions import convert_color  # noqa: PLC0415
        from colormath.color_objects import LabColor, sRGBColor  # noqa: PLC0415
    # Unless told otherwise colormath takes the source's illuminant for the target's as well.
    colour = LabColor(*lab, observer="2", illuminant="d50")
    shown = convert_color(colour, sRGBColor, target_illuminant="d65")
    codes = np.clip([shown.rgb_r, shown.rgb_g, shown.rgb_b], 0.0, 1.0)
    # It clips some of what no screen shows without a word: only the way back tells.
    back = convert_color(sRGBColor(*codes), LabColor, target_illuminant="d50")
    missed = np.abs(np.subtract(back.get_value_tuple(), lab)).max()
    r, g, b = (round(float(code) * 255) for code in codes)
    return (r, g, b), bool(missed < _SHOWN_WITHIN)
