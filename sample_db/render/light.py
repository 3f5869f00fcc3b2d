"""What stands between the scene and the file: uneven light, lens, sensor, white balance."""

from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from sample_db.render.camera import Camera
from sample_db.render.noise import Cloud
from sample_db.render.tint import Array, Linear


@dataclass(frozen=True)
class Light:
    """The light of one sitting."""

    vignette: float = 0.16
    """Share of light lost in the corners of the picture."""
    slant: float = 0.08
    """Share by which the light differs from one side of the picture to the other."""
    cast: Linear = (1.0, 1.0, 1.0)
    """White balance left in the file, per channel of linear light."""
    grain: float = 0.0035
    """Sensor noise: standard deviation at full light."""

    def field(self, camera: Camera, rng: np.random.Generator) -> Array:
        """How strong the light is at each pixel; 1 at the middle."""
        x = (np.arange(camera.width, dtype=np.float32) + 0.5) / camera.width * 2 - 1
        y = (np.arange(camera.height, dtype=np.float32) + 0.5) / camera.height * 2 - 1
        xx, yy = np.meshgrid(x, y)
        far = (xx * xx + yy * yy) / 2
        heading = np.pi * (1.25 + rng.uniform(-0.15, 0.15))
        slope = 0.5 * self.slant * (xx * np.cos(heading) + yy * np.sin(heading))
        cloud = 0.012 * Cloud(rng).at(xx, yy, 1.6)
        return np.asarray((1 - self.vignette * far**1.15) * (1 + slope + cloud), dtype=np.float32)

    def caught(self, scene: Array, camera: Camera, rng: np.random.Generator) -> Array:
        """The scene as the sensor holds it, still in linear light."""
        lit = scene * self.field(camera, rng)[..., None] * np.array(self.cast, np.float32)
        soft = ndimage.gaussian_filter(lit, (0.55, 0.55, 0))
        noise = rng.standard_normal(soft.shape, dtype=np.float32)
        return np.asarray(soft + noise * self.grain * np.sqrt(np.clip(soft, 0.002, 1)))
