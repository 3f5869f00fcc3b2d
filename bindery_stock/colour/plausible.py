"""Whether what a colour profile makes of codes can be true.

A profile whose bytes were damaged, or that was never a photograph's, still gives figures. Every
space in which photographs are kept shows white as white, greys in their order, and red, green and
blue on their own sides of grey; whoever asks less believes an a* of 3934. The limits are our own,
wide enough for the widest space in use: the green of ROMM RGB (ISO 22028-2) has a* −187.
"""

from collections.abc import Callable
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.space import Array, Lab
from bindery_stock.errors import ColourError

Reader = Callable[[NDArray[Any]], Array]
"""8-bit codes (n × channels) to CIELAB (n × 3)."""

_WHITE_L: Final = (85.0, 105.0)
_WHITE_CHROMA: Final = 10.0
"""Colorants that do not add up to the white of the connection space tint everything."""
_LEAST_RANGE: Final = 30.0
_FALL: Final = 3.0
_MIDDLE_L: Final = (8.0, 95.0)
"""Of the middle code: a gamma of 7 makes it 8, one of 0.2 makes it 95."""
_VIVID_L: Final = (-20.0, 110.0)
_MOST_VIVID: Final = 250.0
_MOST: Final = 128.0
"""a* and b* of a cloth: beyond it the ICC's own encoding of CIELAB ends."""
_BEYOND: Final = 5.0
"""How far L* may come out below black or above white by the error of a correction."""


def implausible(read: Reader, channels: int, *, exact: bool) -> str:
    """Why the profile cannot be true, to stand after “it”, or nothing.

    ``channels``: 1 grey, 3 light, 4 inks. ``exact`` readers are not bound to what the bytes of
    CIELAB hold, so their pure colours are looked at as well.
    """
    ramp = np.linspace(0, 255, 17).astype(np.uint8)
    if channels == 4:
        ramp = ramp[::-1]
    greys = read(np.repeat(ramp[:, None], channels, axis=1))
    if not np.isfinite(greys).all():
        return "gives no figures at all"
    return _of_greys(greys) or (_of_pure(read) if exact and channels == 3 else "")


def _of_greys(greys: Array) -> str:
    light = greys[:, 0]
    black, middle, white = float(light[0]), float(light[len(light) // 2]), float(light[-1])
    if not _WHITE_L[0] <= white <= _WHITE_L[1] or white - black < _LEAST_RANGE:
        return f"makes black L* {black:.0f} and white L* {white:.0f}"
    if float(np.hypot(*greys[-1, 1:])) > _WHITE_CHROMA:
        return f"makes white coloured (a* {greys[-1, 1]:.0f}, b* {greys[-1, 2]:.0f})"
    if float(np.diff(light).min()) < -_FALL:
        return "makes a lighter grey darker"
    if not _MIDDLE_L[0] <= middle <= _MIDDLE_L[1]:
        return f"makes middle grey L* {middle:.0f}"
    return ""


def _of_pure(read: Reader) -> str:
    codes = 255 * np.array([(1, 0, 0), (0, 1, 0), (0, 0, 1), (0, 1, 1), (1, 0, 1), (1, 1, 0)])
    pure = read(codes.astype(np.uint8))
    if not np.isfinite(pure).all():
        return "gives no figures at all"
    low, high = _VIVID_L
    far = np.abs(pure[:, 1:]).max(axis=1) > _MOST_VIVID
    far |= (pure[:, 0] < low) | (pure[:, 0] > high)
    if far.any():
        lightness, a, b = pure[int(np.argmax(far))]
        return f"makes a pure colour L* {lightness:.0f}, a* {a:.0f}, b* {b:.0f}"
    red, green, blue = pure[:3]
    if red[1] <= 0 or green[1] >= 0 or blue[2] >= 0:
        return "takes red, green and blue for one another"
    return ""


def cloth_colour(lab: Lab) -> Lab:
    """The colour read, brought to black or white where its own error put it just beyond.

    Raises ``ColourError`` where no cloth can have it.
    """
    lightness, a, b = lab
    sound = -_BEYOND <= lightness <= 100 + _BEYOND and max(abs(a), abs(b)) <= _MOST
    if not sound:
        raise ColourError(
            f"L* {lightness:.0f}, a* {a:.0f}, b* {b:.0f} was read, which no cloth can have: the "
            "reference or the colour profile does not fit this photograph, or the patch is burnt "
            "out. Check what is marked, or photograph again."
        )
    return (min(max(lightness, 0.0), 100.0), a, b)
