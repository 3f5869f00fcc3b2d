"""The drawn photographs are what they say they are."""

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageOps
from shapely import Polygon

from bindery_stock.colour import delta_e00, measure
from bindery_stock.shape import PhotoScale
from bindery_stock.shape.outline_photo import read_outline
from bindery_stock.trade.vocabulary import PATTERN_FAMILIES
from sample_db.render import (
    GREY_CARD,
    MAT,
    Fade,
    Glue,
    Scrap,
    Sitting,
    Stain,
    Stuff,
    Truth,
    Weak,
    blob,
    lab,
    linear,
    photographed,
)
from sample_db.render.grain import embossed

SMALL = (640, 480)
RING = ((0.0, 4.0), (92.0, 0.0), (108.0, 66.0), (84.0, 118.0), (20.0, 110.0))
RED, GREEN, BLACK = (33.0, 33.0, 17.0), (31.0, -15.0, 8.0), (16.0, 0.0, -1.0)
NEAR_ENOUGH = 3.0
"""ΔE00 between the colour drawn and the colour read: the fall of the light over the picture."""


def _carried(truth: Truth, points):
    m = np.array(truth.to_mm).reshape(3, 3)
    x, y = np.array(points, dtype=float).T
    w = m[2, 0] * x + m[2, 1] * y + m[2, 2]
    return np.stack(
        [(m[0, 0] * x + m[0, 1] * y + m[0, 2]) / w, (m[1, 0] * x + m[1, 1] * y + m[1, 2]) / w], 1
    )


def _inside(ring, size=SMALL):
    sheet = Image.new("1", size, 0)
    ImageDraw.Draw(sheet).polygon([(x - 0.5, y - 0.5) for x, y in ring], fill=1)
    return np.asarray(sheet)


def test_the_same_seed_gives_the_same_photograph():
    scrap = Scrap(RING, Stuff(RED, pattern="rib"), marks=(Stain(blob(50, 60, 30, 30, 1)),))
    first = photographed(scrap, Sitting(7, size=SMALL))
    assert np.array_equal(first.pixels, photographed(scrap, Sitting(7, size=SMALL)).pixels)
    other = photographed(scrap, Sitting(8, size=SMALL))
    assert not np.array_equal(first.pixels, other.pixels)


@pytest.mark.parametrize("colour", [RED, GREEN, BLACK, (70.0, 5.0, 21.0), (29.0, 2.0, -23.0)])
@pytest.mark.parametrize("ground", [MAT, GREY_CARD])
def test_the_colour_read_is_near_the_colour_drawn(tmp_path, colour, ground):
    shot = photographed(
        Scrap(RING, Stuff(colour, pattern="morocco")), Sitting(3, ground=ground, size=SMALL)
    )
    reading = measure(shot.save(tmp_path / "scrap.jpg"), shot.truth.patch_px)
    assert float(delta_e00(shot.truth.lab, [reading.lab])[0]) < NEAR_ENOUGH


def test_the_patch_keeps_clear_of_stains_glue_and_faded_edges(tmp_path):
    marks = (
        Fade("left", 0.0, 40.0, 0.8),
        Stain(blob(70, 30, 40, 40, 2)),
        Glue(blob(60, 95, 30, 20, 3)),
        Weak(blob(85, 70, 24, 24, 4)),
    )
    shot = photographed(Scrap(RING, Stuff(GREEN), marks=marks), Sitting(4, size=SMALL))
    reading = measure(shot.save(tmp_path / "scrap.jpg"), shot.truth.patch_px)
    assert float(delta_e00(shot.truth.lab, [reading.lab])[0]) < NEAR_ENOUGH
    assert {kind for kind, _ in shot.truth.flaws} == {"stain", "glue", "weak"}


@pytest.mark.parametrize("tilt", [(0.0, 0.0), (2e-4, -3e-4)])
def test_the_outline_told_is_the_outline_seen(tilt):
    hole = blob(50, 60, 20, 20, 5)
    scrap = Scrap(RING, Stuff(RED), holes=(hole,), frayed=0.0)
    shot = photographed(
        scrap, Sitting(5, ground=GREY_CARD, turn=12, tilt=tilt, size=SMALL, card=False)
    )
    rgb = shot.pixels.astype(int)
    seen = rgb[..., 0] - rgb[..., 1] > 25
    told = _inside(shot.truth.outline_px) & ~_inside(shot.truth.holes_px[0])
    assert np.sum(seen ^ told) < 0.015 * np.sum(told)


def test_pixels_come_back_to_the_millimetres_they_were_drawn_from():
    shot = photographed(Scrap(RING, Stuff(RED)), Sitting(6, turn=31, tilt=(1e-4, 2e-4), size=SMALL))
    assert np.allclose(_carried(shot.truth, shot.truth.outline_px), RING, atol=1e-6)
    tail, head = _carried(shot.truth, shot.truth.warp_px)
    assert head[0] == pytest.approx(tail[0])
    assert head[1] > tail[1]


