"""What a PNG says of its colours besides an ICC profile.

Source: W3C, Portable Network Graphics (Third Edition): cICP comes before iCCP, that before sRGB,
and that before gAMA and cHRM; cICP holds four code points of ITU-T H.273.
"""

import struct
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, BinaryIO, Final

import numpy as np

from bindery_stock.colour.space import Array

_SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"
_MOST_CHUNKS: Final = 1000
_FULL_RANGE: Final = 1
_SRGB_GAMMA: Final = 0.45455
_SRGB_POINTS: Final = (0.3127, 0.3290, 0.64, 0.33, 0.30, 0.60, 0.15, 0.06)
"""11.3.2.5: gAMA and cHRM as they go with sRGB, for readers that know no better."""


@dataclass(frozen=True, slots=True)
class CodePoints:
    """The colours of a picture by ITU-T H.273."""

    primaries: int
    transfer: int
    plain: bool
    """Red, green and blue themselves over their full range, as a PNG must hold them."""


def code_points(file: BinaryIO) -> CodePoints | None:
    """The cICP chunk of a PNG, or None; the file is left where it was."""
    begun = file.tell()
    try:
        file.seek(0)
        return _sought(file)
    finally:
        file.seek(begun)


def _sought(file: BinaryIO) -> CodePoints | None:
    if file.read(8) != _SIGNATURE:
        return None
    for _ in range(_MOST_CHUNKS):
        head = file.read(8)
        if len(head) < 8:
            return None
        length, name = struct.unpack(">I4s", head)
        if name == b"cICP" and length == 4:
            told = file.read(4)
            if len(told) < 4:
                return None
            primaries, transfer, matrix, full = told
            return CodePoints(primaries, transfer, matrix == 0 and full == _FULL_RANGE)
        if name in (b"IDAT", b"IEND"):
            return None
        file.seek(length + 4, 1)
    return None


def gamma_and_primaries(info: Mapping[Any, Any]) -> tuple[float, Array] | None:
    """The gAMA of a PNG (code = light ** gamma) and its cHRM, 4 × 2: white, red, green, blue.

    None where sRGB is said or meant, or nothing is told.
    """
    if "srgb" in info or "gamma" not in info:
        return None
    gamma = float(info["gamma"])
    points = np.array(info.get("chromaticity") or _SRGB_POINTS, dtype=np.float64)
    usual = abs(gamma - _SRGB_GAMMA) < 0.001 and np.abs(points - _SRGB_POINTS).max() < 0.002
    return None if usual else (gamma, points.reshape(4, 2))
