"""What is seen on a worn volume: the round of the back, joints, splits, rubbed edges."""

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from sample_db.render.camera import Ring
from sample_db.render.face import Face
from sample_db.render.noise import Cloud, step
from sample_db.render.tint import linear


@dataclass(frozen=True)
class Round:
    """The curve of a spine between two edges, mm across."""

    left: float
    right: float
    rise: float = 5.0
    flaw: ClassVar[str] = ""

    def touch(self, face: Face) -> None:
        """A low arch, darker where it turns from the light."""
        half = (self.right - self.left) / 2
        t = np.clip((face.u - self.left - half) / half, -1.05, 1.05)
        face.relief = np.asarray(face.relief + 0.55 * self.rise * (1 - t * t), dtype=np.float32)

    def rings(self) -> tuple[Ring, ...]:
        """Not a flaw."""
        return ()


@dataclass(frozen=True)
class Joint:
    """The groove of a joint running up the cloth at ``x`` mm."""

    x: float
    wide: float = 5.0
    flaw: ClassVar[str] = ""

    def touch(self, face: Face) -> None:
        """A soft hollow, its shoulder rubbed."""
        t = (face.u - self.x) / (self.wide / 2)
        face.relief = np.asarray(face.relief - 0.9 * np.exp(-t * t), dtype=np.float32)
        face.colour = face.colour * (1 - 0.18 * np.exp(-t * t))[..., None]
        face.alter(np.asarray(np.exp(-t * t), dtype=np.float32))

    def rings(self) -> tuple[Ring, ...]:
        """Not a flaw of the cloth as stock."""
        return ()


@dataclass(frozen=True)
class Split:
    """A joint split open from one height to another: a dark gap with pale torn lips."""

    x: float
    foot: float
    head: float
    gape: float = 1.6
    flaw: ClassVar[str] = "hole"

    def touch(self, face: Face) -> None:
        """Dark within, undyed threads along the lips."""
        cloud = Cloud(face.rng)
        along = step(self.foot - 1, self.foot + 9, face.v)
        along = along * (1 - step(self.head - 9, self.head + 1, face.v))
        wander = 0.7 * cloud.rough(face.v, face.v * 0, 22.0, 4)
        away = np.abs(face.u - self.x - wander)
        half = self.gape / 2 * along * (1 + 0.35 * cloud.at(face.v, face.u * 0, 11.0))
        lips = np.exp(-(((away - half) / 0.7) ** 2)) * along
        lips = lips * (0.6 + 0.4 * cloud.at(face.u, face.v, 0.9))
        face.tint(np.array(linear((72.0, 3.0, 13.0)), np.float32), np.clip(0.8 * lips, 0, 1))
        gap = step(0.25, -0.15, away - half) * (along > 0.02)
        gap = np.where(gap > 0, gap, 0.0)
        face.tint(np.array(linear((12.0, 2.0, 4.0)), np.float32), np.asarray(gap))
        face.alter(np.asarray(np.clip(lips + gap, 0, 1), dtype=np.float32))

    def rings(self) -> tuple[Ring, ...]:
        """The gap as a narrow box."""
        half = self.gape
        left, right = self.x - half, self.x + half
        box = ((left, self.foot), (right, self.foot), (right, self.head), (left, self.head))
        return (box,)


@dataclass(frozen=True)
class Rubbed:
    """Edges and corners of a board rubbed through to the threads, within a box of mm."""

    box: tuple[float, float, float, float]
    reach: float = 3.0
    corners: float = 9.0
    flaw: ClassVar[str] = ""

    def touch(self, face: Face) -> None:
        """Pale along the edges, paler at the corners."""
        left, foot, right, head = self.box
        dx = np.minimum(face.u - left, right - face.u)
        dy = np.minimum(face.v - foot, head - face.v)
        cloud = Cloud(face.rng)
        patchy = np.clip(cloud.rough(face.u, face.v, 26.0, 5), -1.4, 2.5)
        edge = np.clip(1 - np.minimum(dx, dy) / (self.reach * (0.6 + 0.35 * patchy)), 0, 1) ** 1.5
        corner = np.clip(1.15 - np.hypot(dx, dy) / (self.corners * (1 + 0.3 * patchy)), 0, 1)
        threads = np.clip(0.75 + 0.45 * cloud.at(face.v, face.u, 0.7), 0, 1)
        share = np.asarray(np.clip((0.75 * edge + corner) * threads, 0, 0.85))
        face.tint(np.array(linear((64.0, 5.0, 15.0)), np.float32), share)
        face.relief = np.asarray(
            face.relief - 0.5 * np.exp(-np.minimum(dx, dy) / 0.8), dtype=np.float32
        )
        face.alter(share)

    def rings(self) -> tuple[Ring, ...]:
        """Not a flaw of stock."""
        return ()


def torn_edge(x0: float, x1: float, y: float, depth: float, seed: int) -> Ring:
    """A torn edge from x0 to x1 about y, up to ``depth`` mm deep (signed)."""
    rng = np.random.default_rng(seed)
    n = max(6, int(abs(x1 - x0) / 1.2))
    wander = np.cumsum(rng.normal(0, 0.09, n + 1))
    out = []
    for k in range(n + 1):
        t = k / n
        bite = math.sin(math.pi * t) ** 0.5 * depth * (0.85 + float(wander[k]))
        out.append((round(x0 + t * (x1 - x0), 2), round(y + bite, 2)))
    return tuple(out)
