"""A piece as it lies on the mat: its cut and frayed edge, its surface and its marks."""

import math
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from sample_db.render.camera import Grid, Point, Ring, carried, chained
from sample_db.render.face import Face
from sample_db.render.marks import Mark
from sample_db.render.noise import Cloud, step
from sample_db.render.picture import Picture, Window
from sample_db.render.stuff import Stuff
from sample_db.render.tint import Array, linear

_KEEP_OFF = 2.5
"""A colour patch keeps this far from edges and marks, mm."""
_PATCH_HALF = 9.0


@dataclass(frozen=True)
class Scrap:
    """A piece in its own millimetres, y up the warp."""

    outline: Ring
    stuff: Stuff
    holes: tuple[Ring, ...] = ()
    marks: tuple[Mark, ...] = ()
    frayed: float = 0.5
    """How far the edges have frayed, 0 (cut clean) to 1."""


def lay_scrap(picture: Picture, scrap: Scrap, place: Grid, rng: np.random.Generator) -> Ring:
    """Lay a piece on the picture; gives the ring of pixels in which its colour is true."""
    camera = picture.camera
    to_px = chained(camera.to_px, place)
    outline = carried(to_px, scrap.outline)
    window = Window.around(outline, camera, spare=12 * camera.scale)
    face = Face(scrap.stuff, window, to_px, camera.scale, rng)
    shape = _shape(face, scrap)
    for mark in scrap.marks:
        mark.touch(face)
    _pale_edge(face, shape, scrap.frayed)
    face.shade()
    patch = _patch(face, shape)
    _correct(face, patch)
    threads = _loose_threads(face, scrap)
    raw = np.array(linear(_raw(scrap.stuff)), np.float32)
    face.tint(raw, threads * (shape < 0.5))
    cover = np.maximum(shape * face.cover, threads * 0.9)
    picture.lay(window, face.colour, cover, thickness=scrap.stuff.thickness)
    return patch


def _raw(stuff: Stuff) -> tuple[float, float, float]:
    lightness, a, b = stuff.lab
    return lightness + 0.30 * (80 - lightness), a * 0.75, b * 0.75 + 2


def _shape(face: Face, scrap: Scrap) -> Array:
    """The cut shape with its edge roughened."""
    rough = 0.16 * scrap.frayed
    outer = carried(face.to_px, _roughened(scrap.outline, rough, face.rng))
    holes = tuple(carried(face.to_px, _roughened(h, rough * 1.5, face.rng)) for h in scrap.holes)
    return face.window.mask(outer, holes)


def _roughened(ring: Ring, rough: float, rng: np.random.Generator) -> Ring:
    if rough <= 0:
        return ring
    out: list[Point] = []
    for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
        length = math.hypot(x1 - x0, y1 - y0)
        n = max(1, int(length / 0.7))
        nx, ny = -(y1 - y0) / max(length, 1e-9), (x1 - x0) / max(length, 1e-9)
        pull = ndimage.uniform_filter1d(rng.standard_normal(n), 2) * rough
        pull += (rng.random(n) < 0.02) * rng.normal(0, 3 * rough, n)
        pull[0] = 0.0
        for k in range(n):
            t = k / n
            out.append(
                (x0 + t * (x1 - x0) + nx * float(pull[k]), y0 + t * (y1 - y0) + ny * float(pull[k]))
            )
    return tuple(out)


def _pale_edge(face: Face, shape: Array, frayed: float) -> None:
    """The cut edge shows the undyed heart of the threads."""
    if not frayed:
        return
    inward = ndimage.distance_transform_edt(shape > 0.5) / face.per_mm
    inward = inward + 0.35 * Cloud(face.rng).rough(face.u, face.v, 4.0)
    share = (1 - step(0.05, 0.9, np.asarray(inward, np.float32))) * 0.55 * min(1.0, frayed + 0.2)
    face.tint(np.array(linear(_raw(face.stuff)), np.float32), share)


def _loose_threads(face: Face, scrap: Scrap) -> Array:
    """Threads that have come away from the cut edges."""
    lines = []
    for ring in (scrap.outline, *scrap.holes):
        for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
            length = math.hypot(x1 - x0, y1 - y0)
            for _ in range(face.rng.poisson(length / 14.0 * scrap.frayed)):
                t = face.rng.uniform(0, 1)
                heading = math.atan2(y1 - y0, x1 - x0) - math.pi / 2 + face.rng.normal(0, 0.8)
                lines.append(_thread(x0 + t * (x1 - x0), y0 + t * (y1 - y0), heading, face.rng))
    wide = max(1.0, 0.24 * face.scale)
    return face.window.lines([carried(face.to_px, line) for line in lines], wide)


def _thread(x: float, y: float, heading: float, rng: np.random.Generator) -> Ring:
    reach = float(rng.gamma(2.0, 1.1)) / 8
    curl = float(rng.normal(0, 0.22))
    line = [(x, y)]
    for _ in range(8):
        x, y = x + reach * math.cos(heading), y + reach * math.sin(heading)
        heading += curl
        line.append((x, y))
    return tuple(line)


def _patch(face: Face, shape: Array) -> Ring:
    """A square of body colour as far as may be from edges and marks, as pixels."""
    clear = (shape > 0.99) & (face.altered < 0.08)
    sound = face.window.coarse(clear.astype(np.float32)) > 0.99
    sound[0, :] = sound[-1, :] = False
    sound[:, 0] = sound[:, -1] = False
    room = ndimage.distance_transform_edt(sound) / face.scale
    best = np.minimum(room, _PATCH_HALF * 1.5 + _KEEP_OFF)
    rows, columns = np.indices(room.shape)
    away = np.hypot(rows - room.shape[0] / 2, columns - room.shape[1] / 2) / face.scale
    row, column = np.unravel_index(int(np.argmax(best - 0.02 * away)), room.shape)
    half = min(_PATCH_HALF, (float(room[row, column]) - _KEEP_OFF) / 1.45) * face.scale
    half = max(half, 1.0)
    x, y = face.window.left + float(column) + 0.5, face.window.top + float(row) + 0.5
    ring = ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
    return tuple((round(px, 1), round(py, 1)) for px, py in ring)


def _correct(face: Face, patch: Ring) -> None:
    """Scale the colour so that under even light the patch has the colour of the material."""
    inside = face.window.mask(patch) > 0.99
    mean = face.colour[inside].mean(axis=0)
    wanted = np.array(linear(face.stuff.lab), np.float32)
    face.colour = face.colour * (wanted / mean)
