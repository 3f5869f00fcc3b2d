"""Old blocking on a cloth: frames, ornaments, rules and lettering, gilt or blind."""

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from PIL import Image, ImageDraw, ImageFont
from scipy import ndimage

from sample_db.render.camera import Ring
from sample_db.render.face import Face
from sample_db.render.noise import Cloud, sampled, step
from sample_db.render.tint import Array, Lab, linear

_FINE = 12
_FRAME_WIDE = 5.0
_GOLD: Lab = (62.0, 6.0, 34.0)


@dataclass(frozen=True)
class Stamping:
    """Old blocking: a frame, an ornament, rules or lettering, gilt or blind, in a box of mm."""

    box: tuple[float, float, float, float]
    art: str = "frame"
    text: str = ""
    gilt: bool = True
    worn: float = 0.5
    flaw: ClassVar[str] = "stamping"

    def touch(self, face: Face) -> None:
        """Pressed in; gold where it has not worn away."""
        with face.within(_box(*self.box), 4.0) as part:
            self._touch(part)

    def _touch(self, face: Face) -> None:
        left, foot, right, head = self.box
        art = _ART[self.art](right - left, head - foot, self.text)
        where = np.stack([(head - face.v) * _FINE - 0.5, (face.u - left) * _FINE - 0.5])
        struck = _read(art, where)
        cloud = Cloud(face.rng)
        face.relief = _f(face.relief * (1 - 0.6 * struck) - 0.11 * struck)
        if self.gilt:
            left_of_it = step(-0.9, 0.5, cloud.rough(face.u, face.v, 9.0, 5) + 0.9 - 2 * self.worn)
            sheen = 1 + 0.28 * cloud.at(face.u, face.v, 30.0) + 0.10 * cloud.at(face.v, face.u, 0.7)
            gold = np.array(linear(_GOLD), np.float32) * sheen[..., None]
            face.tint(gold, _f(0.92 * struck * left_of_it))
        else:
            face.colour = face.colour * (1 - 0.22 * struck[..., None])
        face.alter(_f(ndimage.gaussian_filter(struck, 0.6 * face.per_mm) * 4))

    def rings(self) -> tuple[Ring, ...]:
        """The box that holds it; of a frame, its four sides."""
        left, foot, right, head = self.box
        if self.art != "frame":
            return (_box(left, foot, right, head),)
        d = _FRAME_WIDE
        return (
            _box(left, foot, left + d, head),
            _box(right - d, foot, right, head),
            _box(left + d, foot, right - d, foot + d),
            _box(left + d, head - d, right - d, head),
        )


def _box(left: float, foot: float, right: float, head: float) -> Ring:
    return ((left, foot), (right, foot), (right, head), (left, head))


def _frame(width: float, height: float, _text: str) -> Array:
    sheet, draw = _sheet(width, height)
    w, h = sheet.size
    for inset, line in ((0.4, 0.9), (2.6, 0.35), (3.6, 0.35)):
        d = inset * _FINE
        draw.rectangle((d, d, w - d, h - d), outline=255, width=max(1, round(line * _FINE)))
    r = 9.0 * _FINE
    pen = round(0.5 * _FINE)
    for cx, cy, a0 in ((0, 0, 0), (w, 0, 90), (w, h, 180), (0, h, 270)):
        for k in (1.0, 0.72):
            draw.arc((cx - r * k, cy - r * k, cx + r * k, cy + r * k), a0, a0 + 90, 255, pen)
    return _soft(sheet)


def _ornament(width: float, height: float, _text: str) -> Array:
    sheet, draw = _sheet(width, height)
    w, h = sheet.size
    cx, cy, pen = w / 2, h / 2, round(0.6 * _FINE)
    for k in range(8):
        turn = k * math.pi / 4
        for far, size in ((0.32, 0.13), (0.40, 0.045)):
            x, y = cx + far * w * math.cos(turn), cy + far * h * math.sin(turn)
            box = (x - size * w, y - size * h, x + size * w, y + size * h)
            draw.ellipse(box, outline=255, width=pen)
    for ring in (0.15, 0.18, 0.49):
        box = (cx - ring * w, cy - ring * h, cx + ring * w, cy + ring * h)
        draw.ellipse(box, outline=255, width=pen)
    lozenge = [(cx, cy - 0.12 * h), (cx + 0.12 * w, cy), (cx, cy + 0.12 * h), (cx - 0.12 * w, cy)]
    draw.polygon(lozenge, fill=255)
    return _soft(sheet)


def _rules(width: float, height: float, _text: str) -> Array:
    sheet, draw = _sheet(width, height)
    w, h = sheet.size
    for share, line in ((0.08, 0.8), (0.24, 0.3), (0.76, 0.3), (0.92, 0.8)):
        half = line * _FINE / 2
        draw.rectangle((0, share * h - half, w, share * h + half), fill=255)
    for k in range(max(1, int(width / 6))):
        x, y, r = (k + 0.5) * w / max(1, int(width / 6)), h / 2, 0.16 * h
        draw.polygon([(x, y - r), (x + r, y), (x, y + r), (x - r, y)], outline=255, width=4)
    return _soft(sheet)


def _lettering(width: float, height: float, text: str) -> Array:
    """Lines of capitals, each spaced out to the width of the box."""
    sheet, draw = _sheet(width, height)
    w, h = sheet.size
    lines = text.split("/")
    for n, line in enumerate(lines):
        size: float = h / len(lines) * 0.72
        spread = max(1, len(line)) * size * 0.78
        size *= min(1.0, w / spread)
        font = ImageFont.load_default(size)
        gap = min(w / max(1, len(line)), size * 0.95)
        start = w / 2 - gap * (len(line) - 1) / 2
        y = (n + 0.5) * h / len(lines)
        for k, letter in enumerate(line):
            draw.text(
                (start + k * gap, y), letter, fill=255, font=font, anchor="mm", stroke_width=1
            )
    return _soft(sheet)


def _sheet(width: float, height: float) -> tuple[Image.Image, ImageDraw.ImageDraw]:
    sheet = Image.new("L", (max(2, round(width * _FINE)), max(2, round(height * _FINE))), 0)
    return sheet, ImageDraw.Draw(sheet)


def _read(art: Array, where: Array) -> Array:
    """The artwork read at rows and columns; nothing beyond its edges."""
    high, wide = art.shape
    inside = (where[0] > 0) & (where[0] < high - 1) & (where[1] > 0) & (where[1] < wide - 1)
    found = sampled(art, np.clip(where[0], 0, high - 1.01), np.clip(where[1], 0, wide - 1.01))
    return np.asarray(found * inside)


def _soft(sheet: Image.Image) -> Array:
    return ndimage.gaussian_filter(np.asarray(sheet, dtype=np.float32) / 255, 1.4)


def _f(x: Array) -> Array:
    return np.asarray(x, dtype=np.float32)


_ART = {"frame": _frame, "ornament": _ornament, "rules": _rules, "lettering": _lettering}
