import tracemalloc

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from bindery_stock.colour import ReadBy, circle, delta_e00, measure
from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.patch import patch_mean, patch_pixels
from bindery_stock.colour.runs import runs_inside
from bindery_stock.colour.space import (
    SRGB_TO_XYZ,
    apply_matrix,
    srgb_decode,
    srgb_encode,
    xyz_to_lab,
)
from bindery_stock.colour.uncertainty import U_UNSEEN
from bindery_stock.errors import ColourError

WHOLE = [(0, 0), (120, 0), (120, 120), (0, 120)]


def _save(tmp_path, codes, name="cloth.png"):
    Image.fromarray(np.clip(np.round(codes), 0, 255).astype(np.uint8)).save(tmp_path / name)
    return tmp_path / name


def _weave(colour=(120, 40, 35), deviation=12.0, size=120, seed=7):
    rng = np.random.default_rng(seed)
    warp = rng.normal(0, deviation, (1, size, 1)) + rng.normal(0, deviation / 2, (size, size, 1))
    return np.array(colour) + warp


@given(
    st.lists(st.tuples(st.floats(0, 40), st.floats(0, 40)), min_size=3, max_size=8),
)
def test_pixels_inside_are_those_whose_centres_lie_inside(corners):
    """Shapely is the yardstick on simple polygons."""
    from shapely import Point, Polygon

    polygon = Polygon(corners)
    if not polygon.is_valid or polygon.area < 1:
        return
    runs = runs_inside(np.array(corners), (40, 40))
    places = runs.places(np.arange(runs.total))
    inside = np.zeros((40, 40), dtype=bool)
    inside[places[:, 1], places[:, 0]] = True
    assert runs.total == inside.sum()
    rows, columns = np.divmod(np.arange(1600), 40)
    assert (runs.hold(np.stack([columns, rows], axis=1)).reshape(40, 40) == inside).all()
    for y, x in ((3, 3), (10, 20), (20, 10), (33, 35), (20, 20)):
        centre = Point(x + 0.5, y + 0.5)
        if polygon.boundary.distance(centre) > 1e-6:
            assert inside[y, x] == polygon.contains(centre)


def test_a_round_patch_has_the_area_of_its_circle(tmp_path):
    path = _save(tmp_path, np.full((120, 120, 3), 90))
    assert measure(path, circle(60, 60, 40)).pixels == pytest.approx(np.pi * 1600, rel=0.01)


def test_a_flat_patch_is_the_colour_of_colour_science(tmp_path, science):
    path = _save(tmp_path, np.full((120, 120, 3), (200, 40, 30)))
    whites = science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]
    xyz = science.chromatic_adaptation(
        science.sRGB_to_XYZ(np.array([200, 40, 30]) / 255),
        science.xy_to_XYZ(whites["D65"]),
        science.xy_to_XYZ(whites["D50"]),
        transform="Bradford",
    )
    theirs = science.XYZ_to_Lab(xyz, whites["D50"])
    reading = measure(path, WHOLE)
    assert np.abs(np.array(reading.lab) - theirs).max() < 0.03
    assert reading.spread == pytest.approx(0, abs=1e-9)
    assert reading.rejected == 0


def test_stripes_average_as_light_and_not_as_codes(tmp_path):
    codes = np.full((120, 120, 3), 90.0)
    codes[:, ::2] = 110
    light = srgb_decode(np.array([90, 110]) / 255).mean()
    wanted = measure(_save(tmp_path, np.full((120, 120, 3), srgb_encode(light) * 255)), WHOLE).lab
    found = measure(_save(tmp_path, codes, "stripes.png"), WHOLE).lab
    assert float(delta_e00(wanted, found)) < 0.3


@pytest.mark.parametrize(
    ("share", "code", "limit"),
    [(0.05, (255, 255, 255), 0.4), (0.10, (20, 8, 8), 0.9), (0.10, (200, 20, 140), 0.5)],
    ids=["glints", "shadow", "foreign thread"],
)
def test_glints_shadows_and_stray_threads_hardly_move_the_colour(tmp_path, share, code, limit):
    """Own measurement on twelve fabrics: 0.4, 0.9 and 0.2 for these three."""
    clean = _weave()
    dirty = clean.copy()
    dirty[: int(120 * share)] = code
    one = measure(_save(tmp_path, clean), WHOLE)
    other = measure(_save(tmp_path, dirty, "dirty.png"), WHOLE)
    assert float(delta_e00(one.lab, other.lab)) < limit
    assert other.rejected >= share


