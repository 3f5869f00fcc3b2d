"""Scraps lying on a bench under a lamp, rendered with known outlines.

The truth of a scrap is its sound cloth: what frays beyond it is loose threads. A lifted edge is
nearer to the camera than the bench, throws a longer and softer shadow, and its truth is the scrap
laid flat.
"""

from dataclasses import dataclass, field
from math import cos, pi, radians, sin

import numpy as np
import numpy.typing as npt
import shapely
from PIL import Image, ImageDraw
from scipy import ndimage
from shapely import Polygon, affinity

from bindery_stock.shape import PhotoScale
from tests.rendered.camera import PIXEL, SHEET, SIZE, Array, Camera

Colour = tuple[float, float, float]
"""Linear light sent back: red, green, blue from 0 to 1."""
_FINE = 4
_LAMPS = 12
_THICK = 0.4


@dataclass(frozen=True)
class Stripes:
    """A second colour in bands across the cloth or the ground."""

    colour: Colour
    pitch: float
    share: float = 0.5
    angle: float = 0.0


@dataclass(frozen=True)
class Cloth:
    """A scrap: its sound cloth in mm about the middle of the bench, and what is the matter."""

    body: Polygon
    colour: Colour
    stripes: Stripes | None = None
    grain: float = 0.0
    """Share of the light by which an embossed grain of about a millimetre varies."""
    stamp: float = 0.0
    """Share of the light that is missing in stamped lozenges, 9 mm from one to the next."""
    fray: float = 0.0
    """mm by which threads stand out at the most."""
    threads: int = 0
    """Long loose threads."""
    lift: float = 0.0
    """mm by which the side towards ``towards`` stands up."""
    towards: float = 0.0
    """Degrees."""

    def height(self, points: object) -> Array:
        """mm above the bench at points of the scrap."""
        xy = np.asarray(points, dtype=np.float64).reshape(-1, 2)
        way = np.array((cos(radians(self.towards)), sin(radians(self.towards))))
        reach = float((shapely.get_coordinates(self.body) @ way).max())
        share = np.clip((xy @ way - (reach - 40.0)) / 40.0, 0.0, 1.0)
        return np.asarray(self.lift * share**2)


@dataclass(frozen=True)
class Glare:
    """A lamp mirrored in what is glossy."""

    at: tuple[float, float]
    radius: float
    strength: float = 1.6


@dataclass(frozen=True)
class Scene:
    """What lies on the bench, and how it is lit."""

    scraps: tuple[Cloth, ...]
    ground: Colour
    seed: int = 0
    pattern: Stripes | None = None
    wood: float = 0.0
    """Share of the light by which the grain of the wood varies."""
    lamp: tuple[float, float] = (0.7, -0.5)
    """mm by which a shadow falls aside to each mm of height."""
    softness: float = 0.5
    """The same for the lamp's own size: how far its rim lies from its middle."""
    depth: float = 0.45
    """Share of the light that the lamp gives and a shadow lacks."""
    glare: Glare | None = None
    camera: Camera = field(default_factory=Camera)


@dataclass(frozen=True)
class Shot:
    """A photograph with what is true of it."""

    pixels: npt.NDArray[np.uint8]
    scale: PhotoScale
    truths: tuple[Polygon, ...]
    """The sound cloth of each scrap in the mm of the scale."""


def shoot(scene: Scene) -> Shot:
    """Render the photograph."""
    random = np.random.default_rng(scene.seed)
    camera = scene.camera
    x, y = camera.bench()
    light = _ground(scene, x, y, random) * (1 - scene.depth * _shadow(scene))[..., None]
    for cloth in scene.scraps:
        cover = _cover(cloth, camera, random)[..., None]
        light = light * (1 - cover) + _woven(cloth, x, y, random) * cover
    if scene.glare is not None:
        off = np.hypot(x - scene.glare.at[0], y - scene.glare.at[1]) / scene.glare.radius
        light = light + (scene.glare.strength * np.exp(-(off**4)))[..., None]
    truths = tuple(
        affinity.translate(each.body, SHEET[0] / 2, SHEET[1] / 2) for each in scene.scraps
    )
    return Shot(camera.expose(light, random), camera.scale(), truths)


def _banded(base: Colour, bands: Stripes | None, x: Array, y: Array) -> Array:
    colour = np.broadcast_to(np.asarray(base, dtype=np.float64), (*x.shape, 3))
    if bands is None:
        return colour
    turn = radians(bands.angle)
    along = (x * cos(turn) + y * sin(turn)) / bands.pitch % 1.0
    return np.where((along < bands.share)[..., None], np.asarray(bands.colour), colour)


