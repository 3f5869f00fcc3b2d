import itertools
import math

import numpy as np
import pytest
from PIL import Image, ImageDraw

from bindery_stock.colour import (
    SINCE_2014,
    Neutral,
    PhotoVerdict,
    ReadBy,
    Target,
    begin_sitting,
    compare_in_photo,
    delta_e00,
    measure,
    measure_in_sitting,
    target_report,
)
from bindery_stock.colour.calibrate import calibrate
from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.uncertainty import U_NEUTRAL
from bindery_stock.errors import ColourError, ReferenceRefused

CORNERS = [(20.0, 20.0), (220.0, 20.0), (20.0, 140.0), (220.0, 140.0)]


def _phone(linear):
    """A camera of our own making: a cast, crosstalk between channels, a tone curve."""
    mixed = np.einsum(
        "ij,rcj->rci", [[0.80, 0.15, 0.02], [0.06, 0.75, 0.05], [0.02, 0.12, 0.60]], linear
    )
    return np.clip(mixed, 0, None) ** 0.85


def test_a_camera_with_cast_crosstalk_and_tone_is_put_right(tmp_path, painted_target):
    painted_target(light=_phone).save(tmp_path / "t.png")
    report = target_report(tmp_path / "t.png", Target(CORNERS))
    assert report.mean < 1.5
    assert float(report.uncorrected.mean()) > 5
    assert report.verdict is PhotoVerdict.GOOD
    assert report.left_out.shape == (24,)


@pytest.mark.parametrize("order", list(itertools.permutations(range(4)))[1::6])
def test_a_target_is_found_whichever_corner_was_marked_first(tmp_path, painted_target, order):
    painted_target(light=_phone).save(tmp_path / "t.png")
    plain = target_report(tmp_path / "t.png", Target(CORNERS))
    other = target_report(tmp_path / "t.png", Target([CORNERS[i] for i in order]))
    assert other.turned
    assert np.allclose(plain.photographed, other.photographed)


@pytest.mark.parametrize("way", list(Image.Transpose))
def test_a_target_is_found_however_it_lies(tmp_path, painted_target, way):
    picture = painted_target(light=_phone).transpose(way)
    picture.save(tmp_path / "t.png")
    w, h = picture.size
    corners = [(20.0, 20.0), (w - 20.0, 20.0), (20.0, h - 20.0), (w - 20.0, h - 20.0)]
    report = target_report(tmp_path / "t.png", Target(corners))
    assert report.mean < 1.5


def test_fingers_glare_and_a_leaf_are_dropped_by_name(tmp_path, painted_target):
    picture = painted_target(light=lambda linear: linear * 0.8)
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 0, 120, 40), (96, 120, 60))  # a leaf over the first three
    draw.rectangle((180, 40, 199, 80), (255, 255, 255))  # glare over half of one
    picture.save(tmp_path / "t.png")
    report = target_report(tmp_path / "t.png", Target(CORNERS))
    dropped = [n for n, fault in zip(report.names, report.faults, strict=True) if fault]
    # Cyan lies outside sRGB, in which the target is painted here.
    assert dropped == ["dark skin", "light skin", "blue sky", "yellow green", "cyan"]
    assert np.isnan(report.left_out[:3]).all()
    assert np.nanmean(report.left_out) < 2.0
    assert report.mean == pytest.approx(report.found_to.mean())
    assert report.mean > 2 * np.nanmean(report.left_out)  # the leaf and the glare count
    assert report.found_to[:3].min() > 10


def test_burnt_out_patches_are_dropped_and_the_mend_named(tmp_path, painted_target):
    painted_target(light=lambda linear: linear * 1.35).save(tmp_path / "t.png")
    report = target_report(tmp_path / "t.png", Target(CORNERS))
    assert report.faults[18].startswith("clipped")
    assert any(advice.startswith("Expose less") for advice in report.advice)


def test_light_that_falls_off_is_seen_and_advised(tmp_path, painted_target):
    def falling(linear):
        return linear * np.linspace(0.9, 0.5, 6)[None, :, None]

    painted_target(light=falling).save(tmp_path / "t.png")
    report = target_report(tmp_path / "t.png", Target(CORNERS))
    assert "fall-off" in report.model
    assert any(advice.startswith("Even the light") for advice in report.advice)


def test_a_target_hidden_altogether_is_refused(tmp_path):
    Image.new("RGB", (240, 160), (255, 255, 255)).save(tmp_path / "t.png")
    with pytest.raises(ColourError, match="patches can be used"):
        target_report(tmp_path / "t.png", Target(CORNERS))


