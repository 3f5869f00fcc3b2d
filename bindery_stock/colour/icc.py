"""Matrix and tone-curve ICC profiles read in floating point, by their content alone.

littleCMS through Pillow gives CIELAB in whole bytes and clips what sRGB cannot hold; a
matrix/TRC profile needs neither. Profiles with look-up tables are left to littleCMS.

Source: ICC.1:2022, §7 (header, tag table), §10.6 (curveType), §10.18 (parametricCurveType),
annex F.3 (three-component matrix model).
"""

import struct
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from bindery_stock.colour.space import SRGB_TO_XYZ, Array

Curve = Callable[[Array], Array]
"""Codes scaled to 0..1 to linear light."""

_HEADER: Final = 128
_LUT_TAGS: Final = frozenset(("A2B0", "A2B1", "A2B2", "D2B0", "D2B1", "D2B2"))


class ProfileFaultError(ValueError):
    """The bytes are not a usable ICC profile; the text says why, after “it cannot be used”."""


@dataclass(frozen=True, slots=True)
class IccProfile:
    """The parts of a profile that bear on reading a photograph."""

    space: str
    """Device colour space: ``RGB``, ``GRAY``, ``CMYK`` …"""
    connection: str
    """Connection space: ``XYZ`` or ``Lab``."""
    tags: dict[str, bytes]

    @property
    def has_tables(self) -> bool:
        """Whether look-up tables take precedence over matrix and curves."""
        return not _LUT_TAGS.isdisjoint(self.tags)

    def model(self) -> tuple[Array, tuple[Curve, ...]] | None:
        """The matrix to XYZ (D50) and the curves (three, or one for grey), where there are any.

        Raises ``ProfileFaultError`` where a tag cannot be read.
        """
        if self.has_tables or self.connection != "XYZ":
            return None
        if self.space == "GRAY" and "kTRC" in self.tags:
            # Equal channels of any matrix to D50 give D50 itself: grey needs no more.
            return SRGB_TO_XYZ, (_curve(self.tags["kTRC"]),)
        names = ("r", "g", "b")
        if self.space != "RGB" or not all(
            f"{n}XYZ" in self.tags and f"{n}TRC" in self.tags for n in names
        ):
            return None
        matrix = np.stack([_xyz(self.tags[f"{n}XYZ"]) for n in names], axis=1)
        return matrix, tuple(_curve(self.tags[f"{n}TRC"]) for n in names)


def read_icc(data: bytes) -> IccProfile:
    """Take a profile apart. Raises ``ProfileFaultError`` where it is cut short or not one."""
    if len(data) < _HEADER + 4 or data[36:40] != b"acsp":
        raise ProfileFaultError("it is none of the ICC's")
    (count,) = struct.unpack_from(">I", data, _HEADER)
    if len(data) < _HEADER + 4 + 12 * count:
        raise ProfileFaultError("it is damaged, its table of contents is cut short")
    tags = {}
    for index in range(count):
        name, offset, size = struct.unpack_from(">4sII", data, _HEADER + 4 + 12 * index)
        if offset + size > len(data):
            raise ProfileFaultError("it is damaged and cut short")
        tags[name.decode("latin-1")] = data[offset : offset + size]
    return IccProfile(
        space=data[16:20].decode("latin-1").strip(),
        connection=data[20:24].decode("latin-1").strip(),
        tags=tags,
    )


def _fixed(data: bytes, offset: int, count: int) -> Array:
    """``count`` s15Fixed16 numbers."""
    if len(data) < offset + 4 * count:
        raise ProfileFaultError("it is damaged, an entry is shorter than it says")
    return np.frombuffer(data, ">i4", count, offset).astype(np.float64) / 65536


def _xyz(data: bytes) -> Array:
    if data[:4] != b"XYZ ":
        raise ProfileFaultError("it is damaged, a colorant is no colour")
    return _fixed(data, 8, 3)


def _curve(data: bytes) -> Curve:
    if data[:4] == b"para":
        return _parametric(data)
    if data[:4] != b"curv" or len(data) < 12:
        raise ProfileFaultError("it is damaged, a tone curve is of an unknown type")
    (count,) = struct.unpack_from(">I", data, 8)
    if len(data) < 12 + 2 * count:
        raise ProfileFaultError("it is damaged, a tone curve is cut short")
    if count == 0:
        return lambda v: v
    entries = np.frombuffer(data, ">u2", count, 12).astype(np.float64)
    if count == 1:
        gamma = float(entries[0]) / 256
        return lambda v: np.asarray(v**gamma)
    points = np.linspace(0.0, 1.0, count)
    return lambda v: np.interp(v, points, entries / 65535)


def _parametric(data: bytes) -> Curve:
    """Types 0 to 4: y = (a·x + b)^g + e from x = d on, c·x + f below."""
    if len(data) < 12:
        raise ProfileFaultError("it is damaged, a tone curve is cut short")
    (kind,) = struct.unpack_from(">H", data, 8)
    if kind > 4:
        raise ProfileFaultError("it is damaged, a tone curve is of an unknown type")
    p = [float(v) for v in _fixed(data, 12, (1, 3, 4, 5, 7)[kind])]
    g = p[0]
    a, b = (p[1], p[2]) if kind else (1.0, 0.0)
    c, d, e, f = 0.0, 0.0, 0.0, 0.0
    if kind in (1, 2):
        d = -b / a if a else 0.0
    if kind == 2:
        e = f = p[3]
    if kind >= 3:
        c, d = p[3], p[4]
    if kind == 4:
        e, f = p[5], p[6]

    def curve(v: Array) -> Array:
        power = np.maximum(a * v + b, 0.0) ** g + e
        return np.where(v >= d, power, c * v + f)

    return curve
