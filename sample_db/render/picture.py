"""The picture as it is built up: layers of things laid on the mat, in linear light."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage

from sample_db.render.camera import Camera, Grid, Ring, carried_grid
from sample_db.render.tint import Array

_LIGHT = (-0.64, -0.77)
"""Where the light comes from in the picture, a unit vector in pixels (y down)."""


@dataclass(frozen=True)
class Window:
    """A rectangle of the picture, looked at ``fine`` times finer than its pixels."""

    left: int
    top: int
    width: int
    height: int
    fine: int = 2

    @classmethod
    def around(cls, ring: Ring, camera: Camera, *, spare: float = 0.0, fine: int = 2) -> "Window":
        """The window that holds a ring of pixels with ``spare`` pixels to each side."""
        xs, ys = [p[0] for p in ring], [p[1] for p in ring]
        left = max(0, math.floor(min(xs) - spare))
        top = max(0, math.floor(min(ys) - spare))
        right = min(camera.width, math.ceil(max(xs) + spare))
        foot = min(camera.height, math.ceil(max(ys) + spare))
        return cls(left, top, max(1, right - left), max(1, foot - top), fine)

    def points(self, matrix: Grid) -> tuple[Array, Array]:
        """Every fine point carried through ``matrix`` from pixels."""
        n = self.fine
        x = self.left + (np.arange(self.width * n) + 0.5) / n
        y = self.top + (np.arange(self.height * n) + 0.5) / n
        return carried_grid(matrix, x[None, :], y[:, None])

    def mask(self, ring: Ring, holes: tuple[Ring, ...] = ()) -> Array:
        """How much of each fine point lies within a ring of pixels, 0 to 1."""
        k = self.fine * 2
        size = (self.width * k, self.height * k)
        sheet = Image.new("L", size, 0)
        draw = ImageDraw.Draw(sheet)
        draw.polygon(self._scaled(ring, k), fill=255)
        for hole in holes:
            draw.polygon(self._scaled(hole, k), fill=0)
        return np.asarray(sheet.reduce(2), dtype=np.float32) / 255

    def lines(self, lines: Sequence[Ring], width: float) -> Array:
        """Lines of ``width`` pixels as a mask of fine points."""
        k = self.fine * 2
        sheet = Image.new("L", (self.width * k, self.height * k), 0)
        draw = ImageDraw.Draw(sheet)
        for line in lines:
            draw.line(self._scaled(line, k), fill=255, width=max(1, round(width * k)))
        return np.asarray(sheet.reduce(2), dtype=np.float32) / 255

    def coarse(self, fine: Array) -> Array:
        """Fine points averaged to pixels."""
        n = self.fine
        shape = (self.height, n, self.width, n, *fine.shape[2:])
        return np.asarray(fine.reshape(shape).mean(axis=(1, 3)), dtype=np.float32)

    def _scaled(self, ring: Ring, k: int) -> list[tuple[float, float]]:
        return [((x - self.left) * k - 0.5, (y - self.top) * k - 0.5) for x, y in ring]


class Picture:
    """Linear light, height × width × 3, on which things are laid one after another."""

    def __init__(self, ground: Array, camera: Camera) -> None:
        """Begin with the ground."""
        self.light = ground
        self.camera = camera

    def lay(self, window: Window, colour: Array, cover: Array, *, thickness: float) -> None:
        """Lay a thing (fine points) on the picture, with the soft shadow that it throws."""
        soft = window.coarse(cover)
        body = window.coarse(colour * cover[..., None])
        self._shade(window, soft, thickness)
        rows = slice(window.top, window.top + window.height)
        columns = slice(window.left, window.left + window.width)
        part = self.light[rows, columns]
        self.light[rows, columns] = part * (1 - soft[..., None]) + body

    def _shade(self, window: Window, soft: Array, thickness: float) -> None:
        scale = self.camera.scale
        full = np.zeros(self.light.shape[:2], np.float32)
        rows = slice(window.top, window.top + window.height)
        columns = slice(window.left, window.left + window.width)
        full[rows, columns] = soft
        reach = (0.9 + 1.3 * thickness) * scale
        for spread, strength in ((0.5, 0.42), (2.4, 0.34)):
            shift = (-_LIGHT[1] * reach * 0.5 * spread, -_LIGHT[0] * reach * 0.5 * spread)
            moved = ndimage.shift(full, shift, order=1, mode="nearest")
            shadow = ndimage.gaussian_filter(moved, reach * 0.45 * spread)
            self.light *= (1 - strength * shadow)[..., None]


def lit(relief: Array, per_mm: float) -> Array:
    """How the light falls on a relief in mm seen at ``per_mm`` fine points a millimetre."""
    down, right = np.gradient(relief * np.float32(per_mm))
    slope = -(right * _LIGHT[0] + down * _LIGHT[1])
    facing = (1 + 0.95 * slope) / np.sqrt(1 + right * right + down * down)
    return np.asarray(0.35 + 0.65 * np.clip(facing, 0.05, 2.2), dtype=np.float32)