def test_a_wholly_burnt_out_patch_is_still_read_and_said(tmp_path):
    reading = measure(_save(tmp_path, np.full((120, 120, 3), 255)), WHOLE)
    assert reading.lab == pytest.approx((100, 0, 0), abs=1e-6)
    assert any("100% of a patch is clipped" in warning for warning in reading.warnings)


def test_the_colour_meant_of_a_stamped_patch_is_read_alone(tmp_path):
    plain = measure(_save(tmp_path, _weave()), WHOLE)
    codes = _weave()
    codes[:50] = _weave((190, 150, 60), size=120, seed=8)[:50]
    stamped = _save(tmp_path, codes, "stamped.png")
    both = measure(stamped, WHOLE)
    cloth = min(both.clusters, key=lambda one: float(delta_e00(plain.lab, one.lab)))
    reading = measure(stamped, WHOLE, meant=cloth.lab)
    assert float(delta_e00(plain.lab, reading.lab)) < 0.5
    assert reading.clusters == ()
    assert reading.pixels == pytest.approx(120 * 70, rel=0.05)


def test_cloth_that_fills_the_photograph_is_read_though_its_light_cannot_be_judged(tmp_path):
    reading = measure(_save(tmp_path, _weave()), WHOLE, outline=WHOLE)
    assert any("Too little ground" in warning for warning in reading.warnings)


def test_a_patch_with_stamping_offers_both_colours(tmp_path):
    codes = _weave()
    codes[:50] = _weave((190, 150, 60), size=120, seed=8)[:50]
    reading = measure(_save(tmp_path, codes), WHOLE)
    assert len(reading.clusters) == 2
    assert reading.clusters[0].share == pytest.approx(70 / 120, abs=0.05)
    assert any("more than one colour" in warning for warning in reading.warnings)


def test_a_plain_weave_however_coarse_is_one_colour(tmp_path):
    for deviation in (2, 12, 25):
        reading = measure(_save(tmp_path, _weave(deviation=deviation)), WHOLE)
        assert reading.clusters == ()


@pytest.mark.parametrize(
    ("patch", "says"),
    [
        ([(0, 0), (7, 0), (7, 7), (0, 7)], "only 49 pixels"),
        ([(100, 100), (130, 100), (130, 130), (100, 130)], "outside the photograph"),
        ([(-5, 0), (30, 0), (30, 30)], "outside the photograph"),
        ([(0, 0), (50, 50)], "three corners"),
        ([(0, 0), (50, float("nan")), (50, 50)], "nowhere"),
        ([], "Mark a patch"),
    ],
)
def test_a_patch_that_cannot_be_read_says_why(tmp_path, patch, says):
    path = _save(tmp_path, np.full((120, 120, 3), 90))
    with pytest.raises(ColourError, match=says):
        measure(path, patch)


def test_one_patch_asks_for_three(tmp_path, square):
    path = _save(tmp_path, _weave())
    patches = [square(30, 30, 20), square(90, 40, 20), square(60, 90, 20)]
    assert measure(path, patches[0]).advice
    assert measure(path, patches).advice == ()


def test_uneven_dye_widens_the_band_of_three_patches(tmp_path, square):
    even = _weave()
    faded = even + np.linspace(0, 50, 120)[None, :, None]
    patches = [square(30, 30, 20), square(90, 40, 20), square(60, 90, 20)]
    one = measure(_save(tmp_path, even), patches)
    other = measure(_save(tmp_path, faded, "faded.png"), patches)
    assert other.noise > 2 * one.noise


def test_one_patch_does_not_vouch_for_the_whole_cloth(tmp_path):
    assert measure(_save(tmp_path, _weave()), WHOLE).noise >= U_UNSEEN


def test_a_patch_marked_as_circle_polygon_or_list_gives_the_same_colour(tmp_path, square):
    path = _save(tmp_path, np.full((120, 120, 3), (90, 60, 50)))
    labs = {
        measure(path, patch).lab
        for patch in (circle(60, 60, 30), square(60, 60, 20), [square(60, 60, 20)])
    }
    assert max(float(delta_e00(one, other)) for one in labs for other in labs) < 1e-6


