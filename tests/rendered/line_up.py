"""A book and the scraps laid round it in one photograph, rendered with known places and colours.

Labels carry their codes as ISO/IEC 18004 symbols made by segno. Light falls off a little towards
the edges, the camera is held slightly aslant, and cloth has a weave, wear and the sensor's noise.
"""

from dataclasses import dataclass, replace
from math import cos, pi, radians, sin
from pathlib import Path

import numpy as np
import segno
import shapely
from PIL import Image, ImageDraw
from scipy import ndimage
from shapely import Polygon, affinity

from bindery_stock.colour.space import XYZ_TO_SRGB, apply_matrix, lab_to_xyz, srgb_encode
from bindery_stock.shape import Outline, PhotoScale, Ring

SIZE = (1200, 900)
MM = 10 / 3
"""Pixels to a mm in the middle: 360 × 270 mm are seen."""
FOCAL = 4000.0
_FINE = 2

Lab = tuple[float, float, float]
Window = tuple[slice, slice]
PAPER: Lab = (86.0, 0.5, 3.0)
SLATE: Lab = (22.0, 0.0, -1.0)
WHITE: Lab = (93.0, 0.0, 1.0)
INK: Lab = (12.0, 0.0, 0.0)


@dataclass(frozen=True)
class Lying:
    """A cloth as it lies: its own outline in mm, its colour, its turn, and its middle on the bench.

    The bench has its origin in the middle of the photograph, y up.
    """

    body: Polygon
    lab: Lab
    at: tuple[float, float]
    turn: float = 0.0
    face_down: bool = False
    label: str = ""
    label_at: tuple[float, float] | None = None
    """Its middle on the bench; on the cloth's own middle where not said."""
    label_size: tuple[float, float] = (34.0, 21.0)
    stain: tuple[Polygon, Lab] | None = None
    """A place of another colour, in the mm of the bench."""

    @property
    def on_bench(self) -> Polygon:
        """Its outline as it lies."""
        centre = self.body.centroid
        moved = affinity.translate(self.body, -centre.x, -centre.y)
        if self.face_down:
            moved = affinity.scale(moved, -1.0, 1.0, origin=(0, 0))
        return affinity.translate(affinity.rotate(moved, self.turn, origin=(0, 0)), *self.at)

    @property
    def outline(self) -> Outline:
        """As it is kept on the shelf."""
        left, low, _, _ = self.body.bounds
        return Outline.from_polygon(affinity.translate(self.body, -left, -low))


@dataclass(frozen=True)
class Bench:
    """All that lies in the photograph, and how it is taken."""

    lying: tuple[Lying, ...]
    ground: Lab = PAPER
    tilt: float = 4.0
    swing: float = -3.0
    slope: float = 0.03
    """Share by which the light falls from left to right."""
    vignetting: float = 0.04
    noise: float = 0.006
    cast: tuple[float, float, float] = (1.0, 1.0, 1.0)
    seed: int = 0
    quality: int = 93

    def seen(self, points: object) -> np.ndarray:
        """Pixels of points of the bench."""
        flat = np.asarray(points, dtype=np.float64).reshape(-1, 2)
        t, s = radians(self.tilt), radians(self.swing)
        about_x = np.array([(1, 0, 0), (0, cos(t), -sin(t)), (0, sin(t), cos(t))])
        about_y = np.array([(cos(s), 0, sin(s)), (0, 1, 0), (-sin(s), 0, cos(s))])
        x, y, z = about_x @ about_y @ np.column_stack((flat, np.zeros(len(flat)))).T
        far = FOCAL / MM - z
        return np.column_stack((SIZE[0] / 2 + FOCAL * x / far, SIZE[1] / 2 - FOCAL * y / far))

    @property
    def sheet(self) -> tuple[Ring, float, float]:
        """Four corners of a known rectangle in pixels, its width and its height in mm."""
        w, h = 150.0, 110.0
        corners = self.seen([(-w, h), (w, h), (w, -h), (-w, -h)])
        return tuple((float(x), float(y)) for x, y in corners), 2 * w, 2 * h

    @property
    def scale(self) -> PhotoScale:
        """The scale from that rectangle."""
        return PhotoScale.from_rectangle(*self.sheet)

    def pixels_of(self, number: int) -> Ring:
        """The true outline of one cloth in pixels."""
        ring = self.seen(self.lying[number].on_bench.exterior.coords[:-1])
        return tuple((float(x), float(y)) for x, y in ring)

    def photograph(self, path: Path) -> Path:
        """Render it into a JPEG."""
        random = np.random.default_rng(self.seed)
        y, x = np.meshgrid(
            np.linspace(-1, 1, SIZE[1], dtype=np.float32),
            np.linspace(-1, 1, SIZE[0], dtype=np.float32),
            indexing="ij",
        )
        weave = np.sin(np.arange(SIZE[0]) * 2 * pi / 3.3) * np.sin(
            np.arange(SIZE[1])[:, None] * 2 * pi / 3.7
        )
        light = np.tile(_linear(self.ground), (SIZE[1], SIZE[0], 1))
        for cloth in self.lying:
            window, share = self._cover([cloth.on_bench])
            wear = (0.02 * _mottle(random) + 0.05 * weave)[window].astype(np.float32)
            light[window] = _over(light[window], _linear(cloth.lab) * (1 + wear)[..., None], share)
            if cloth.stain is not None:
                place, lab = cloth.stain
                window, share = self._cover([cloth.on_bench.intersection(place)])
                light[window] = _over(light[window], _linear(lab), share)
        for cloth in self.lying:
            if cloth.label:
                self._lay_label(light, cloth)
        fall = (1 - self.vignetting * (x * x + y * y) / 2) * (1 - self.slope * (x + 1) / 2)
        seen = ndimage.gaussian_filter(light * fall[..., None], (0.7, 0.7, 0))
        seen = seen * np.asarray(self.cast, np.float32)
        grain = random.standard_normal(seen.shape, dtype=np.float32)
        seen = seen + self.noise * np.sqrt(np.clip(seen, 0, 1) * 0.25 + 0.003) * grain
        codes = np.round(srgb_encode(np.clip(seen, 0, 1)) * 255).astype(np.uint8)
        Image.fromarray(codes).save(path, "JPEG", quality=self.quality, subsampling=0)
        return path

    def _lay_label(self, light: np.ndarray, cloth: Lying) -> None:
        x, y = cloth.label_at or cloth.at
        w, h = cloth.label_size
        paper = shapely.box(x - w / 2, y - h / 2, x + w / 2, y + h / 2)
        window, share = self._cover([paper])
        light[window] = _over(light[window], _linear(WHITE), share)
        matrix = segno.make(cloth.label, micro=False, error="m").matrix
        count = len(matrix) + 8
        module = (h - 1.0) / count
        left, top = x + w / 2 - h + 0.5, y + h / 2 - 0.5
        squares = [
            shapely.box(
                left + (column + 4) * module,
                top - (row + 5) * module,
                left + (column + 5) * module,
                top - (row + 4) * module,
            )
            for row, line in enumerate(matrix)
            for column, dark in enumerate(line)
            if dark
        ]
        window, share = self._cover(squares)
        light[window] = _over(light[window], _linear(INK), share)

    def _cover(self, shapes: list[Polygon]) -> tuple[Window, np.ndarray]:
        """Where shapes of the bench lie in the photograph, and the share of each pixel there."""
        rings = [self.seen(shape.exterior.coords) for shape in shapes]
        every = np.concatenate(rings)
        left, top = np.maximum(np.floor(every.min(axis=0)).astype(int) - 1, 0)
        right, low = np.minimum(np.ceil(every.max(axis=0)).astype(int) + 1, SIZE)
        image = Image.new("L", ((right - left) * _FINE, (low - top) * _FINE), 0)
        draw = ImageDraw.Draw(image)
        for ring in rings:
            draw.polygon([(a, b) for a, b in (ring - (left, top)) * _FINE - 0.5], fill=255)
        share = np.asarray(image.reduce(_FINE), dtype=np.float32) / 255
        return (slice(top, low), slice(left, right)), share