def test_the_rule_and_the_grid_are_as_long_as_they_say():
    truth = photographed(
        Scrap(RING, Stuff(RED)), Sitting(6, turn=31, tilt=(1e-4, 2e-4), size=SMALL)
    ).truth
    start, end = _carried(truth, truth.rule_px)
    assert np.hypot(*(end - start)) == pytest.approx(truth.rule_mm)
    corners = _carried(truth, truth.square_px)
    sides = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    assert sides == pytest.approx([truth.square_mm] * 4)


def test_the_grid_is_drawn_where_the_grid_is_told():
    little = blob(20, 20, 40, 40, 1)
    shot = photographed(
        Scrap(little, Stuff(RED)), Sitting(6, tilt=(1e-4, 2e-4), rule=False, card=False)
    )
    column, row = shot.truth.square_px[0]
    grey = shot.pixels[..., 1].astype(float)
    near = grey[int(row) - 40 : int(row) + 40, int(column) - 40 : int(column) + 40]
    assert abs(int(np.argmax(near.mean(axis=0))) - 40) <= 2
    assert abs(int(np.argmax(near.mean(axis=1))) - 40) <= 2


def test_the_grey_card_is_neutral_and_half_way_to_white(tmp_path):
    shot = photographed(Scrap(RING, Stuff(RED)), Sitting(9, size=SMALL))
    lightness, a, b = measure(shot.save(tmp_path / "card.jpg"), shot.truth.card_px).lab
    assert lightness == pytest.approx(shot.truth.card_lab[0], abs=4.0)
    assert abs(a) < 1.0
    assert abs(b) < 1.0


def test_every_grain_pattern_of_the_trade_has_its_relief():
    v, u = np.mgrid[0:24:0.1, 0:24:0.1].astype(np.float32)
    seen = PATTERN_FAMILIES["weave seen"]
    for family, names in PATTERN_FAMILIES.items():
        for name in names:
            relief = embossed(name, u, v, np.random.default_rng(1))
            assert np.isfinite(relief).all()
            assert bool(relief.std() > 0.05) is (family != "weave seen"), name
    assert "calico" in seen


def test_ribs_run_along_the_warp():
    v, u = np.mgrid[0:20:0.1, 0:20:0.1].astype(np.float32)
    relief = embossed("rib", u, v, np.random.default_rng(1))
    across = np.abs(np.diff(relief, axis=1)).mean()
    assert across > 5 * np.abs(np.diff(relief, axis=0)).mean()


def test_a_picture_stored_sideways_comes_upright_by_its_tag(tmp_path):
    shot = photographed(Scrap(RING, Stuff(RED)), Sitting(10, size=(320, 240)))
    with Image.open(shot.save(tmp_path / "side.jpg", sideways=True)) as image:
        assert image.size == (240, 320)
        upright = np.asarray(ImageOps.exif_transpose(image).convert("RGB"), dtype=int)
    assert np.abs(upright - shot.pixels).mean() < 6


def test_the_tints_agree_with_published_values():
    """CIELAB (D50) of the sRGB primaries: B. Lindbloom, CIE Colour Calculator (from memory)."""
    assert linear((100.0, 0.0, 0.0)) == pytest.approx((1.0, 1.0, 1.0), abs=2e-3)
    assert lab((1.0, 0.0, 0.0)) == pytest.approx((54.29, 80.81, 69.89), abs=0.1)
    assert lab((0.0, 0.0, 1.0)) == pytest.approx((29.57, 68.30, -112.03), abs=0.1)
    assert lab(linear((33.0, 33.0, 17.0))) == pytest.approx((33.0, 33.0, 17.0), abs=1e-6)


@pytest.mark.parametrize("pattern", ["rib", "diaper", "sand", "pebble"])
def test_the_outline_is_found_by_the_program_within_a_hundredth_and_a_half(tmp_path, pattern):
    hole = blob(46, 60, 18, 22, 6)
    scrap = Scrap(RING, Stuff(RED, pattern=pattern), holes=(hole,))
    plain = Sitting(12, ground=GREY_CARD, turn=8, rule=False, card=False, size=(800, 600))
    shot = photographed(scrap, plain)
    scale = PhotoScale(shot.truth.to_mm, 0.1, 0.0, "the drawing")
    found = read_outline(shot.save(tmp_path / "scrap.jpg"), scale)
    true = Polygon(RING, [hole])
    drawn_in = true.buffer(-found.inward)
    assert found.outline.area == pytest.approx(drawn_in.area, rel=0.015)
    assert true.buffer(0.2).covers(found.outline.polygon)
