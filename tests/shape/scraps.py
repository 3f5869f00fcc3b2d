"""Irregular scraps for the tests of this room."""

from math import pi

import numpy as np
import shapely
from shapely.geometry import Polygon

from bindery_stock.shape import Outline


def frayed(seed: int, points: int) -> Outline:
    """A star-shaped scrap of about 120 × 170 mm with two holes."""
    random = np.random.default_rng(seed)
    while True:
        angles = np.sort(random.uniform(0, 2 * pi, points))
        radius = 60 * (1 + 0.3 * np.cos(2 * angles) + random.uniform(-0.2, 0.2, points))
        shape = Polygon(np.stack((radius * np.cos(angles), 1.4 * radius * np.sin(angles)), 1))
        if not shape.is_valid:
            continue
        for x, y in random.uniform(-25, 25, (2, 2)):
            shape = shape.difference(shapely.Point(x, y).buffer(random.uniform(2, 9), 3))
        if isinstance(shape, Polygon) and shape.is_valid:
            return Outline.from_polygon(shape)


def torn(width: float, height: float, seed: int) -> Outline:
    """A scrap cut by hand along threads: its sides wander by 0.6 mm every 6 mm or so."""
    random = np.random.default_rng(seed)
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    ring = []
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        steps = int(max(abs(x1 - x0), abs(y1 - y0)) / 6)
        for at in np.arange(steps) / steps:
            dx, dy = random.uniform(-0.6, 0.6, 2)
            ring.append((float(x0 + (x1 - x0) * at + dx), float(y0 + (y1 - y0) * at + dy)))
    return Outline(tuple(ring))