BOOK: Lab = (45.0, 36.0, 22.0)


def seven(**changes: object) -> Bench:
    """A book and six scraps round it: see ``CODES`` for which they are.

    The first bears its label, beside the second it lies, the third has none; the fourth and fifth
    are of one cloth and touch along an edge; the last is on no shelf.
    """
    book = Lying(shapely.box(-52, -78, 52, 78), BOOK, (0, 0))
    scraps = (
        Lying(ragged(1, 82, 66), (47.2, 36.4, 22.6), (-118, 86), 40.0, label="C-0011"),
        Lying(
            ragged(2, 80, 52),
            (50.0, 33.0, 20.0),
            (-118, 12),
            200.0,
            label="C-0012",
            label_at=(-118, -26),
        ),
        Lying(ragged(3, 80, 52), (41.0, 38.0, 25.0), (-118, -88), 0.0),
        Lying(shapely.box(0, 0, 72, 58), (43.5, 30.0, 16.0), (118, 85), label="C-0014"),
        Lying(
            Polygon([(0, 0), (72, 0), (72, 60), (44, 60), (40, 66), (0, 66)]),
            (43.5, 30.0, 16.0),
            (118, 22.4),
            label="C-0015",
        ),
        Lying(ragged(6, 85, 60), (38.0, 36.0, 18.0), (118, -86), 10.0),
    )
    return replace(Bench((book, *scraps)), **changes)  # type: ignore[arg-type]


CODES = ("", "C-0011", "C-0012", "C-0013", "C-0014", "C-0015", "")
"""The codes of what lies in ``seven``, the book first; the last scrap is on no shelf."""


def ragged(seed: int, width: float, height: float) -> Polygon:
    """A scrap torn and cut to a shape of its own."""
    random = np.random.default_rng(seed)
    angles = np.linspace(0, 2 * pi, 160, endpoint=False)
    radius = np.ones(160)
    for wave in range(2, 7):
        radius += random.normal(0, 0.22 / wave) * np.cos(wave * angles + random.uniform(0, 7))
    radius = np.clip(radius, 0.6, 1.25)
    return Polygon(
        np.column_stack((width / 2 * radius * np.cos(angles), height / 2 * radius * np.sin(angles)))
    )


def _over(below: np.ndarray, above: np.ndarray, cover: np.ndarray) -> np.ndarray:
    share = cover[..., None]
    return np.asarray(below * (1 - share) + above * share, dtype=np.float32)


def _linear(lab: Lab) -> np.ndarray:
    return np.clip(apply_matrix(XYZ_TO_SRGB, lab_to_xyz(np.array([lab])))[0], 0, 1).astype(
        np.float32
    )


def _mottle(random: np.random.Generator) -> np.ndarray:
    rough = random.normal(0, 1, (SIZE[1] // 30, SIZE[0] // 30))
    smooth = ndimage.gaussian_filter(rough, 2.0)
    image = Image.fromarray((smooth / smooth.std()).astype(np.float32))
    return np.asarray(image.resize(SIZE, Image.Resampling.BILINEAR))
