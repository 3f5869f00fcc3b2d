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