@pytest.mark.parametrize(
    ("corners", "says"),
    [
        (CORNERS[:3], "four points"),
        ([(0, 0), (100, 0), (50, 0), (20, 0)], "four-sided"),
        ([(0, 0), (100, 0), (50, 10), (50, 80)], "four-sided"),
    ],
)
def test_corners_that_make_no_target_are_refused(corners, says):
    with pytest.raises(ColourError, match=says):
        Target(corners)


def test_a_target_outside_the_photograph_is_refused(tmp_path, painted_target):
    painted_target().save(tmp_path / "t.png")
    with pytest.raises(ColourError, match="outside the photograph"):
        target_report(tmp_path / "t.png", Target([(x + 300, y) for x, y in CORNERS]))


def test_own_values_may_be_given_plainly(tmp_path, painted_target):
    painted_target().save(tmp_path / "t.png")
    plain = [tuple(float(v) for v in lab) for lab in SINCE_2014.array]
    report = target_report(tmp_path / "t.png", Target(CORNERS, plain))
    assert report.source == "values given by the user"


def test_a_cloth_beside_the_target_is_read_near_its_truth(tmp_path, painted_target, square):
    """The cloth is patch 9 of the target itself; its band must hold the truth."""
    painted_target(light=_phone, noise=2).save(tmp_path / "t.png")
    reading = measure(tmp_path / "t.png", square(100, 60, 12), target=Target(CORNERS))
    error = float(delta_e00(reading.lab, SINCE_2014.labs[8]))
    assert error < 1.5
    assert error < reading.u < 10
    assert reading.method.startswith("24-patch target")


def test_a_colour_beyond_the_target_is_marked_as_extrapolated(tmp_path, painted_target, square):
    picture = painted_target()
    ImageDraw.Draw(picture).rectangle((4, 4, 36, 36), (255, 0, 254))
    picture.save(tmp_path / "t.png")
    reading = measure(tmp_path / "t.png", square(20, 20, 12), target=Target(CORNERS))
    assert any("extrapolated" in warning for warning in reading.warnings)


def test_outside_the_colours_of_the_target_models_part_and_the_band_is_wider(
    tmp_path, painted_target, square
):
    picture = painted_target(light=_phone, noise=2)
    ImageDraw.Draw(picture).rectangle((4, 4, 36, 36), (200, 0, 180))
    picture.save(tmp_path / "t.png")
    beyond = measure(tmp_path / "t.png", square(20, 20, 12), target=Target(CORNERS))
    within = measure(tmp_path / "t.png", square(140, 140, 12), target=Target(CORNERS))
    assert any("extrapolated" in warning for warning in beyond.warnings)
    assert not any("extrapolated" in warning for warning in within.warnings)
    assert beyond.u > 1.5 * within.u


def test_cloth_partly_burnt_out_has_a_wider_band(tmp_path, painted_target):
    painted_target(light=_phone, noise=2).save(tmp_path / "t.png")
    correction = calibrate(open_negative(tmp_path / "t.png"), Target(CORNERS))
    seen, at = correction.seen.linear[8], (100.0, 60.0)
    assert correction.band(seen, at, clipped=True) > 2 * correction.band(seen, at)


def test_a_patch_does_not_vouch_for_itself(tmp_path, painted_target):
    """One patch of another colour than it should be (still no stranger) widens the bands of the
    others by its left-out error, and not its own."""
    labs = np.array(SINCE_2014.labs)
    labs[8] += (0.0, 0.0, 10.0)
    painted_target(labs, noise=1).save(tmp_path / "t.png")
    correction = calibrate(open_negative(tmp_path / "t.png"), Target(CORNERS))
    bands = correction.bands()
    assert correction.faults[:17] == ("",) * 17  # cyan, the eighteenth, is beyond the file
    assert int(np.nanargmax(correction.left_out)) == 8
    assert correction.left_out[8] > bands[8]
    assert (np.delete(bands, 8)[:8] > correction.rms).all()


def test_a_grey_card_takes_out_exposure_and_cast(tmp_path, painted_target, square):
    tinted = painted_target(light=lambda linear: linear * (0.55, 0.42, 0.33))
    tinted.save(tmp_path / "t.png")
    grey = Neutral(square(140, 140, 12), SINCE_2014.labs[21])
    bare = measure(tmp_path / "t.png", square(100, 60, 12))
    better = measure(tmp_path / "t.png", square(100, 60, 12), neutral=grey)
    assert float(delta_e00(better.lab, SINCE_2014.labs[8])) < 1
    assert float(delta_e00(bare.lab, SINCE_2014.labs[8])) > 10
    assert (bare.read_by, bare.u) == (ReadBy.SEEN, None)
    assert better.read_by is ReadBy.CARD
    assert better.u == pytest.approx(math.hypot(U_NEUTRAL, better.noise))


