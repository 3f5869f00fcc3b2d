"""A pinhole camera over the bench, and what a sensor makes of the light: with known truth.

The perspective equations are x' = f X / Z (R. Hartley and A. Zisserman, *Multiple View Geometry*,
2nd ed. 2004, ch. 6); the coding of the pixels is that of IEC 61966-2-1.
"""

from dataclasses import dataclass
from io import BytesIO
from math import cos, radians, sin

import numpy as np
import numpy.typing as npt
from PIL import Image
from scipy import ndimage

from bindery_stock.shape import PhotoScale

SIZE = (960, 720)
FOCAL = 1300.0
"""Pixels: about 49 mm on a camera of full frame."""
DISTANCE = 350.0
"""mm from the lens to the middle of the bench: 0.27 mm to a pixel."""
PIXEL = DISTANCE / FOCAL
"""mm to a pixel in the middle."""
SHEET = (240.0, 180.0)
"""mm of the rectangle whose four corners give the scale."""

Array = npt.NDArray[np.float64]
_LINEAR = np.linspace(0, 1, 20_001)
_CODED = np.round(
    255
    * np.where(
        _LINEAR <= 0.0031308,
        12.92 * _LINEAR,
        1.055 * np.maximum(_LINEAR, 1e-9) ** (1 / 2.4) - 0.055,
    )
).astype(np.uint8)


@dataclass(frozen=True)
class Camera:
    """How the camera stands and what its sensor does."""

    tilt: float = 0.0
    """Degrees about the long side of the photograph."""
    swing: float = 0.0
    """Degrees about the short side."""
    blur: float = 0.7
    """Standard deviation in pixels."""
    noise: float = 0.006
    """Of white, in linear light, shot noise of the same size at white added."""
    vignetting: float = 0.25
    """Share of the light that is missing in the corners."""
    slope: float = 0.08
    """Share by which the light falls from the left to the right."""
    quality: int = 90
    """Of the JPEG."""

    @property
    def _matrix(self) -> Array:
        t, s = radians(self.tilt), radians(self.swing)
        about_x = np.array([(1, 0, 0), (0, cos(t), -sin(t)), (0, sin(t), cos(t))])
        about_y = np.array([(cos(s), 0, sin(s)), (0, 1, 0), (-sin(s), 0, cos(s))])
        return np.asarray(about_x @ about_y, dtype=np.float64)

    def seen(self, points: object, height: object = 0.0) -> Array:
        """Pixels (n × 2) of points of the bench in mm, ``height`` mm above it."""
        flat = np.asarray(points, dtype=np.float64).reshape(-1, 2)
        up = np.broadcast_to(np.asarray(height, dtype=np.float64), (len(flat),))
        x, y, z = self._matrix @ np.column_stack((flat, up)).T
        across, down = FOCAL * x / (DISTANCE - z), FOCAL * y / (DISTANCE - z)
        return np.column_stack((SIZE[0] / 2 + across, SIZE[1] / 2 - down))

    def bench(self) -> tuple[Array, Array]:
        """The mm of the bench, x and y, that each pixel's middle looks at."""
        turned = self._matrix
        forward = np.array(
            [
                (FOCAL * turned[0, 0], FOCAL * turned[0, 1], 0.0),
                (-FOCAL * turned[1, 0], -FOCAL * turned[1, 1], 0.0),
                (-turned[2, 0], -turned[2, 1], DISTANCE),
            ]
        )
        back = np.linalg.inv(forward)
        u, v = np.meshgrid(
            np.arange(SIZE[0]) + 0.5 - SIZE[0] / 2, np.arange(SIZE[1]) + 0.5 - SIZE[1] / 2
        )
        x, y, w = (row[0] * u + row[1] * v + row[2] for row in back)
        return np.asarray(x / w), np.asarray(y / w)

    def scale(self) -> PhotoScale:
        """The scale from the four corners of the sheet; its origin is the sheet's lower left."""
        w, h = SHEET[0] / 2, SHEET[1] / 2
        corners = self.seen([(-w, h), (w, h), (w, -h), (-w, -h)])
        return PhotoScale.from_rectangle([(a, b) for a, b in corners], *SHEET)

    def expose(self, light: Array, random: np.random.Generator) -> npt.NDArray[np.uint8]:
        """The photograph of linear light (rows × columns × 3), as its JPEG decodes."""
        y, x = np.meshgrid(np.linspace(-1, 1, SIZE[1]), np.linspace(-1, 1, SIZE[0]), indexing="ij")
        fall = (1 - self.vignetting * (x * x + y * y) / 2) * (1 - self.slope * (x + 1) / 2)
        sharp = light.astype(np.float32) * fall[..., None].astype(np.float32)
        linear = ndimage.gaussian_filter(sharp, (self.blur, self.blur, 0))
        spread = self.noise * np.sqrt(np.clip(linear, 0, 1) + np.float32(0.25))
        grain = random.standard_normal(linear.shape, dtype=np.float32)
        steps = np.clip(linear + grain * spread, 0, 1) * (len(_CODED) - 1)
        coded = _CODED[np.round(steps).astype(np.int32)]
        file = BytesIO()
        Image.fromarray(coded).save(file, "JPEG", quality=self.quality)
        return np.asarray(Image.open(file))
