"""Plain-woven cloth as a relief: warp and weft over and under, slub, filler in the weave."""

from dataclasses import dataclass

import numpy as np

from sample_db.render.noise import Cloud
from sample_db.render.tint import Array

_THREADS = 4096


@dataclass(frozen=True)
class Weave:
    """Threads in mm: pitch across (warp) and along (weft), slub 0 to 1, filler 0 to 1."""

    warp: float = 0.48
    weft: float = 0.52
    slub: float = 0.4
    filled: float = 0.6


@dataclass(frozen=True)
class Threads:
    """What the weave looks like at each point."""

    relief: Array
    """0 (deep between threads) to 1 (crown of a thread)."""
    tone: Array
    """How much lighter each thread is than the next, about ±1."""


def woven(u: Array, v: Array, weave: Weave, rng: np.random.Generator) -> Threads:
    """Plain weave at (u, v) mm, u across the warp and v along it."""
    cloud = Cloud(rng)
    warp_tone = rng.standard_normal(_THREADS).astype(np.float32)
    weft_tone = rng.standard_normal(_THREADS).astype(np.float32)
    wander = np.float32(0.3)
    across = u / weave.warp + wander * cloud.broad(u, v, 18.0, stretch=4.0)
    along = v / weave.weft + wander * cloud.broad(v, u, 18.0, stretch=4.0)
    i, j = np.floor(across), np.floor(along)
    fu, fv = across - i - 0.5, along - j - 0.5
    ii, jj = i.astype(np.int32) % _THREADS, j.astype(np.int32) % _THREADS
    thick_warp = 1 + 0.25 * weave.slub * cloud.at(v, i * 3.7, 9.0)
    thick_weft = 1 + 0.40 * weave.slub * cloud.at(u, j * 3.7, 9.0)
    pi = np.float32(np.pi)
    up = np.cos(pi * fu) * (0.5 + 0.5 * np.cos(pi * (along - 0.5 - i))) * thick_warp
    over = np.cos(pi * fv) * (0.5 + 0.5 * np.cos(pi * (across + 0.5 - j))) * thick_weft
    on_top = up > over
    relief = np.clip(np.where(on_top, up, over), 0, 1.3)
    slubbed = np.where(on_top, thick_warp, thick_weft) - 1
    tone = np.where(on_top, warp_tone[ii], weft_tone[jj]) * 0.6 + slubbed * 3
    return Threads(relief.astype(np.float32), tone.astype(np.float32))


def meshed(u: Array, v: Array, pitch: float, rng: np.random.Generator) -> tuple[Array, Threads]:
    """Open mesh (mull): how much of each point is thread (0 to 1), and the threads."""
    cloud = Cloud(rng)
    across = u / pitch + 0.16 * cloud.at(u, v, 5.0, stretch=3.0)
    along = v / pitch + 0.16 * cloud.at(v, u, 5.0, stretch=3.0)
    i, j = np.floor(across), np.floor(along)
    du, dv = np.abs(across - i - 0.5), np.abs(along - j - 0.5)
    half_u = 0.15 + 0.035 * cloud.at(v, i * 5.1, 4.0)
    half_v = 0.16 + 0.045 * cloud.at(u, j * 5.1, 4.0)
    soft = np.float32(0.07)
    warp = np.clip((half_u - du) / soft + 0.5, 0, 1)
    weft = np.clip((half_v - dv) / soft + 0.5, 0, 1)
    relief = np.maximum(warp * (1 - du * 2), weft * (1 - dv * 2))
    even = ((i + j) % 2) * 2 - 1
    tone = np.where(warp > weft, even, -even) * 0.5 + cloud.at(u, v, 0.5) * 0.4
    cover = np.maximum(warp, weft)
    threads = Threads(relief.astype(np.float32), tone.astype(np.float32))
    return cover.astype(np.float32), threads
