"""A card of 24 painted colours whose values are known, photographed once at each sitting.

The colours are our own: eighteen spread over hue, lightness and chroma, then six greys.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sample_db.render.camera import Camera, Ring, carried, chained, laid
from sample_db.render.ground import ground
from sample_db.render.noise import Cloud
from sample_db.render.photograph import Sitting, filed
from sample_db.render.picture import Picture, Window
from sample_db.render.tint import Lab, encode, linear
from sample_db.render.tools import lay_card, lay_rule

COLOURS: tuple[Lab, ...] = (
    (24.0, 30.0, 14.0),
    (44.0, 54.0, 36.0),
    (30.0, 14.0, 18.0),
    (46.0, 24.0, 34.0),
    (62.0, 30.0, 54.0),
    (78.0, 8.0, 68.0),
    (22.0, -12.0, 6.0),
    (36.0, -24.0, 14.0),
    (52.0, -34.0, 26.0),
    (44.0, -6.0, 28.0),
    (70.0, -24.0, 44.0),
    (72.0, -20.0, 2.0),
    (18.0, 6.0, -18.0),
    (31.0, 8.0, -34.0),
    (50.0, -4.0, -28.0),
    (30.0, 24.0, -22.0),
    (54.0, 38.0, -8.0),
    (68.0, 18.0, 16.0),
    (95.0, 0.0, 1.0),
    (81.0, 0.0, 0.0),
    (66.0, 0.0, 0.0),
    (50.0, 0.0, 0.0),
    (33.0, 0.0, 0.0),
    (14.0, 0.0, 0.0),
)
"""CIELAB D50, row by row from the upper left, six to a row."""
_COLUMNS, _ROWS = 6, 4
_PITCH = 24.0
_PATCH = 19.0
_EDGE = 8.0
_FRAME: Lab = (24.0, 0.0, 0.0)


@dataclass(frozen=True)
class ChartPhotograph:
    """A photograph of the card, and where its corner patches are."""

    pixels: NDArray[np.uint8]
    corners_px: Ring
    """Centres of the patches at the upper left, upper right, lower left and lower right."""
    labs: tuple[Lab, ...] = COLOURS

    def jpeg(self, quality: int = 82) -> bytes:
        """The file's bytes."""
        return filed(Image.fromarray(self.pixels), quality)


def photographed_chart(sitting: Sitting) -> ChartPhotograph:
    """The card of colours on the sitting's ground, in its light."""
    rng = np.random.default_rng(sitting.seed)
    width, height = sitting.size
    scale = 6.2 * width / 1600
    camera = Camera(width, height, scale, sitting.camera_turn, sitting.tilt)
    picture = Picture(ground(sitting.ground, camera, rng), camera)
    lay_rule(picture, laid(-75.0, -86.0, 0.0), 150, rng)
    lay_card(picture, laid(98.0, 8.0, 1.5), rng)
    place = chained(camera.to_px, laid(-22.0, 8.0, sitting.turn))
    corners = _lay_chart(picture, place, rng)
    pixels = encode(sitting.light.caught(picture.light, camera, rng))
    return ChartPhotograph(pixels, corners)


def _lay_chart(picture: Picture, place: np.ndarray, rng: np.random.Generator) -> Ring:
    half_w, half_h = _COLUMNS * _PITCH / 2 + _EDGE, _ROWS * _PITCH / 2 + _EDGE
    box = ((-half_w, -half_h), (half_w, -half_h), (half_w, half_h), (-half_w, half_h))
    outline = carried(place, box)
    window = Window.around(outline, picture.camera, spare=3)
    x, y = window.points(np.linalg.inv(place))
    column = (x + _COLUMNS * _PITCH / 2) / _PITCH
    row = (_ROWS * _PITCH / 2 - y) / _PITCH
    inside = (column >= 0) & (column < _COLUMNS) & (row >= 0) & (row < _ROWS)
    off = np.maximum(np.abs(column % 1 - 0.5), np.abs(row % 1 - 0.5)) * _PITCH
    which = np.where(inside, np.floor(row) * _COLUMNS + np.floor(column), 0).astype(int)
    paints = np.array([linear(lab) for lab in COLOURS], np.float32)[which]
    frame = np.array(linear(_FRAME), np.float32)
    colour = np.where((inside & (off < _PATCH / 2))[..., None], paints, frame)
    colour = colour * (1 + 0.006 * Cloud(rng).at(x, y, 0.9))[..., None]
    picture.lay(window, colour, window.mask(outline), thickness=0.8)
    x1, y1 = (_COLUMNS - 1) * _PITCH / 2, (_ROWS - 1) * _PITCH / 2
    return carried(place, ((-x1, y1), (x1, y1), (-x1, -y1), (x1, -y1)))
