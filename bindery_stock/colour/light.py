"""Light that falls off across a photograph: seen, measured and levelled."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from bindery_stock.colour.decode import Negative
from bindery_stock.colour.patch import Polygon, patch_mean, patch_pixels, within_mad
from bindery_stock.colour.space import Array, apply_matrix, xyz_to_lab
from bindery_stock.errors import ColourError

Point = tuple[float, float]
UNEVEN_SHARE: Final = 0.05
"""From this difference of light on the ground shows in a colour: 5 % is about 2 in L*."""
_SECTORS: Final = 8
_INNER: Final = 1.04
_OUTER: Final = 1.16


@dataclass(frozen=True, slots=True)
class Light:
    """The light as a plane in its logarithm, a channel each."""

    slope: Array
    """2 × 3: natural logarithm per pixel to the right and down, for the three linear channels."""

    def factor(self, seen_at: Point, as_at: Point) -> Array:
        """What linear channels (3,) seen at one place are multiplied by to be as at another."""
        step = np.array(as_at, dtype=np.float64) - np.array(seen_at, dtype=np.float64)
        return np.asarray(np.exp(step[0] * self.slope[0] + step[1] * self.slope[1]))


def light_from_sheet(photo: Negative, sheet: Polygon) -> Light:
    """The plane of light from one plain, even sheet in the photograph.

    Print, creases and things lying on it are left out by 3 MAD. Raises ``ColourError`` where it is
    clipped.
    """
    pixels = patch_pixels(photo, sheet, "The plain sheet")
    top = 65535 if pixels.codes.dtype.itemsize > 1 else 255
    if float((pixels.codes >= top).any(axis=1).mean()) > 0.01:
        raise ColourError("The plain sheet is clipped; its light cannot be read. Expose less.")
    light = photo.encoding.linear(pixels.codes)
    keep = within_mad(xyz_to_lab(apply_matrix(photo.encoding.matrix, light)))
    # Two rounds: a strong fall-off widens the first look, the second judges about the plane.
    places = pixels.places.astype(np.float64)
    slope = _plane(places[keep], light[keep])
    flat = light * np.exp(-_along(places, slope))
    keep = within_mad(xyz_to_lab(apply_matrix(photo.encoding.matrix, flat)))
    return Light(_plane(places[keep], light[keep]))


def light_between(centres: Sequence[Point], gains: Sequence[Array]) -> Light:
    """The plane of light from neutral patches at several places and the gains that level each.

    Two patches tell of the direction between them and of nothing across it.
    """
    points = np.asarray(centres, dtype=np.float64)
    return Light(_plane(points, 1 / np.asarray(gains, dtype=np.float64)))


def light_differs(photo: Negative, outline: Polygon) -> float:
    """How much the light on the ground around an outline differs, as a share of its mean.

    The ground (cutting mat, card) is read in eight sectors just outside the outline; each is
    compared with the median of all, and a sector on which something lies is left out.
    """
    ring = np.asarray(outline, dtype=np.float64)
    centre = ring.mean(axis=0)
    levels = []
    for start in np.arange(_SECTORS) * (2 * np.pi / _SECTORS):
        sector = _sector(ring, centre, start)
        if (sector < 0).any() or (sector > np.array(photo.size)).any():
            continue
        try:
            pixels = patch_pixels(photo, [(float(x), float(y)) for x, y in sector])
        except ColourError:
            # Too few pixels in this direction: the others still tell.
            continue
        mean = patch_mean(pixels, photo.encoding)
        levels.append(float(apply_matrix(photo.encoding.matrix, mean.linear)[1]))
    if len(levels) < 3:
        raise ColourError(
            "Too little ground shows around the outline to judge the light. Leave a hand's breadth "
            "of mat around the piece."
        )
    y = np.array(levels)
    y = y[np.abs(y / np.median(y) - 1) < 0.5]
    return float(np.ptp(y) / y.mean())


def uneven_warning(share: float) -> str:
    """A warning where the light differs by more than 5 %, or nothing."""
    if share <= UNEVEN_SHARE:
        return ""
    return (
        f"The light differs by {share:.0%} across the photograph. Use a window under an overcast "
        "sky or two lamps at 45°, or lay a plain sheet or two grey cards in the picture."
    )


def _sector(ring: Array, centre: Array, start: float) -> Array:
    """A slice of the ground between 1.04 and 1.16 times the outline's own reach."""
    angles = np.linspace(start, start + 2 * np.pi / _SECTORS, 5)
    away = ring - centre
    directions = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    reach = np.array([_reach(away, direction) for direction in directions])
    inner = centre + directions * (reach * _INNER)[:, None]
    outer = centre + directions * (reach * _OUTER)[:, None]
    return np.concatenate([inner, outer[::-1]])


def _reach(away: Array, direction: Array) -> float:
    """How far a ring about the origin reaches in one direction: the furthest crossing."""
    following = np.roll(away, -1, axis=0)
    side = following - away
    turn = side[:, 0] * direction[1] - side[:, 1] * direction[0]
    safe = np.where(np.abs(turn) < 1e-12, 1.0, turn)
    share = (away[:, 1] * direction[0] - away[:, 0] * direction[1]) / safe
    hits = (np.abs(turn) >= 1e-12) & (share >= 0) & (share <= 1)
    along = ((away + share[:, None] * side) * direction).sum(axis=1)
    return float(np.where(hits, along, 0.0).max())


def _plane(places: Array, light: Array) -> Array:
    """2 × 3 slopes of the logarithm; least norm where the places lie on a line."""
    points = np.asarray(places, dtype=np.float64)
    log = np.log(np.maximum(light, 1e-6))
    x = points - points.mean(axis=0)
    squares = np.linalg.pinv(np.einsum("ni,nj->ij", x, x))
    products = np.einsum("ni,nj->ij", x, log - log.mean(axis=0))
    return np.asarray(np.einsum("ij,jk->ik", squares, products))


def _along(places: Array, slope: Array) -> Array:
    x = places - places.mean(axis=0)
    return np.asarray(x[:, :1] * slope[0] + x[:, 1:] * slope[1])
