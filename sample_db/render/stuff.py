"""What a piece is made of, and how its surface looks point by point."""

from dataclasses import dataclass, field

import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage

from sample_db.render import grain
from sample_db.render.noise import Cloud, sampled, step
from sample_db.render.tint import Array, Lab
from sample_db.render.weave import Weave, meshed, woven

_TILE = 40.0
_FINE = 14


@dataclass(frozen=True)
class Stuff:
    """A material: its kind, colour and make."""

    lab: Lab
    kind: str = "cloth"
    """``cloth``, ``leather``, ``mull``, ``kraft``, ``paper``, ``tissue`` or ``board``."""
    pattern: str = ""
    weave: Weave = field(default_factory=Weave)
    thickness: float = 0.4
    """Millimetres."""
    rubbed: float = 0.3
    """How far the raised parts have worn pale, 0 to 1."""
    mottled: float = 0.05
    """How uneven the colour is, as a share of its light."""


@dataclass(frozen=True)
class Surface:
    """A surface at each point: relief in mm, tone (1 is the body colour), cover (1 is opaque)."""

    relief: Array
    tone: Array
    cover: Array


def surface(stuff: Stuff, u: Array, v: Array, rng: np.random.Generator) -> Surface:
    """The surface of a material at (u, v) mm, u across the warp and v along it."""
    makers = {"cloth": _cloth, "mull": _mull, "leather": _leather, "tissue": _tissue}
    return makers.get(stuff.kind, _sheet)(stuff, u, v, rng)


def _cloth(stuff: Stuff, u: Array, v: Array, rng: np.random.Generator) -> Surface:
    threads = woven(u, v, stuff.weave, rng)
    pressed = grain.embossed(stuff.pattern, u, v, rng)
    cloud = Cloud(rng)
    bare = 1 - 0.75 * stuff.weave.filled
    deep = grain.depth(stuff.pattern)
    relief = 0.085 * bare * threads.relief + deep * pressed
    wear = np.clip(0.5 + 0.5 * cloud.rough(u, v, 45.0), 0, 1.5) * stuff.rubbed
    crown = pressed if deep else threads.relief
    tone = 1 + 0.11 * bare * threads.tone + 0.30 * bare * (threads.relief - 0.6)
    tone = tone + 0.20 * (crown - 0.5) * (0.35 + wear)
    tone = tone * (1 + stuff.mottled * cloud.rough(v, u, 60.0, 4))
    tone = tone * (1 - 0.5 * _specks(u, v, cloud)) * (1 + 0.10 * _scuffs(u, v, cloud))
    return Surface(_f(relief), _f(tone), np.ones(u.shape, np.float32))


def _specks(u: Array, v: Array, cloud: Cloud) -> Array:
    """Small dark specks of dirt, here and there."""
    dirty = step(0.2, 1.6, cloud.broad(u + 40, v, 50.0))
    return step(2.3, 3.0, cloud.at(u, v + 31, 1.6)) * (0.25 + dirty)


def _scuffs(u: Array, v: Array, cloud: Cloud) -> Array:
    """Faint pale streaks of handling."""
    turned = u * np.float32(0.5) + v * np.float32(0.87)
    across = u * np.float32(0.87) - v * np.float32(0.5)
    return step(1.0, 2.4, cloud.at(turned, across, 1.3, stretch=14.0))


def _mull(stuff: Stuff, u: Array, v: Array, rng: np.random.Generator) -> Surface:
    cover, threads = meshed(u, v, 1.15, rng)
    tone = 1 + 0.10 * threads.tone + 0.35 * (threads.relief - 0.6)
    tone = tone * (1 + stuff.mottled * Cloud(rng).broad(u, v, 40.0))
    return Surface(_f(0.10 * threads.relief), _f(tone), cover)


def _leather(stuff: Stuff, u: Array, v: Array, rng: np.random.Generator) -> Surface:
    cloud = Cloud(rng)
    small = grain.cells(u + 0.3 * cloud.at(u, v, 6.0), v, 0.85, rng)
    large = grain.cells(u, v * 0.85 + 0.5 * cloud.at(v, u, 9.0), 2.4, rng)
    relief = small * (0.5 + 0.5 * large)
    wear = np.clip(0.5 + 0.5 * cloud.rough(u, v, 35.0), 0, 1.5) * stuff.rubbed
    tone = 1 + 0.35 * (relief - 0.5) * (0.5 + wear)
    tone = tone * (1 + stuff.mottled * cloud.rough(u, v, 30.0, 4))
    return Surface(_f(0.16 * relief), _f(tone), np.ones(u.shape, np.float32))


def _sheet(stuff: Stuff, u: Array, v: Array, rng: np.random.Generator) -> Surface:
    cloud = Cloud(rng)
    length, many, strength = {
        "kraft": (3.2, 2600, 0.10),
        "board": (1.6, 1500, 0.16),
    }.get(stuff.kind, (2.0, 900, 0.03))
    fibres = _fibres(u, v, length=length, many=many, along=2.0, rng=rng)
    cockle = 0.5 * cloud.broad(u, v, 55.0)
    tone = 1 + strength * fibres + stuff.mottled * cloud.rough(u, v, 3.0, 4)
    relief = 0.02 * cloud.at(u, v, 0.9) + 0.02 * fibres + cockle * 0.25
    if stuff.kind == "kraft":
        tone = tone + 0.018 * np.cos(u * np.float32(2 * np.pi / 1.1))
    return Surface(_f(relief), _f(tone), np.ones(u.shape, np.float32))


def _tissue(stuff: Stuff, u: Array, v: Array, rng: np.random.Generator) -> Surface:
    cloud = Cloud(rng)
    fibres = _fibres(u, v, length=13.0, many=1500, along=1.2, rng=rng)
    chain = 0.5 + 0.5 * np.cos(u * np.float32(2 * np.pi / 27.0))
    thin = 0.72 + 0.10 * cloud.rough(u, v, 6.0) + 0.10 * fibres - 0.06 * chain**24
    relief = 0.03 * fibres + 0.5 * cloud.broad(u, v, 40.0) * 0.25
    tone = 1 + 0.05 * fibres + stuff.mottled * cloud.at(u, v, 30.0)
    return Surface(_f(relief), _f(tone), _f(np.clip(thin, 0.4, 0.97)))


def _fibres(
    u: Array, v: Array, *, length: float, many: int, along: float, rng: np.random.Generator
) -> Array:
    """Loose fibres in a sheet, mean 0: ``along`` says how far they lie along the machine."""
    side = int(_TILE * _FINE)
    sheet = Image.new("L", (side, side), 0)
    draw = ImageDraw.Draw(sheet)
    for _ in range(many):
        x, y = rng.uniform(0, side, 2)
        heading = np.pi / 2 + rng.normal(0, 1.0) * (1.3 / along)
        bend = rng.normal(0, 0.25)
        reach = length * _FINE * rng.uniform(0.5, 1.2) / 4
        line = [(x, y)]
        for _ in range(4):
            x, y = x + reach * np.cos(heading), y + reach * np.sin(heading)
            heading += bend
            line.append((x, y))
        for ox in (-side, 0, side):
            for oy in (-side, 0, side):
                draw.line([(a + ox, b + oy) for a, b in line], fill=int(rng.integers(90, 256)))
    tile = ndimage.gaussian_filter(np.asarray(sheet, dtype=np.float32), 1.1, mode="wrap")
    tile = (tile - tile.mean()) / tile.std()
    return sampled(np.clip(tile, -2, 3), v * np.float32(_FINE), u * np.float32(_FINE))


def _f(x: Array) -> Array:
    return np.asarray(x, dtype=np.float32)