def test_a_clipped_grey_card_is_refused(tmp_path, square):
    picture = Image.new("RGB", (100, 100), (255, 255, 255))
    picture.save(tmp_path / "t.png")
    with pytest.raises(ReferenceRefused, match="clipped"):
        measure(tmp_path / "t.png", square(50, 50, 20), neutral=Neutral(square(20, 20, 10)))


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ((12, 12, 12), "too dark in the photograph"),
        ((250, 200, 5), "too far"),
        (None, "uneven"),
        ((60, 60, 60), "would have to be 4.1 times as bright"),
        ((190, 190, 190), "would have to be 2.8 times as dark"),
    ],
)
def test_a_reference_that_would_not_help_gives_no_number_but_the_reason(
    tmp_path, square, code, why
):
    picture = Image.new("RGB", (100, 100), (90, 60, 50))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 0, 40, 40), code or (60, 60, 60))
    if code is None:
        draw.rectangle((20, 0, 40, 40), (160, 160, 160))
    picture.save(tmp_path / "t.png")
    with pytest.raises(ReferenceRefused, match=why) as refused:
        measure(tmp_path / "t.png", square(70, 70, 20), neutral=Neutral(square(20, 20, 15)))
    assert "shelve the piece without a colour" in str(refused.value)


@pytest.mark.parametrize(("lightness", "taken"), [(44.9, 0), (45, 1), (75, 1), (75.1, 0), (36, 0)])
def test_only_a_card_of_middle_grey_is_read_by(tmp_path, square, lightness, taken):
    """A card of L* 36 took three clear photographs of a target from ΔE00 6 to 14."""
    picture = Image.new("RGB", (100, 100), (90, 60, 50))
    ImageDraw.Draw(picture).rectangle((0, 0, 40, 40), (140, 140, 140))
    picture.save(tmp_path / "t.png")
    card = Neutral(square(20, 20, 15), (lightness, 0.0, 0.0))
    if taken:
        assert "neutral" in measure(tmp_path / "t.png", square(70, 70, 20), neutral=card).method
        return
    with pytest.raises(ReferenceRefused, match="only from 45 to 75"):
        measure(tmp_path / "t.png", square(70, 70, 20), neutral=card)


def test_of_two_cards_neither_may_be_bad(tmp_path, square):
    picture = Image.new("RGB", (100, 100), (90, 60, 50))
    ImageDraw.Draw(picture).rectangle((0, 0, 40, 40), (120, 120, 120))
    ImageDraw.Draw(picture).rectangle((0, 60, 40, 100), (50, 50, 50))
    picture.save(tmp_path / "t.png")
    good, shaded = Neutral(square(20, 20, 15)), Neutral(square(20, 80, 15))
    assert measure(tmp_path / "t.png", square(70, 70, 20), neutral=good).read_by is ReadBy.CARD
    with pytest.raises(ReferenceRefused, match="times as bright"):
        measure(tmp_path / "t.png", square(70, 70, 20), neutral=[good, shaded])


def test_a_card_by_which_the_photograph_would_be_brighter_than_white_is_refused(tmp_path, square):
    """A dark card under a camera's contrast curve asks for more light than there can have been."""
    for name, ground in (("bright", 250), ("dim", 90)):
        picture = Image.new("RGB", (100, 100), (ground, ground, ground))
        ImageDraw.Draw(picture).rectangle((0, 0, 40, 40), (78, 78, 78))
        picture.save(tmp_path / f"{name}.png")
    patch, card = square(70, 70, 20), Neutral(square(20, 20, 15), (50, 0, 0))
    with pytest.raises(ReferenceRefused, match="brighter than white"):
        measure(tmp_path / "bright.png", patch, neutral=card)
    dim = measure(tmp_path / "dim.png", patch, neutral=card)
    assert dim.method == "one neutral patch in the photograph"
    assert dim.lab[0] > measure(tmp_path / "dim.png", patch).lab[0] + 10


def test_white_paper_is_no_reference(tmp_path, square):
    """Own measurement: levelled by white, one clear photograph of eight grows worse."""
    picture = Image.new("RGB", (100, 100), (90, 60, 50))
    ImageDraw.Draw(picture).rectangle((0, 0, 40, 40), (200, 190, 180))
    picture.save(tmp_path / "t.png")
    paper = Neutral.paper(square(20, 20, 15))
    with pytest.raises(ReferenceRefused, match="roughly known"):
        measure(tmp_path / "t.png", square(70, 70, 20), neutral=paper)


def _covered(painted_target, path, count):
    """A target whose first patches lie under two foreign cloths, turn about."""
    picture = painted_target(light=_phone, noise=1)
    draw = ImageDraw.Draw(picture)
    for number in range(count):
        row, column = divmod(number, 6)
        x, y = column * 40, row * 40
        draw.rectangle((x, y, x + 39, y + 39), (96, 120, 60) if number % 2 else (250, 60, 200))
    picture.save(path)
    return path


