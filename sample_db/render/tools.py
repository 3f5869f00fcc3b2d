"""What lies beside a piece in the photograph: a steel rule and a neutral grey card."""

import numpy as np
from PIL import Image, ImageDraw, ImageFont
from scipy import ndimage

from sample_db.render.camera import Grid, Point, Ring, carried, chained
from sample_db.render.noise import Cloud, sampled
from sample_db.render.picture import Picture, Window
from sample_db.render.tint import Array, Lab, linear

RULE_WIDTH = 24.0
RULE_SPARE = 6.0
"""Steel beyond the first and last mark, mm."""
CARD_LAB: Lab = (50.0, 0.0, 0.0)
CARD_SIZE = (46.0, 32.0)
_FINE = 16


def lay_rule(
    picture: Picture, place: Grid, length: int, rng: np.random.Generator
) -> tuple[Point, Point]:
    """Lay a steel rule; its 0 mark lies at its own origin. Gives the px of its end marks."""
    camera = picture.camera
    ring = _box(-RULE_SPARE, 0.0, length + RULE_SPARE, RULE_WIDTH)
    outline = carried(chained(camera.to_px, place), ring)
    window = Window.around(outline, camera, spare=3)
    x, y = window.points(np.linalg.inv(chained(camera.to_px, place)))
    where = np.stack([(RULE_WIDTH - y) * _FINE - 0.5, (x + RULE_SPARE) * _FINE - 0.5])
    marks = sampled(_engraved(length, camera.scale), where[0], where[1])
    brushed = 1 + 0.05 * Cloud(rng).at(y * 40, x, 12.0) + 0.03 * Cloud(rng).at(x, y, 60.0)
    sheen = 1 + 0.16 * np.cos((y / RULE_WIDTH - 0.35) * 3.0)
    steel = np.array(linear((70.0, -0.3, -0.6)), np.float32)
    ink = np.array(linear((14.0, 0.0, 0.0)), np.float32)
    metal = steel * (brushed * sheen * 0.92)[..., None]
    colour = metal * (1 - marks[..., None]) + ink * marks[..., None]
    cover = window.mask(outline)
    picture.lay(window, np.asarray(colour, dtype=np.float32), cover, thickness=0.8)
    ends = carried(chained(camera.to_px, place), ((0.0, RULE_WIDTH), (float(length), RULE_WIDTH)))
    return ends[0], ends[1]


def lay_card(picture: Picture, place: Grid, rng: np.random.Generator) -> Ring:
    """Lay a neutral card of known colour; gives the px of a ring well inside it."""
    camera = picture.camera
    whole = chained(camera.to_px, place)
    half_w, half_h = CARD_SIZE[0] / 2, CARD_SIZE[1] / 2
    outline = carried(whole, _box(-half_w, -half_h, half_w, half_h))
    window = Window.around(outline, camera, spare=3)
    x, y = window.points(np.linalg.inv(whole))
    tone = 1 + 0.004 * Cloud(rng).at(x, y, 1.0)
    body = np.array(linear(CARD_LAB), np.float32)
    colour = np.asarray(tone[..., None] * body, dtype=np.float32)
    picture.lay(window, colour, window.mask(outline), thickness=0.5)
    inside = _box(-half_w + 6, -half_h + 6, half_w - 6, half_h - 6)
    return carried(whole, inside)


def _box(left: float, foot: float, right: float, head: float) -> Ring:
    return ((left, foot), (right, foot), (right, head), (left, head))


def _engraved(length: int, scale: float) -> Array:
    """The marks and figures of the rule, 1 where there is ink, row 0 at its upper edge."""
    size = (round((length + 2 * RULE_SPARE) * _FINE), round(RULE_WIDTH * _FINE))
    sheet = Image.new("L", size, 0)
    draw = ImageDraw.Draw(sheet)
    font = ImageFont.load_default(round(3.8 * _FINE))
    for mm in range(length + 1):
        x = (RULE_SPARE + mm) * _FINE
        tall = 9.0 if mm % 10 == 0 else 6.5 if mm % 5 == 0 else 4.2
        half = (0.14 if mm % 10 == 0 else 0.10) * _FINE
        draw.rectangle((x - half, 0, x + half, tall * _FINE), fill=255)
        if mm % 10 == 0 and mm:
            draw.text((x, 10.2 * _FINE), str(mm), fill=255, font=font, anchor="mt")
    hole = (2.2 * _FINE, 10.5 * _FINE, 5.2 * _FINE, 13.5 * _FINE)
    draw.ellipse(hole, fill=235)
    blur = max(0.0, 0.30 * _FINE / scale)
    return ndimage.gaussian_filter(np.asarray(sheet, dtype=np.float32) / 255, blur)