def _mottle(random: np.random.Generator, size: float) -> Array:
    rough = random.normal(0, 1, (SIZE[1] // 8, SIZE[0] // 8))
    smooth = ndimage.gaussian_filter(rough, size / 8)
    image = Image.fromarray((smooth / smooth.std()).astype(np.float32))
    return np.asarray(image.resize(SIZE, Image.Resampling.BILINEAR))


def _ground(scene: Scene, x: Array, y: Array, random: np.random.Generator) -> Array:
    colour = _banded(scene.ground, scene.pattern, x, y)
    grain = 0.012 * random.standard_normal(x.shape, np.float32) + 0.006 * _mottle(random, 30)
    if scene.wood:
        bend = 9 * np.sin(x / 70 + 1.0) + 3 * _mottle(random, 60)
        rings = np.sin((y + bend) / 2.6) + 0.6 * np.sin((y + 1.3 * bend) / 0.9 + 2.0)
        grain = grain + scene.wood * rings / 1.6
    return np.asarray(colour * (1 + grain)[..., None])


def _woven(cloth: Cloth, x: Array, y: Array, random: np.random.Generator) -> Array:
    colour = _banded(cloth.colour, cloth.stripes, x, y)
    weave = 0.06 * np.sin(x * 2 * pi / 0.62) * np.sin(y * 2 * pi / 0.71)
    wear = 0.03 * _mottle(random, 25) + 0.03 * random.standard_normal(x.shape, np.float32)
    if cloth.grain:
        rough = ndimage.gaussian_filter(random.standard_normal(x.shape), 0.5 / PIXEL)
        wear = wear + cloth.grain * rough / rough.std()
    if cloth.stamp:
        lozenge = np.abs((x + y) % 9.0 - 4.5) + np.abs((x - y) % 9.0 - 4.5) < 2.5
        wear = wear - cloth.stamp * lozenge
    return np.asarray(colour * (1 + weave + wear)[..., None])


def _drawn(rings: list[Array], holes: list[Array], fine: int) -> Image.Image:
    image = Image.new("L", (SIZE[0] * fine, SIZE[1] * fine), 0)
    draw = ImageDraw.Draw(image)
    for ring, fill in (*((r, 255) for r in rings), *((h, 0) for h in holes)):
        draw.polygon([(a, b) for a, b in ring * fine - 0.5], fill=fill)
    return image


def _cover(cloth: Cloth, camera: Camera, random: np.random.Generator) -> Array:
    def seen(points: object) -> Array:
        return camera.seen(points, cloth.height(points))

    body = cloth.body.segmentize(0.5)
    image = _drawn(
        [seen(body.exterior.coords)], [seen(ring.coords) for ring in body.interiors], _FINE
    )
    draw = ImageDraw.Draw(image)
    for line, width in _threads(cloth, random):
        spots = [(a, b) for a, b in seen(line) * _FINE - 0.5]
        draw.line(spots, fill=255, width=max(round(width / PIXEL * _FINE), 1))
    fine = np.asarray(image.resize(SIZE, Image.Resampling.BOX), dtype=np.float64)
    return np.asarray(fine / 255)


def _threads(cloth: Cloth, random: np.random.Generator) -> list[tuple[Array, float]]:
    """Lines in mm with their width: the fringe, and long loose threads."""
    ring = cloth.body.exterior
    lines: list[tuple[Array, float]] = []
    if cloth.fray:
        for at in np.arange(0.0, ring.length, 0.5):
            length = cloth.fray * (0.35 + 0.65 * random.beta(1.6, 1.6))
            lines.append((_thread(ring, at + random.normal(0, 0.08), length, 0.15, random), 0.28))
    for _ in range(cloth.threads):
        at, length = random.uniform(0, ring.length), random.uniform(7, 18)
        lines.append((_thread(ring, at, length, 0.6, random), 0.3))
    return lines


def _thread(
    ring: shapely.LinearRing, at: float, length: float, bend: float, random: np.random.Generator
) -> Array:
    before, here, after = (
        np.array(ring.interpolate((at + step) % ring.length).coords[0]) for step in (-0.6, 0, 0.6)
    )
    x, y = after - before
    out = np.array((y, -x)) / max(float(np.hypot(x, y)), 1e-9)
    if not ring.is_ccw:
        out = -out
    side = np.array((-out[1], out[0]))
    share = np.linspace(-0.3 / length, 1.0, 6)[:, None]
    lean, curl = random.normal(0, bend, 2)
    return np.asarray(here + length * (share * out + (lean * share + curl * share**2) * side))


def _shadow(scene: Scene) -> Array:
    """Share of the lamp hidden from each pixel's place on the bench."""
    total = np.zeros((SIZE[1], SIZE[0]))
    for lamp in range(_LAMPS):
        radius, turn = scene.softness * ((lamp + 0.5) / _LAMPS) ** 0.5, lamp * 2.39996
        aside = np.asarray(scene.lamp) + radius * np.array((cos(turn), sin(turn)))
        hidden = np.zeros((SIZE[1], SIZE[0]))
        for cloth in scene.scraps:
            body = cloth.body.segmentize(1.0)
            rings = []
            for line in (body.exterior, *body.interiors):
                ring = np.asarray(line.coords)
                thrown = ring + (cloth.height(ring) + _THICK)[:, None] * aside
                rings.append(scene.camera.seen(thrown))
            image = _drawn(rings[:1], rings[1:], 1)
            hidden = np.maximum(hidden, np.asarray(image, dtype=np.float64) / 255)
        total += hidden / _LAMPS
    return np.asarray(ndimage.gaussian_filter(total, 0.8))
