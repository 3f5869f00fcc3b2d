"""A grey card found in a photograph by itself: never more than an offer.

Much that is flat, four-sided and grey is no card: a brick, a wall, a patch of a target.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bindery_stock.colour.decode import Negative, open_negative
from bindery_stock.colour.flats import Flats, flats
from bindery_stock.colour.patch import Polygon
from bindery_stock.colour.small_picture import LENGTHS, SmallPicture, small_pictures
from bindery_stock.colour.space import Array, Lab

_SHARE: Final = (0.004, 0.25)
"""Of the picture."""
_LIGHTNESS: Final = (25.0, 92.0)
_MOST_CHROMA: Final = 14.0
"""As photographed: white balance may be off."""
_FILL: Final = (0.93, 1.03)
"""As ``flats.FOUR_SIDED``, closer: a card is whole and has straight sides."""
_LEAST_ROUND: Final = 0.08
"""A card is at most three and a half times as long as wide."""
_USUAL_L: Final = 50.0
_INSIDE: Final = 0.75
"""How much of the way from the middle to the sides is marked."""


@dataclass(frozen=True, slots=True)
class FoundNeutral:
    """What may be a grey card, to be confirmed and its lightness said."""

    polygon: Polygon
    """Within the card, upright pixels."""
    lab: Lab
    """About what it looks like as photographed."""


def find_neutral(photo: Path) -> FoundNeutral | None:
    """Look for a grey card in a photograph; None where nothing looks like one.

    Raises ``PhotoError`` where the file cannot be read.
    """
    return neutral_in(open_negative(Path(photo)))


def neutral_in(photo: Negative) -> FoundNeutral | None:
    """As ``find_neutral``, in a photograph already decoded."""
    best: tuple[float, FoundNeutral] | None = None
    for small in small_pictures(photo, LENGTHS[:1]):
        for found in flats(small.codes, _SHARE[1]):
            one = _likeliest(small, found)
            if one is not None and (best is None or one[0] < best[0]):
                best = one
    return best[1] if best else None


def _likeliest(small: SmallPicture, found: Flats) -> tuple[float, FoundNeutral] | None:
    found = found.only(_card_shaped(small, found))
    if not len(found.areas):
        return None
    x, y = np.floor(found.centres).astype(np.int_).T
    labs = small.labs(small.codes[y, x])
    chroma = np.hypot(labs[:, 1], labs[:, 2])
    light = labs[:, 0]
    against = chroma / _MOST_CHROMA + np.abs(light - _USUAL_L) / _USUAL_L
    against += 10 * np.abs(found.fill - 1)
    grey = (chroma < _MOST_CHROMA) & (light > _LIGHTNESS[0]) & (light < _LIGHTNESS[1])
    if not grey.any():
        return None
    best = int(np.argmin(np.where(grey, against, np.inf)))
    lightness, a, b = (float(v) for v in labs[best])
    ring = _within(found.centres[best], found.moments[best]) * small.factor
    polygon = [(float(px), float(py)) for px, py in ring]
    return float(against[best]), FoundNeutral(polygon, (lightness, a, b))


def _card_shaped(small: SmallPicture, found: Flats) -> NDArray[np.bool_]:
    whole = small.codes.shape[0] * small.codes.shape[1]
    fill = found.fill
    keep = (found.areas >= _SHARE[0] * whole) & (fill >= _FILL[0]) & (fill <= _FILL[1])
    return np.asarray(keep & (found.roundness >= _LEAST_ROUND))


def _within(centre: Array, moments: Array) -> Array:
    """The ellipse that touches the sides of a four-sided place with these moments, drawn in.

    Along each axis such a place reaches √3 standard deviations from its middle.
    """
    var_x, var_y, both = moments
    root = np.linalg.cholesky(np.array([[var_x, both], [both, var_y]]))
    angles = np.arange(24) * (2 * np.pi / 24)
    circle = np.stack([np.cos(angles), np.sin(angles)])
    return np.asarray(centre + _INSIDE * np.sqrt(3) * np.einsum("ij,jn->ni", root, circle))
