"""A finished photograph of one piece, with the truth about everything in it."""

import io
import math
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sample_db.render import ground as grounds
from sample_db.render.camera import (
    Camera,
    Grid,
    Matrix,
    Point,
    Ring,
    carried,
    chained,
    flat,
    laid,
)
from sample_db.render.light import Light
from sample_db.render.picture import Picture
from sample_db.render.scrap import Scrap, lay_scrap
from sample_db.render.tint import Lab, encode
from sample_db.render.tools import CARD_LAB, CARD_SIZE, RULE_WIDTH, lay_card, lay_rule

_RULES = (100, 150, 200, 300, 500, 1000)
_GAP = 11.0
_SQUARE = 100.0
_CLOSEST = 7.0
"""Pixels per mm above which no camera in the sample comes closer."""


@dataclass(frozen=True)
class Sitting:
    """How a piece is photographed."""

    seed: int
    ground: str = grounds.MAT
    turn: float = 0.0
    """Degrees counter-clockwise by which the piece lies turned on the mat."""
    camera_turn: float = 0.0
    tilt: Point = (0.0, 0.0)
    size: tuple[int, int] = (1600, 1200)
    rule: bool = True
    card: bool = True
    light: Light = field(default_factory=Light)


@dataclass(frozen=True)
class Truth:
    """What is truly in the photograph. Pixels are upright, x right and y down; mm are the piece's.

    ``lab`` is CIELAB D50/2°; ``to_mm`` carries pixels to mm of the piece, row by row.
    """

    outline: Ring
    holes: tuple[Ring, ...]
    outline_px: Ring
    holes_px: tuple[Ring, ...]
    to_mm: Matrix
    lab: Lab
    patch_px: Ring
    warp_px: tuple[Point, Point]
    flaws: tuple[tuple[str, Ring], ...]
    rule_px: tuple[Point, Point] | None
    rule_mm: int
    card_px: Ring
    card_lab: Lab
    square_px: Ring
    """Four corners of a square of the mat's grid, from its lower left, counter-clockwise."""
    square_mm: float


@dataclass(frozen=True)
class Photograph:
    """8-bit sRGB pixels, height × width × 3, and their truth."""

    pixels: NDArray[np.uint8]
    truth: Truth

    def jpeg(self, quality: int = 82, *, sideways: bool = False) -> bytes:
        """The file's bytes; ``sideways`` stores it turned, with the EXIF tag that uprights it."""
        return filed(Image.fromarray(self.pixels), quality, sideways=sideways)

    def save(self, path: Path, quality: int = 82, *, sideways: bool = False) -> Path:
        """Write the JPEG and give back its path."""
        path.write_bytes(self.jpeg(quality, sideways=sideways))
        return path


def filed(image: Image.Image, quality: int, *, sideways: bool = False) -> bytes:
    """A JPEG; ``sideways`` turns it and adds the EXIF tag that brings it upright again."""
    options: dict[str, bytes] = {}
    if sideways:
        image = image.transpose(Image.Transpose.ROTATE_90)
        exif = Image.Exif()
        exif[0x0112] = 6
        options["exif"] = exif.tobytes()
    out = io.BytesIO()
    image.save(out, "JPEG", quality=quality, optimize=True, **options)
    return out.getvalue()


@dataclass(frozen=True)
class _Layout:
    camera: Camera
    piece: tuple[float, float]
    rule: tuple[float, float, float] | None
    rule_mm: int
    card: tuple[float, float] | None


def photographed(
    scrap: Scrap, sitting: Sitting, *, beneath: tuple[Scrap, ...] = (), spare: float = 0.0
) -> Photograph:
    """Photograph one piece, with what lies ``beneath`` it drawn first in the same millimetres.

    What lies beneath may stand out by ``spare`` mm all round. The same piece and sitting always
    give the same pixels.
    """
    rng = np.random.default_rng(sitting.seed)
    layout = _laid_out(scrap, sitting, spare)
    camera = layout.camera
    picture = Picture(grounds.ground(sitting.ground, camera, rng), camera)
    rule_px = None
    if layout.rule is not None:
        rule_px = lay_rule(picture, laid(*layout.rule), layout.rule_mm, rng)
    card_px: Ring = ()
    if layout.card is not None:
        card_px = lay_card(picture, laid(*layout.card, float(rng.normal(0, 2.5))), rng)
    place = laid(*layout.piece, sitting.turn)
    for lower in beneath:
        lay_scrap(picture, lower, place, rng)
    patch = lay_scrap(picture, scrap, place, rng)
    pixels = encode(sitting.light.caught(picture.light, camera, rng))
    truth = _truth(scrap, chained(camera.to_px, place), camera, patch)
    tools = replace(truth, rule_px=rule_px, rule_mm=layout.rule_mm, card_px=card_px)
    return Photograph(pixels, tools)


def _truth(scrap: Scrap, to_px: Grid, camera: Camera, patch: Ring) -> Truth:
    xs, ys = [p[0] for p in scrap.outline], [p[1] for p in scrap.outline]
    middle = (min(xs) + max(xs)) / 2
    warp = carried(to_px, ((middle, min(ys)), (middle, max(ys))))
    side = _SQUARE / 2
    square = ((-side, -side), (side, -side), (side, side), (-side, side))
    flaws = [("hole", h) for h in scrap.holes]
    flaws += [(m.flaw, ring) for m in scrap.marks if m.flaw for ring in m.rings()]
    return Truth(
        outline=scrap.outline,
        holes=scrap.holes,
        outline_px=carried(to_px, scrap.outline),
        holes_px=tuple(carried(to_px, h) for h in scrap.holes),
        to_mm=flat(np.linalg.inv(to_px)),
        lab=scrap.stuff.lab,
        patch_px=patch,
        warp_px=(warp[0], warp[1]),
        flaws=tuple(flaws),
        rule_px=None,
        rule_mm=0,
        card_px=(),
        card_lab=CARD_LAB,
        square_px=carried(camera.to_px, square),
        square_mm=_SQUARE,
    )


def _laid_out(scrap: Scrap, sitting: Sitting, spare: float) -> _Layout:
    """Place the piece, rule below it and card beside it, and bring the camera near enough."""
    c, s = math.cos(math.radians(sitting.turn)), math.sin(math.radians(sitting.turn))
    xs = [x * c - y * s for x, y in scrap.outline]
    ys = [x * s + y * c for x, y in scrap.outline]
    wide, high = max(xs) - min(xs) + 2 * spare, max(ys) - min(ys) + 2 * spare
    rule_mm = next((r for r in _RULES if r >= 0.62 * wide), _RULES[-1]) if sitting.rule else 0
    rule_high = RULE_WIDTH + _GAP if sitting.rule else 0.0
    card_wide = CARD_SIZE[0] + _GAP + 4 if sitting.card else 0.0
    total_wide = max(wide + card_wide, rule_mm + 12.0)
    total_high = high + rule_high
    width, height = sitting.size
    room = 1.05 * total_wide + 26, 1.05 * total_high + 26
    scale = min(width / room[0], height / room[1], _CLOSEST * width / 1600)
    camera = Camera(width, height, scale, sitting.camera_turn, sitting.tilt)
    left, foot = -(wide + card_wide) / 2, -total_high / 2
    piece = (left + spare - min(xs), foot + spare + rule_high - min(ys))
    rule = (-rule_mm / 2, foot, 0.0) if sitting.rule else None
    card = None
    if sitting.card:
        card = (left + wide + _GAP + CARD_SIZE[0] / 2, foot + rule_high + high / 2)
    return _Layout(camera, piece, rule, rule_mm, card)