def test_a_reading_names_how_it_was_got(tmp_path, square):
    image = Image.new("RGB", (120, 120), (90, 60, 50))
    ImageDraw.Draw(image).rectangle((0, 0, 10, 10), (0, 0, 0))
    image.save(tmp_path / "a.png")
    reading = measure(tmp_path / "a.png", square(60, 60, 20))
    assert reading.method == "bare photograph, no reference"
    assert (reading.read_by, reading.u) == (ReadBy.SEEN, None), "no band holds without a reference"
    assert "sRGB assumed" in reading.profile


@pytest.fixture(scope="module")
def large(tmp_path_factory):
    """Nine megapixels of a weave."""
    path = tmp_path_factory.mktemp("large") / "cloth.jpg"
    tile = np.clip(np.round(_weave(size=300)), 0, 255).astype(np.uint8)
    Image.fromarray(np.tile(tile, (10, 10, 1))).save(path, quality=90)
    return path


MOST = [(20, 20), (2980, 30), (2970, 2980), (30, 2970)]


def test_a_patch_over_most_of_a_photograph_has_the_colour_of_all_its_pixels(large):
    """Judge: every pixel of it, averaged in linear light by numpy alone."""
    with Image.open(large) as image:
        codes = np.asarray(image)[40:2960, 40:2960]
    light = srgb_decode(codes[::3, ::3].reshape(-1, 3) / 255).mean(axis=0)
    wanted = xyz_to_lab(apply_matrix(SRGB_TO_XYZ, light))
    reading = measure(large, MOST)
    assert float(delta_e00(wanted, reading.lab)) < 0.2
    assert reading.pixels == pytest.approx(2950 * 2950, rel=0.01)


def test_a_large_patch_is_sampled_in_blocks_so_that_its_spread_can_be_told(tmp_path):
    """Cloth that is lighter on one side than on the other: single pixels strewn over it would be
    taken for independent and their mean for exact."""
    codes = np.full((1200, 1200, 3), 90.0) + np.linspace(0, 60, 1200)[None, :, None]
    path = _save(tmp_path, codes + np.random.default_rng(4).normal(0, 2, codes.shape))
    patch = patch_pixels(
        open_negative(path), [(5, 5), (1195, 5), (1195, 1195), (5, 1195)], "The patch"
    )
    blocks, counts = np.unique(patch.places // 24, axis=0, return_counts=True)
    assert len(blocks) == 400
    assert np.median(counts) == 36
    assert len(np.unique(patch.places, axis=0)) == len(patch.places)
    mean = patch_mean(patch, open_negative(path).encoding)
    assert mean.band > 0.5


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_sampled_patch_takes_its_own_pixels_however_the_photograph_is_turned(
    tmp_path, orientation
):
    """Each pixel's codes tell its place in the upright photograph."""
    y, x = np.mgrid[0:1100, 0:1210]
    upright = np.stack([x % 251, y % 241, (x // 251) * 16 + y // 241], axis=-1).astype(np.uint8)
    stored = Image.fromarray(upright)
    turns = {2: 0, 3: 3, 4: 1, 5: 5, 6: 2, 7: 6, 8: 4}  # Pillow's own way back from each
    if orientation > 1:
        stored = stored.transpose(Image.Transpose(turns[orientation]))
    exif = Image.Exif()
    exif[0x0112] = orientation
    stored.save(tmp_path / "turned.png", exif=exif)
    photo = open_negative(tmp_path / "turned.png")
    patch = patch_pixels(photo, [(0, 0), (1210, 0), (1210, 1100), (0, 1100)])
    columns, rows = patch.places.T
    assert (patch.codes == upright[rows, columns]).all()
    assert patch.total == 1210 * 1100


def test_a_reading_of_most_of_a_photograph_copies_little_of_it(large):
    """Memory beyond the decoded picture: under a fifth of it (decoded, four bytes a pixel)."""
    photo = open_negative(large)
    patch_mean(patch_pixels(photo, MOST), photo.encoding)
    tracemalloc.start()
    patch_mean(patch_pixels(photo, MOST), photo.encoding)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 0.2 * 3000 * 3000 * 4
