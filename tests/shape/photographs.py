"""Rendered photographs of scraps with known outlines."""

from math import cos, pi, radians, sin

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageDraw
from scipy import ndimage
from shapely import Point, Polygon

from bindery_stock.shape import PhotoScale

SIZE = (900, 675)
_OVERSAMPLED = 3
_FOCAL, _DISTANCE = 975.0, 430.0


def project(points: object, tilt: float, swing: float) -> npt.NDArray[np.float64]:
    """A pinhole camera about 430 mm above the bench, tilted about x and swung about y."""
    x, y = np.asarray(points, dtype=float).T
    depth = _DISTANCE + y * sin(radians(tilt)) + x * sin(radians(swing))
    across = _FOCAL * x * cos(radians(swing)) / depth
    return np.stack(
        (SIZE[0] / 2 + across, SIZE[1] / 2 - _FOCAL * y * cos(radians(tilt)) / depth), 1
    )


def scrap(seed: int) -> Polygon:
    """A ragged scrap of about 200 × 130 mm with one hole."""
    random = np.random.default_rng(seed)
    angles = np.linspace(0, 2 * pi, 240, endpoint=False)
    radius = np.ones(240)
    for wave in range(2, 9):
        radius += random.normal(0, 0.25 / wave**1.3) * np.cos(wave * angles + random.uniform(0, 7))
    radius = np.clip(radius, 0.55, 1.35)
    ring = np.stack((95 * radius * np.cos(angles), 66 * radius * np.sin(angles)), 1)
    hole = Point(random.uniform(-25, 25), random.uniform(-15, 15)).buffer(random.uniform(5, 9))
    shape = Polygon(ring).buffer(0).difference(hole)
    assert isinstance(shape, Polygon)
    return shape


def photograph(
    shape: Polygon, seed: int, *, ground: object, cloth: object, noise: float = 0.012
) -> tuple[npt.NDArray[np.uint8], PhotoScale]:
    """The photograph, with its scale from the four corners of a sheet 240 × 180 mm."""
    random = np.random.default_rng(seed)
    tilt, swing = random.uniform(-9, 9, 2)
    cover = _coverage(shape, tilt, swing)
    rows, columns = cover.shape
    y, x = np.meshgrid(np.linspace(-1, 1, rows), np.linspace(-1, 1, columns), indexing="ij")
    light = 1 - 0.28 * (x * x + y * y) / 2 + random.uniform(-0.1, 0.1) * x
    shadow = ndimage.gaussian_filter(np.roll(cover, (7, 5), axis=(0, 1)), 9.0)
    weave = 1 + 0.05 * np.sin(x * 700) * np.sin(y * 520) + random.normal(0, 0.03, cover.shape)
    paper = np.asarray(ground) * (1 - 0.12 * shadow * (1 - cover))[..., None]
    fabric = np.asarray(cloth) * weave[..., None]
    linear = (paper * (1 - cover[..., None]) + fabric * cover[..., None]) * light[..., None]
    linear = ndimage.gaussian_filter(linear, (0.7, 0.7, 0))
    coded = np.clip(linear, 0, 1) ** (1 / 2.2) + random.normal(0, noise, linear.shape)
    corners = project([(-120, 90), (120, 90), (120, -90), (-120, -90)], tilt, swing)
    scale = PhotoScale.from_rectangle([(a, b) for a, b in corners], 240, 180)
    return np.round(np.clip(coded, 0, 1) * 255).astype(np.uint8), scale


def true_in_scale(shape: Polygon) -> Polygon:
    """The outline in the millimetres of that scale, whose origin is the sheet's corner."""
    from shapely import affinity

    return affinity.translate(shape, 120, 90)


def _coverage(shape: Polygon, tilt: float, swing: float) -> npt.NDArray[np.float64]:
    image = Image.new("L", (SIZE[0] * _OVERSAMPLED, SIZE[1] * _OVERSAMPLED), 0)
    draw = ImageDraw.Draw(image)
    for ring, fill in ((shape.exterior, 255), *((r, 0) for r in shape.interiors)):
        dense = np.array(ring.segmentize(1.0).coords)
        corners = project(dense, tilt, swing) * _OVERSAMPLED - 0.5
        draw.polygon([(a, b) for a, b in corners], fill=fill)
    return np.asarray(image.resize(SIZE, Image.Resampling.BOX), dtype=float) / 255
