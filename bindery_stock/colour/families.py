"""A plain colour family for a colour, for searching and for the shelf's filter.

The rule is our own, by lightness L*, chroma C*ab and hue angle h (degrees) of CIELAB D50:

1. Little chroma (C* < 8, or < 5 + L*/6 in the dark below L* 18): black below L* 25, white from
   L* 85, grey between. A pale cream (L* ≥ 85, C* < 14) is white.
2. Hues 345°-45° are red; light ones (L* ≥ 60) pink; dull ones from 20° on (C* < 24) brown.
3. Hues 45°-75° are orange where vivid (C* ≥ 45 and L* ≥ 45), else brown.
4. Hues 75°-112° are yellow where light (L* ≥ 60 and C* ≥ 35, or L* ≥ 80), brown below 92° else,
   olive from 92° on.
5. Hues 112°-200° are green (up to 125° and dull or dark: olive), 200°-300° blue, 300°-345° purple
   (light, L* ≥ 65, from 325° on: pink).
"""

import math
from typing import Final

from numpy.typing import ArrayLike

from bindery_stock.colour.space import check_lab

FAMILIES: Final = (
    "red",
    "pink",
    "orange",
    "brown",
    "yellow",
    "olive",
    "green",
    "blue",
    "purple",
    "black",
    "grey",
    "white",
)
"""All families, in the order in which a filter lists them."""


def family(lab: ArrayLike) -> str:
    """The plain colour family of a colour (one of ``FAMILIES``); the rule is the module's.

    Raises ``ColourError`` for a colour out of range.
    """
    lightness, a, b = check_lab(lab)
    chroma = math.hypot(a, b)
    hue = math.degrees(math.atan2(b, a)) % 360
    neutral = _neutral(lightness, chroma, hue)
    if neutral:
        return neutral
    if hue >= 345 or hue < 45:
        return _reddish(lightness, chroma, hue)
    if hue < 112:
        return _warm(lightness, chroma, hue)
    if hue < 200:
        return "olive" if hue < 125 and (lightness < 45 or chroma < 25) else "green"
    if hue < 300:
        return "blue"
    return "pink" if hue >= 325 and lightness >= 65 else "purple"


def _neutral(lightness: float, chroma: float, hue: float) -> str:
    cream = lightness >= 85 and chroma < 14 and 45 <= hue < 112
    if cream:
        return "white"
    # The eye sees no hue in the dark until chroma grows: L* 0 to 18 tolerates 5 to 8.
    if chroma >= (min(5 + lightness / 6, 8) if lightness < 18 else 8):
        return ""
    if lightness < 25:
        return "black"
    return "white" if lightness >= 85 else "grey"


def _reddish(lightness: float, chroma: float, hue: float) -> str:
    if lightness >= 60:
        return "pink"
    return "brown" if 20 <= hue < 45 and chroma < 24 else "red"


def _warm(lightness: float, chroma: float, hue: float) -> str:
    if hue < 75:
        return "orange" if chroma >= 45 and lightness >= 45 else "brown"
    if lightness >= 80 or (lightness >= 60 and chroma >= 35):
        return "yellow"
    return "brown" if hue < 92 else "olive"
