"""What use and age have left on a piece: fading, folds, stains, glue and wear."""

import math
from dataclasses import dataclass
from typing import ClassVar, Protocol

import numpy as np
from scipy import ndimage

from sample_db.render.camera import Point, Ring
from sample_db.render.face import Face
from sample_db.render.noise import Cloud, step
from sample_db.render.tint import Array, linear


class Mark(Protocol):
    """One mark on a piece; ``flaw`` names what it is to a binder, or is empty."""

    flaw: ClassVar[str]

    def touch(self, face: Face) -> None:
        """Leave the mark on a face."""

    def rings(self) -> tuple[Ring, ...]:
        """The flawed places in the piece's mm; none where there is no flaw."""


def blob(x: float, y: float, across: float, along: float, seed: int, points: int = 22) -> Ring:
    """An irregular rounded ring about (x, y), ``across`` by ``along`` mm."""
    rng = np.random.default_rng(seed)
    turns = np.arange(points) * (2 * math.pi / points)
    radii = np.ones(points)
    for k in range(2, 6):
        radii += rng.normal(0, 0.16 / k) * np.cos(k * turns + rng.uniform(0, 2 * math.pi))
    radii += rng.normal(0, 0.02, points)
    return tuple(
        (
            round(x + across / 2 * float(r) * math.cos(t), 2),
            round(y + along / 2 * float(r) * math.sin(t), 2),
        )
        for r, t in zip(np.clip(radii, 0.6, 1.4), turns, strict=True)
    )


@dataclass(frozen=True)
class Fade:
    """Cloth bleached by daylight along one side, from ``at`` mm of the piece inward, not beyond."""

    side: str
    at: float
    reach: float
    strength: float = 0.6
    flaw: ClassVar[str] = ""

    def touch(self, face: Face) -> None:
        """Lighter and duller towards the side."""
        axis = face.u if self.side in {"left", "right"} else face.v
        sign = 1 if self.side in {"left", "foot"} else -1
        inward = (axis - self.at) * sign + 2.0 * Cloud(face.rng).rough(face.u, face.v, 50.0)
        share = self.strength * (1 - step(0.0, self.reach, inward))
        share = share * step(-0.6, 0.6, (axis - self.at) * sign)
        lightness, a, b = face.stuff.lab
        pale = linear((lightness + 0.28 * (72 - lightness) + 4, a * 0.58, b * 0.72 + 3))
        body = np.array(linear(face.stuff.lab), np.float32)
        ratio = np.array(pale, np.float32) / np.maximum(body, 0.004)
        face.colour = face.colour * (1 + share[..., None] * (ratio - 1))
        face.alter(share)

    def rings(self) -> tuple[Ring, ...]:
        """Fading is a difference of colour, not a flaw."""
        return ()


@dataclass(frozen=True)
class Fold:
    """A fold pressed into the cloth where it once turned over a board edge."""

    start: Point
    end: Point
    worn: float = 0.6
    flaw: ClassVar[str] = ""

    def touch(self, face: Face) -> None:
        """A ridge in the relief, its crown rubbed."""
        with face.within((self.start, self.end), 6.0) as part:
            self._touch(part)

    def _touch(self, face: Face) -> None:
        (x0, y0), (x1, y1) = self.start, self.end
        length = math.hypot(x1 - x0, y1 - y0)
        away = ((face.u - x0) * (y1 - y0) - (face.v - y0) * (x1 - x0)) / length
        along = ((face.u - x0) * (x1 - x0) + (face.v - y0) * (y1 - y0)) / length
        inside = step(-1.0, 1.0, along) * (1 - step(length - 1, length + 1, along))
        cloud = Cloud(face.rng)
        away = away + 0.25 * cloud.at(along, away, 25.0)
        ridge = np.exp(-((away / 0.9) ** 2)) * inside
        face.relief = face.relief + np.asarray(0.45 * ridge, np.float32)
        rubbed = np.exp(-((away / 0.42) ** 2)) * inside
        rubbed = (
            rubbed * np.clip(0.35 + 0.6 * cloud.rough(face.u, face.v, 9.0, 4), 0, 1) * self.worn
        )
        lightness, a, b = face.stuff.lab
        raw = linear((lightness + 0.4 * (78 - lightness), a * 0.7, b * 0.7 + 3))
        face.tint(np.array(raw, np.float32), _f(0.62 * rubbed))
        face.colour = (
            face.colour * (1 - 0.25 * np.exp(-(((away - 1.1) / 0.8) ** 2)) * inside)[..., None]
        )
        face.alter(_f(ridge))

    def rings(self) -> tuple[Ring, ...]:
        """A fold takes the part over it well enough."""
        return ()


