"""One face of a piece while it is being drawn: surface, colour, and what has been altered."""

from collections.abc import Iterator
from contextlib import contextmanager
from copy import copy
from dataclasses import dataclass, field

import numpy as np
from scipy import ndimage

from sample_db.render.camera import Grid, Ring, carried
from sample_db.render.noise import Cloud
from sample_db.render.picture import Window, lit
from sample_db.render.stuff import Stuff, surface
from sample_db.render.tint import Array, linear

_LAYERS = ("u", "v", "relief", "colour", "cover", "altered")


@dataclass
class Face:
    """A face over a window of the picture, at fine points."""

    stuff: Stuff
    window: Window
    to_px: Grid
    """The piece's millimetres to pixels."""
    scale: float
    rng: np.random.Generator
    u: Array = field(init=False)
    v: Array = field(init=False)
    relief: Array = field(init=False)
    colour: Array = field(init=False)
    cover: Array = field(init=False)
    altered: Array = field(init=False)
    """How far each point is from the body colour, 0 to 1."""

    def __post_init__(self) -> None:
        """Lay down the bare material."""
        self.u, self.v = self.window.points(np.linalg.inv(self.to_px))
        bare = surface(self.stuff, self.u, self.v, self.rng)
        sway = Cloud(self.rng).rough(self.u, self.v, 70.0, 3)
        self.relief = bare.relief + np.float32(0.30 if self.stuff.kind != "board" else 0.05) * sway
        self.cover = bare.cover
        self.colour = bare.tone[..., None] * np.array(linear(self.stuff.lab), np.float32)
        self.altered = np.zeros(self.u.shape, np.float32)

    @property
    def per_mm(self) -> float:
        """Fine points to a millimetre."""
        return self.scale * self.window.fine

    def mask(self, ring: Ring, blur: float = 0.0, ragged: float = 0.0) -> Array:
        """A ring in mm as a mask, its edge softened by ``blur`` mm and wandering ``ragged`` mm."""
        flat = self.window.mask(carried(self.to_px, ring))
        if ragged:
            depth = ndimage.distance_transform_edt(flat > 0.5)
            depth = depth - ndimage.distance_transform_edt(flat <= 0.5)
            wander = Cloud(self.rng).rough(self.u, self.v, 9.0, 3) * ragged * self.per_mm
            flat = np.clip(depth - ragged * self.per_mm + wander + 0.5, 0, 1).astype(np.float32)
        if blur:
            flat = ndimage.gaussian_filter(flat, blur * self.per_mm)
        return flat

    @contextmanager
    def within(self, ring: Ring, spare: float) -> Iterator["Face"]:
        """The part of the face about a ring in mm, to be worked on by itself and put back."""
        n, whole = self.window.fine, self.window
        px = carried(self.to_px, ring)
        room = spare * self.scale
        left = min(max(0, int(min(p[0] for p in px) - room) - whole.left), whole.width - 2)
        top = min(max(0, int(min(p[1] for p in px) - room) - whole.top), whole.height - 2)
        right = max(left + 2, min(whole.width, int(max(p[0] for p in px) + room) - whole.left))
        foot = max(top + 2, min(whole.height, int(max(p[1] for p in px) + room) - whole.top))
        place = (slice(top * n, foot * n), slice(left * n, right * n))
        part = copy(self)
        part.window = Window(whole.left + left, whole.top + top, right - left, foot - top, n)
        for name in _LAYERS:
            setattr(part, name, getattr(self, name)[place])
        yield part
        for name in _LAYERS:
            getattr(self, name)[place] = getattr(part, name)

    def tint(self, rgb: Array, share: Array) -> None:
        """Carry the colour towards ``rgb`` by ``share``."""
        self.colour = self.colour * (1 - share[..., None]) + rgb * share[..., None]

    def alter(self, share: Array) -> None:
        """Note that the colour no longer is the body colour here."""
        self.altered = np.maximum(self.altered, share)

    def shade(self) -> None:
        """Let the light fall on the relief; hollows are a little darker than crowns."""
        near = ndimage.gaussian_filter(self.relief, 0.55 * self.per_mm)
        hollow = 1 + np.clip((self.relief - near) * 2.6, -0.4, 0.3)
        shading = lit(self.relief, self.per_mm) * hollow
        self.colour = np.asarray(self.colour * shading[..., None], dtype=np.float32)