def test_a_target_with_more_than_eight_patches_dropped_is_to_be_retaken_and_gives_no_number(
    tmp_path, painted_target, square
):
    few = target_report(_covered(painted_target, tmp_path / "few.png", 3), Target(CORNERS))
    many = target_report(_covered(painted_target, tmp_path / "many.png", 11), Target(CORNERS))
    assert sum(map(bool, few.faults)) <= 8
    assert sum(map(bool, many.faults)) > 8
    assert many.verdict is PhotoVerdict.RETAKE
    patch = square(100, 140, 12)
    assert measure(tmp_path / "few.png", patch, target=Target(CORNERS)).method.startswith("24")
    with pytest.raises(ReferenceRefused, match="more than 8"):
        measure(tmp_path / "many.png", patch, target=Target(CORNERS))
    kept = begin_sitting(tmp_path / "many.png", Target(CORNERS))
    with pytest.raises(ReferenceRefused, match="more than 8"):
        measure_in_sitting(tmp_path / "few.png", patch, kept, target=Target(CORNERS))


def test_the_shown_mean_counts_the_patches_dropped(tmp_path, painted_target, square):
    report = target_report(_covered(painted_target, tmp_path / "t.png", 3), Target(CORNERS))
    assert report.found_to.shape == (24,)
    assert np.isfinite(report.found_to).all()
    assert f"ΔE00 {report.found_to.mean():.1f} in the mean of all 24" in report.sentence
    reading = measure(tmp_path / "t.png", square(100, 140, 12), target=Target(CORNERS))
    assert f"left-out ΔE00 {report.mean:.1f}" in reading.method


def test_a_coloured_card_is_no_neutral_reference(square):
    with pytest.raises(ColourError, match="neutral"):
        Neutral(square(20, 20, 15), (50, 30, 10))


def test_two_cloths_in_one_photograph_are_compared_more_surely_than_apart(
    tmp_path, painted_target, square
):
    painted_target(light=_phone, noise=2).save(tmp_path / "t.png")
    a, b = square(100, 60, 12), square(100, 100, 12)
    truth = float(delta_e00(SINCE_2014.labs[8], SINCE_2014.labs[14]))
    bare = compare_in_photo(tmp_path / "t.png", a, b)
    better = compare_in_photo(tmp_path / "t.png", a, b, target=Target(CORNERS))
    assert abs(bare.delta_e - truth) < bare.u
    assert abs(better.delta_e - truth) < better.u < bare.u
    assert better.step.lightness == pytest.approx(better.second.lab[0] - better.first.lab[0])
    assert better.words


def test_the_band_of_a_difference_in_one_photograph_stops_growing(tmp_path, painted_target, square):
    """White against black: a bare photograph is off by 19 at most in 19 of 20, a target's by 8.3
    (own measurement, photographs held back); the cloths' own noise of one patch each on top."""
    painted_target(light=_phone, noise=2).save(tmp_path / "t.png")
    white, black = square(20, 140, 12), square(220, 140, 12)
    bare = compare_in_photo(tmp_path / "t.png", white, black)
    better = compare_in_photo(tmp_path / "t.png", white, black, target=Target(CORNERS))
    assert bare.delta_e > 40
    assert bare.u < 20
    assert better.u < 9
    assert "one bare photograph" in bare.words
    assert "one photograph with a target" in better.words


def test_a_patch_held_against_itself_is_nothing_apart(tmp_path, painted_target, square):
    painted_target(light=_phone, noise=2).save(tmp_path / "t.png")
    patch = square(100, 60, 12)
    same = compare_in_photo(tmp_path / "t.png", patch, patch)
    assert (same.delta_e, same.u, same.different) == (0.0, 0.0, False)


def test_two_cloths_are_told_apart_though_how_far_is_unsure(tmp_path, painted_target, square):
    """Three patches each, of colours ΔE00 3 apart as they were laid: the share that the bare
    photograph misreads does not make them the same cloth."""
    labs = SINCE_2014.array.copy()
    labs[14] = labs[8] + (2.7, 1.0, 0.5)
    truth = float(delta_e00(labs[8], labs[14]))
    assert truth == pytest.approx(3.0, abs=0.4)
    painted_target(labs, light=_phone, noise=2).save(tmp_path / "t.png")
    one, other = (
        [square(100 + x, y, 5) for x, y in ((-9, y0 - 9), (9, y0 - 9), (0, y0 + 9))]
        for y0 in (60, 100)
    )
    found = compare_in_photo(tmp_path / "t.png", one, other)
    again = compare_in_photo(tmp_path / "t.png", one[:2], [one[2]])
    assert found.different
    assert "; told apart in one bare photograph" in found.words
    assert not again.different
    assert "not told apart" in again.words
