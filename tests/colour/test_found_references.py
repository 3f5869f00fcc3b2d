"""Targets and grey cards found by themselves, on real photographs and where there is none.

The photographs of a target are those of ``test_real_targets``; the pictures without one are those
that scikit-image ships, the sample stockroom's, and the real photographs with the target painted
over. Where photographs or library are not at hand the tests that need them say so and are skipped.
"""

import importlib.util
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFilter

from bindery_stock.colour import SINCE_2014, find_neutral, find_target
from bindery_stock.colour.target import homography, project

SAMPLE = Path(__file__).resolve().parents[2] / "sample_db" / "stockroom"
UNIT = [(0, 0), (5, 0), (0, 3), (5, 3)]
GRID = [(c, r) for r in range(4) for c in range(6)]


def _away(found, centres, pitch):
    """The patch found worst, as a share of the pitch."""
    places = project(homography(UNIT, found.target.corners), GRID)
    return float(np.linalg.norm(places - np.asarray(centres), axis=1).max() / pitch)


def test_the_target_of_every_photograph_is_found_to_a_fifth_of_its_pitch(target_photos):
    for name, photo in target_photos.items():
        found = find_target(photo["path"])
        assert found is not None, name
        assert found.sure, name
        assert _away(found, photo["centres"], photo["pitch_px"]) <= 0.2, name


def test_a_target_partly_under_a_leaf_is_offered_and_not_taken(target_photos):
    folder = next(iter(target_photos.values()))["path"].parent
    found = find_target(folder / "leaf.png")
    assert found is not None
    assert not found.sure
    corners = [(563.0, 375.0), (551.0, 820.0), (285.0, 372.0), (277.0, 817.0)]
    assert _away(found, project(homography(UNIT, corners), GRID), 89.0) <= 0.2


def test_a_target_among_plot_axes_is_found(target_photos):
    folder = next(iter(target_photos.values()))["path"].parent
    found = find_target(folder / "chamber.png")
    corners = [(704.0, 473.0), (699.0, 696.0), (570.0, 470.0), (567.0, 693.0)]
    assert found is not None
    assert found.sure
    assert _away(found, project(homography(UNIT, corners), GRID), 44.6) <= 0.2


def _painted_over(photo, over):
    """The photograph with everything about its target gone."""
    with Image.open(photo["path"]) as opened:
        picture = opened.convert("RGB")
    quad = np.array(photo["quad"])
    middle = quad.mean(axis=0)
    mask = Image.new("L", picture.size)
    ImageDraw.Draw(mask).polygon([tuple(middle + 1.1 * (p - middle)) for p in quad], fill=255)
    picture.paste(over(picture, photo["pitch_px"]), (0, 0), mask)
    return picture


def _grey(picture, pitch):
    return Image.new("RGB", picture.size, (119, 118, 120))


def _blurred(picture, pitch):
    return picture.filter(ImageFilter.GaussianBlur(1.5 * pitch))


def _scrambled(picture, pitch):
    codes = np.asarray(picture).reshape(-1, 3)
    order = np.random.default_rng(1).integers(0, len(codes), len(codes))
    return Image.fromarray(codes[order].reshape(np.asarray(picture).shape))


@pytest.mark.parametrize("over", [_grey, _blurred, _scrambled])
def test_where_the_target_was_painted_over_none_is_found(target_photos, tmp_path, over):
    for name, photo in target_photos.items():
        _painted_over(photo, over).save(tmp_path / "t.png")
        assert find_target(tmp_path / "t.png") is None, name


def test_no_target_is_found_in_the_pictures_that_scikit_image_ships():
    library = importlib.util.find_spec("skimage")
    if library is None or library.origin is None:
        pytest.skip("scikit-image is not installed here: its pictures cannot be looked through")
    folder = Path(library.origin).parent / "data"
    # The animated and paged ones are no photographs, and neither are those of one bit.
    pictures = [p for p in sorted(folder.glob("*.*g")) if p.name not in {"horse.png"}]
    assert len(pictures) >= 20
    assert [p.name for p in pictures if find_target(p) is not None] == []


