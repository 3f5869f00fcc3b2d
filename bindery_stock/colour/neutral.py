"""One neutral patch of known lightness in the photograph: exposure and cast taken out."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from PIL import Image

from bindery_stock.colour.decode import Negative
from bindery_stock.colour.patch import patch_mean, patch_pixels
from bindery_stock.colour.space import Array, Lab, apply_matrix, check_lab, lab_to_xyz, xyz_to_lab
from bindery_stock.errors import ColourError, ReferenceRefused

PAPER_WHITE: Final[Lab] = (94.0, 0.0, 1.0)
"""Ordinary uncoated white paper, roughly (common practice, no source): sheets differ by several
units and many glow blue with brighteners."""
LEAST_L: Final = 45.0
"""A darker card lies on the bent foot of the camera's tone curve and asks for too much light …"""
MOST_L: Final = 75.0
"""… a lighter one on its shoulder, where highlights are flattened."""
MOST_GAIN: Final = 2.6
"""How many times brighter or darker a card may ask the photograph to be, in the mean of its
channels. Own measurement, eight photographs of a target, each levelled by each of its six greys: of
the 14 cards that these three limits accept none makes its photograph worse (mean ΔE00 12.1 before,
7.2 after); of the 34 they refuse 21 do, by up to 26."""
_MOST_CHROMA: Final = 12.0
_NO_CAST: Final = 0.03
"""Channel gains this close together are noise: one gain for all is steadier."""
_DARKEST: Final = 15.0
_MOST_SPREAD: Final = 6.0
_MOST_FOREIGN: Final = 6.0
_MOST_BRIGHT: Final = 2.0
"""Light, white being 1, that no more than a hundredth of the levelled photograph may pass: beyond
it the patch speaks of the camera's tone curve, not of exposure. Own measurement: eight photographs
of a target levelled by each of its greys but black: the four beyond it all grew worse (by up to
ΔE00 4.8), and the bands held for 96 of 100 patches where they had held for 87 (neutral 3.5)."""


@dataclass(frozen=True)
class Neutral:
    """A neutral patch in a photograph: grey card, white paper.

    ``polygon`` in upright pixels; ``lab`` its true CIELAB D50 (a grey card's L* with a* = b* = 0
    where only that is known). ``approximate`` marks paper and other guesses.
    """

    polygon: Sequence[tuple[float, float]]
    lab: Lab = (50.0, 0.0, 0.0)
    approximate: bool = False

    def __post_init__(self) -> None:
        """Refuse a colour out of range or one that is not neutral."""
        lightness, a, b = check_lab(self.lab)
        if float(np.hypot(a, b)) > _MOST_CHROMA or lightness < _DARKEST:
            raise ColourError(
                "The reference patch must be neutral and not dark: L* from 15, a* and b* near 0. "
                "Mark a grey card or white paper."
            )

    @classmethod
    def paper(cls, polygon: Sequence[tuple[float, float]]) -> "Neutral":
        """White paper, whose colour is only roughly known."""
        return cls(polygon, PAPER_WHITE, approximate=True)


@dataclass(frozen=True, slots=True)
class Levels:
    """What a neutral patch says of a photograph's light."""

    gains: Array
    """(3,) factors for the linear channels."""
    centre: tuple[float, float]
    """Where the patch lies, upright pixels."""


def levels(photo: Negative, neutral: Neutral) -> Levels:
    """Read the neutral patch.

    Raises ``ReferenceRefused`` where a colour read by it may be worse than without, and
    ``ColourError`` where it cannot be read.
    """
    if neutral.approximate:
        raise _refused("white paper is only roughly known, and cameras flatten what is so bright")
    if not LEAST_L <= neutral.lab[0] <= MOST_L:
        raise _refused(
            f"its L* is {neutral.lab[0]:.0f}; only from {LEAST_L:.0f} to {MOST_L:.0f} does a card "
            "speak of the light and not of the camera's tone curve"
        )
    pixels = patch_pixels(photo, neutral.polygon, "The reference patch")
    mean = patch_mean(pixels, photo.encoding)
    if mean.clipped > 0.01:
        raise _refused(
            f"it is clipped ({mean.clipped:.0%} of it) and no longer shows how bright the light was"
        )
    wanted = apply_matrix(
        np.asarray(np.linalg.inv(photo.encoding.matrix)), lab_to_xyz(check_lab(neutral.lab))
    )
    gains = wanted / np.maximum(mean.linear, 1e-6)
    level = float(gains.mean())
    if float(np.ptp(gains)) < _NO_CAST * level:
        gains = np.full(3, level)
    x, y = np.asarray(neutral.polygon, dtype=np.float64).mean(axis=0)
    reason = _useless(mean.spread, mean.lab, gains)
    if not reason and _brightest(photo) * level > _MOST_BRIGHT:
        reason = "by it much of the photograph would be brighter than white"
    if reason:
        raise _refused(reason)
    return Levels(gains, (float(x), float(y)))


def _refused(reason: str) -> ReferenceRefused:
    return ReferenceRefused(
        f"The reference patch was refused: {reason}. No colour is read by it. Photograph again "
        f"with a grey card of L* {LEAST_L:.0f} to {MOST_L:.0f}, well lit, or shelve the piece "
        "without a colour and say its colour family."
    )


def _brightest(photo: Negative) -> float:
    """Light (Y, white = 1) that a hundredth of the photograph reaches, from a sparse sample."""
    sample = photo.image.resize((128, 128), Image.Resampling.NEAREST)
    codes = np.asarray(sample).reshape(128 * 128, -1)
    light = apply_matrix(photo.encoding.matrix, photo.encoding.linear(codes))[:, 1]
    return float(np.percentile(light, 99))


def _useless(spread: float, measured: Lab, gains: Array) -> str:
    if measured[0] < _DARKEST:
        return "it is too dark in the photograph"
    if spread > _MOST_SPREAD:
        return "it is uneven: a shadow, glare or print lies on it"
    if float(gains.max()) > _MOST_FOREIGN or float(gains.min()) < 1 / _MOST_FOREIGN:
        return "it is too far from what it should be to be the patch meant"
    level = float(gains.mean())
    if level > MOST_GAIN:
        return f"the photograph is too dark, it would have to be {level:.1f} times as bright"
    if level < 1 / MOST_GAIN:
        return f"the photograph is too bright, it would have to be {1 / level:.1f} times as dark"
    return ""


def levelled(linear: Array, gains: Array, matrix: Array) -> Lab:
    """CIELAB of linear channels (3,) after the gains."""
    lab = xyz_to_lab(apply_matrix(matrix, linear * gains))
    return (float(lab[0]), float(lab[1]), float(lab[2]))
