"""What a piece lies on: a neutral cutting mat with a 10 mm grid, or plain card."""

import numpy as np

from sample_db.render.camera import Camera, Ring
from sample_db.render.noise import Cloud, step
from sample_db.render.picture import Window
from sample_db.render.tint import Array, linear

MAT = "mat"
GREY_CARD = "grey card"
WHITE_CARD = "white card"
_LEVELS = {MAT: 31.0, GREY_CARD: 66.0, WHITE_CARD: 91.0}


def ground(kind: str, camera: Camera, rng: np.random.Generator) -> Array:
    """The bare ground in linear light, height × width × 3."""
    window = Window(0, 0, camera.width, camera.height, 1)
    x, y = window.points(camera.to_mat)
    cloud = Cloud(rng)
    tone = 1 + 0.018 * cloud.rough(x, y, 70.0) + 0.012 * cloud.at(y, x, 0.8)
    if kind == MAT:
        per_mm = camera.scale
        fine = _grid(x, y, 10.0, 0.22, per_mm) * 0.55
        heavy = _grid(x, y, 50.0, 0.34, per_mm) * 0.95
        tone = tone + np.maximum(fine, heavy) - 0.30 * _cuts(camera, rng)
    body = np.array(linear((_LEVELS[kind], 0.0, 0.0)), np.float32)
    return np.asarray(tone[..., None] * body, dtype=np.float32)


def _grid(x: Array, y: Array, pitch: float, width: float, per_mm: float) -> Array:
    soft = 0.6 / per_mm
    across = np.abs((x / pitch + 0.5) % 1.0 - 0.5) * pitch
    along = np.abs((y / pitch + 0.5) % 1.0 - 0.5) * pitch
    near = np.minimum(across, along)
    share = min(1.0, width * per_mm)
    return share * (1 - step(width / 2 - soft / 2, width / 2 + soft, near))


def _cuts(camera: Camera, rng: np.random.Generator) -> Array:
    """Old knife cuts in the mat: long faint scores, mostly straight."""
    window = Window(0, 0, camera.width, camera.height, 1)
    lines: list[Ring] = []
    for _ in range(26):
        x, y = rng.uniform(0, camera.width), rng.uniform(0, camera.height)
        heading = rng.choice([0.0, np.pi / 2, rng.uniform(0, np.pi)]) + rng.normal(0, 0.03)
        reach = rng.uniform(60, 420)
        dx, dy = reach * np.cos(heading), reach * np.sin(heading)
        lines.append(((x, y), (x + float(dx), y + float(dy))))
    return window.lines(lines, 0.6) * 0.6