def test_no_target_of_the_published_editions_is_found_in_the_sample_stockroom():
    """Its own target has other colours and is none of them."""
    pictures = sorted(SAMPLE.glob("*/*.jpg"))
    assert len(pictures) >= 60
    assert [p.name for p in pictures[::3] if find_target(p) is not None] == []


def _on_a_bench(target, degrees, lean, size=(1200, 900)):
    """A painted target turned, leaning and not large, on a noisy bench; and where it lies."""
    codes = np.random.default_rng(2).normal((96, 88, 80), 3, (size[1], size[0], 3))
    bench = Image.fromarray(np.clip(codes, 0, 255).astype(np.uint8))
    width, height = target.size
    turn = np.deg2rad(degrees)
    corners = np.array([(0, 0), (width, 0), (0, height), (width, height)], dtype=float)
    about = corners - (width / 2, height / 2)
    turned = about @ np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])
    there = turned * (1 + lean * turned[:, 1:] / height) + (size[0] / 2, size[1] / 2)
    to_target, to_bench = homography(there, corners), homography(corners, there)
    laid = target.transform(
        size, Image.Transform.PERSPECTIVE, tuple(to_target.ravel()[:8]), Image.Resampling.BICUBIC
    )
    mask = Image.new("L", target.size, 255).transform(
        size, Image.Transform.PERSPECTIVE, tuple(to_target.ravel()[:8])
    )
    bench.paste(laid, (0, 0), mask)
    return bench, project(to_bench, [(20 + 40 * c, 20 + 40 * r) for c, r in GRID])


@pytest.mark.parametrize(
    ("degrees", "lean"), [(0, 0.0), (33, 0.0), (90, 0.1), (180, 0.0), (-70, 0.15)]
)
def test_a_target_turned_and_leaning_is_found_the_right_way_round(
    tmp_path, painted_target, degrees, lean
):
    picture, centres = _on_a_bench(painted_target(noise=1), degrees, lean)
    picture.save(tmp_path / "t.png")
    found = find_target(tmp_path / "t.png")
    assert found is not None
    assert found.sure
    assert _away(found, centres, 40) <= 0.2


def test_patches_of_other_colours_are_no_target(tmp_path, painted_target):
    mixed = SINCE_2014.array[np.random.default_rng(5).permutation(24)]
    picture, _ = _on_a_bench(painted_target(mixed, noise=1), 10, 0.0)
    picture.save(tmp_path / "t.png")
    found = find_target(tmp_path / "t.png")
    assert found is None or not found.sure


def test_a_photograph_in_greys_has_no_target(tmp_path, painted_target):
    _on_a_bench(painted_target(), 0, 0.0)[0].convert("L").save(tmp_path / "grey.png")
    assert find_target(tmp_path / "grey.png") is None


def test_a_grey_card_on_a_bench_is_offered_where_it_lies(tmp_path):
    codes = np.random.default_rng(2).normal((140, 60, 50), 3, (600, 800, 3))
    picture = Image.fromarray(np.clip(codes, 0, 255).astype(np.uint8))
    ImageDraw.Draw(picture).polygon([(500, 300), (650, 320), (640, 420), (490, 400)], (119,) * 3)
    picture.save(tmp_path / "t.png")
    found = find_neutral(tmp_path / "t.png")
    assert found is not None
    ring = np.array(found.polygon)
    assert ring.mean(axis=0) == pytest.approx((570, 360), abs=3)
    assert (ring.min(axis=0) > (490, 300)).all()
    assert (ring.max(axis=0) < (650, 420)).all()
    assert abs(found.lab[0] - 50) < 2


def test_where_nothing_is_grey_and_four_sided_no_card_is_offered(tmp_path):
    picture = Image.new("RGB", (400, 300), (150, 60, 50))
    ImageDraw.Draw(picture).rectangle((100, 100, 200, 180), (40, 90, 160))
    picture.save(tmp_path / "t.png")
    assert find_neutral(tmp_path / "t.png") is None