@dataclass(frozen=True)
class TurnIns:
    """Turn-ins opened out: the cloth beyond the board edge has kept its colour."""

    box: tuple[float, float, float, float]
    """The board's face, mm: left, foot, right, head."""
    flaw: ClassVar[str] = ""

    def touch(self, face: Face) -> None:
        """Deeper and stronger in colour outside the box, a little soiled by old paste."""
        left, foot, right, head = self.box
        beyond = np.maximum(
            np.maximum(left - face.u, face.u - right), np.maximum(foot - face.v, face.v - head)
        )
        share = step(-0.6, 0.8, beyond)
        lightness, a, b = face.stuff.lab
        deep = np.array(linear((lightness * 0.94 - 1, a * 1.12, b * 1.10)), np.float32)
        body = np.maximum(np.array(linear(face.stuff.lab), np.float32), 0.004)
        ratio = np.maximum(deep, 0.002) / body
        face.colour = face.colour * (1 + share[..., None] * (ratio - 1))
        paste = share * step(0.5, 2.4, Cloud(face.rng).rough(face.u, face.v, 11.0, 5)) * 0.2
        face.tint(np.array(linear((72.0, 3.0, 14.0)), np.float32), _f(paste))
        face.alter(share)

    def rings(self) -> tuple[Ring, ...]:
        """Not a flaw."""
        return ()


@dataclass(frozen=True)
class Stain:
    """A damp stain with its tide line."""

    at: Ring
    strength: float = 0.5
    flaw: ClassVar[str] = "stain"

    def touch(self, face: Face) -> None:
        """Darker and browner, darkest at the rim."""
        with face.within(self.at, 6.0) as part:
            self._touch(part)

    def _touch(self, face: Face) -> None:
        body = face.mask(self.at, 0.5, ragged=0.8)
        wide = ndimage.gaussian_filter(body, 1.8 * face.per_mm)
        rim = body * np.clip((1 - wide) * 2, 0, 1)
        share = self.strength * (0.28 * body + 0.75 * rim)
        dirt = np.array((0.42, 0.34, 0.24), np.float32)
        face.colour = face.colour * (1 - share[..., None] * (1 - dirt))
        face.alter(body)

    def rings(self) -> tuple[Ring, ...]:
        """Where it lies."""
        return (self.at,)


@dataclass(frozen=True)
class Glue:
    """A crust of old glue."""

    at: Ring
    flaw: ClassVar[str] = "glue"

    def touch(self, face: Face) -> None:
        """Brown, cracked and a little shiny, filling the weave."""
        with face.within(self.at, 6.0) as part:
            self._touch(part)

    def _touch(self, face: Face) -> None:
        cloud = Cloud(face.rng)
        body = face.mask(self.at, 0.15, ragged=0.6)
        patchy = body * step(-1.1, 0.1, cloud.rough(face.u, face.v, 8.0, 4))
        cracked = 1 - 0.5 * step(0.10, 0.0, np.abs(cloud.at(face.v, face.u, 4.0)))
        amber = np.array(linear((34.0, 12.0, 24.0)), np.float32)
        face.tint(amber * (0.8 + 0.4 * cracked)[..., None], _f(0.78 * patchy * cracked))
        crust = 0.10 * patchy * (1 + 0.4 * cloud.rough(face.u, face.v, 2.0))
        face.relief = _f(face.relief * (1 - 0.7 * patchy) + crust)
        face.alter(body)

    def rings(self) -> tuple[Ring, ...]:
        """Where it lies."""
        return (self.at,)


@dataclass(frozen=True)
class Weak:
    """A threadbare place: dye and filler gone, the bare threads showing."""

    at: Ring
    flaw: ClassVar[str] = "weak"

    def touch(self, face: Face) -> None:
        """Pale on the crowns, fading out into sound cloth."""
        with face.within(self.at, 6.0) as part:
            self._touch(part)

    def _touch(self, face: Face) -> None:
        body = face.mask(self.at, 1.2, ragged=0.8)
        crowns = step(0.2, 0.8, (face.relief - face.relief.min()) / np.ptp(face.relief))
        worn = body * (0.25 + 0.75 * crowns)
        worn = worn * np.clip(0.7 + 0.4 * Cloud(face.rng).rough(face.u, face.v, 3.0), 0, 1)
        face.tint(np.array(linear((74.0, 2.0, 12.0)), np.float32), _f(0.62 * worn))
        face.relief = _f(face.relief * (1 - 0.4 * body))
        face.alter(body)

    def rings(self) -> tuple[Ring, ...]:
        """Where it lies."""
        return (self.at,)


def _f(x: Array) -> Array:
    return np.asarray(x, dtype=np.float32)
