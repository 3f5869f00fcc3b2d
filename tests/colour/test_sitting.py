import math

import numpy as np
import pytest
from PIL import Image, ImageDraw

from bindery_stock.colour import (
    SINCE_2014,
    Confirmation,
    Neutral,
    ReadBy,
    Target,
    begin_sitting,
    delta_e00,
    difference_band,
    is_tie,
    measure,
    measure_in_sitting,
    metamerism_caution,
    uneven_warning,
)
from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.light import light_differs
from bindery_stock.colour.uncertainty import U_LENT, mean_band
from bindery_stock.errors import ColourError

CORNERS = [(20.0, 20.0), (220.0, 20.0), (20.0, 140.0), (220.0, 140.0)]


def _taken(camera="Kamera 1", at="2031:05:04 10:00:00"):
    exif = Image.Exif()
    exif[0x0110] = camera
    exif[0x0132] = at
    return exif


@pytest.fixture
def sitting(tmp_path, painted_target):
    painted_target(light=lambda linear: linear * (0.7, 0.6, 0.5)).save(
        tmp_path / "first.png", exif=_taken()
    )
    return begin_sitting(tmp_path / "first.png", Target(CORNERS))


def _second(tmp_path, painted_target, gains=(0.7, 0.6, 0.5), exif=None):
    picture = painted_target(light=lambda linear: linear * gains)
    picture.save(tmp_path / "second.png", exif=exif or _taken(at="2031:05:04 10:20:00"))
    return tmp_path / "second.png"


def test_a_correction_is_lent_within_its_sitting(tmp_path, painted_target, sitting, square):
    photo = _second(tmp_path, painted_target)
    for proof in (
        {"neutral": Neutral(square(140, 140, 12), SINCE_2014.labs[21])},
        {"target": Target(CORNERS)},
    ):
        reading = measure_in_sitting(photo, square(100, 60, 12), sitting, **proof)
        assert float(delta_e00(reading.lab, SINCE_2014.labs[8])) < 2
        assert "another photograph of the sitting" in reading.method
        assert reading.read_by is ReadBy.LENT
        assert reading.u > U_LENT


def test_a_lent_target_has_a_band_of_its_own_beyond_that_of_the_photograph_it_lies_in(
    tmp_path, painted_target, sitting, square
):
    """The very photograph of the target, read by its own correction and by the same one lent."""
    there = Target(CORNERS)
    photo = _second(tmp_path, painted_target)
    lent = measure_in_sitting(photo, square(120, 80, 12), sitting, target=there)
    own = measure(photo, square(120, 80, 12), target=there)
    assert lent.u >= math.hypot(own.u, U_LENT) - 0.5


@pytest.mark.parametrize(
    ("gains", "exif", "why"),
    [
        ((0.7, 0.5, 0.3), None, "light or exposure changed"),
        ((0.7, 0.6, 0.5), _taken(camera="Kamera 2"), "Kamera 2"),
        ((0.7, 0.6, 0.5), _taken(at="2031:05:04 19:30:00"), "10 hours"),
    ],
)
def test_a_correction_is_not_lent_to_another_light_camera_or_day(
    tmp_path, painted_target, sitting, square, gains, exif, why
):
    photo = _second(tmp_path, painted_target, gains, exif)
    for proof in (
        {"neutral": Neutral(square(140, 140, 12), SINCE_2014.labs[21])},
        {"target": Target(CORNERS)},
    ):
        with pytest.raises(ColourError, match=why):
            measure_in_sitting(photo, square(100, 60, 12), sitting, **proof)


def test_a_photograph_that_proves_nothing_gets_no_correction(
    tmp_path, painted_target, sitting, square
):
    with pytest.raises(ColourError, match="Nothing in"):
        measure_in_sitting(_second(tmp_path, painted_target), square(100, 60, 12), sitting)


def _cloth_on_a_mat(tmp_path, fall):
    """A brown cloth of 200 × 120 on a grey mat under light that falls by ``fall`` to the right."""
    codes = np.full((300, 400, 3), 0.2)
    codes[90:210, 100:300] = (0.10, 0.05, 0.03)
    codes *= np.linspace(1, 1 - fall, 400)[None, :, None]
    from bindery_stock.colour.space import srgb_encode

    Image.fromarray(np.round(srgb_encode(codes) * 255).astype(np.uint8)).save(tmp_path / "m.png")
    return tmp_path / "m.png", [(100, 90), (300, 90), (300, 210), (100, 210)]


def test_even_light_on_the_mat_is_not_warned_of(tmp_path):
    photo, outline = _cloth_on_a_mat(tmp_path, 0.0)
    assert light_differs(open_negative(photo), outline) < 0.01
    reading = measure(photo, outline, outline=outline)
    assert not any("light differs" in warning for warning in reading.warnings)


def test_uneven_light_on_the_mat_is_warned_of_with_the_mend(tmp_path):
    photo, outline = _cloth_on_a_mat(tmp_path, 0.4)
    reading = measure(photo, outline, outline=outline)
    assert any("light differs" in warning and "45°" in warning for warning in reading.warnings)


def test_five_per_cent_is_where_the_warning_begins():
    assert uneven_warning(0.05) == ""
    assert "6%" in uneven_warning(0.06)


def test_an_outline_to_the_edge_leaves_no_ground_to_judge_by(tmp_path):
    photo, _ = _cloth_on_a_mat(tmp_path, 0.0)
    with pytest.raises(ColourError, match="Too little ground"):
        light_differs(open_negative(photo), [(0, 0), (400, 0), (400, 300), (0, 300)])


def test_a_plain_sheet_levels_the_light(tmp_path, square):
    """Left and right of one cloth read alike once the sheet below has told how the light falls."""
    photo, _ = _cloth_on_a_mat(tmp_path, 0.4)
    sheet = [(10, 230), (390, 230), (390, 290), (10, 290)]
    left, right = square(120, 150, 15), square(280, 150, 15)

    def apart(**refs):
        return float(delta_e00(measure(photo, left, **refs).lab, measure(photo, right, **refs).lab))

    assert apart() > 2
    assert apart(sheet=sheet) < 0.6


def test_two_grey_cards_level_the_light_between_them(tmp_path, square):
    photo, _ = _cloth_on_a_mat(tmp_path, 0.4)
    from bindery_stock.colour.space import xyz_to_lab

    lab = tuple(float(v) for v in xyz_to_lab(np.array([0.9642, 1, 0.8249]) * 0.2))
    cards = [Neutral(square(40, 150, 15), lab), Neutral(square(360, 150, 15), lab)]
    left = measure(photo, square(120, 150, 15), neutral=cards)
    right = measure(photo, square(280, 150, 15), neutral=cards)
    assert float(delta_e00(left.lab, right.lab)) < 0.8
    assert left.method == "2 neutral patches"


def test_a_sheet_that_is_burnt_out_is_refused(tmp_path, square):
    picture = Image.new("RGB", (200, 200), (255, 255, 255))
    ImageDraw.Draw(picture).rectangle((0, 0, 80, 80), (90, 60, 50))
    picture.save(tmp_path / "t.png")
    with pytest.raises(ColourError, match="clipped"):
        measure(tmp_path / "t.png", square(40, 40, 20), sheet=square(150, 150, 30))


def test_matches_whose_bands_overlap_are_ties():
    assert is_tie(2.0, 0.5, 2.9, 0.5)
    assert not is_tie(2.0, 0.5, 3.1, 0.5)
    assert not is_tie(2.0, None, 2.1, None)


def test_the_band_of_a_difference_is_unknown_where_one_reading_is():
    assert difference_band(3, None) is None
    assert difference_band(3, 4) == pytest.approx(5)


def test_the_band_of_a_mean_covers_it_in_95_of_100():
    """Simulation: cloths of known colour, three patches each with a spread of one unit an axis."""
    rng = np.random.default_rng(11)
    truth = np.array([40.0, 0.0, 0.0])
    inside = 0
    for _ in range(600):
        labs = truth + rng.normal(0, (1.0, 0.8, 0.8), (3, 3))
        inside += float(delta_e00(truth, labs.mean(axis=0))) <= mean_band(labs)
    assert 0.91 <= inside / 600 <= 0.99


def test_two_lights_that_disagree_raise_a_caution_of_metamerism():
    day = Confirmation("daylight", 0.9, 1.0)
    lamp = Confirmation("reading lamp", 4.8, 1.5)
    said = metamerism_caution(day, lamp)
    assert "metamerism" in said
    assert said.index("daylight") < said.index("reading lamp")
    assert metamerism_caution(lamp, day) == said
    assert metamerism_caution(day, Confirmation("lamp", 1.9, 1.0)) == ""
    assert metamerism_caution(day, Confirmation("Daylight ", 4.8, 1.0)) == ""
