"""Outlines found in rendered photographs, against the outlines they were rendered from."""

from pathlib import Path

import numpy as np
import pytest
import shapely
from PIL import Image
from shapely import Polygon

from bindery_stock.errors import PhotoError, ShapeError
from bindery_stock.shape import PhotoScale
from bindery_stock.shape.outline_photo import outline_from_photo, read_outline
from tests.shape.photographs import photograph, scrap, true_in_scale

# Linear light, red green blue: the ground and the cloth on it.
GOOD = [
    ((0.62, 0.60, 0.56), (0.22, 0.03, 0.03)),
    ((0.70, 0.70, 0.68), (0.05, 0.08, 0.05)),
    ((0.60, 0.60, 0.60), (0.03, 0.04, 0.12)),
    ((0.03, 0.03, 0.03), (0.30, 0.20, 0.10)),
    ((0.65, 0.62, 0.60), (0.16, 0.08, 0.03)),
]
POOR = [
    ((0.20, 0.19, 0.18), (0.16, 0.14, 0.13)),
    ((0.25, 0.25, 0.25), (0.20, 0.20, 0.22)),
    ((0.10, 0.10, 0.09), (0.12, 0.11, 0.085)),
    ((0.15, 0.12, 0.10), (0.19, 0.13, 0.10)),
    ((0.30, 0.29, 0.27), (0.26, 0.24, 0.20)),
]


@pytest.mark.parametrize("seed", range(10))
def test_at_good_contrast_the_area_is_right_to_one_part_in_a_hundred(seed: int) -> None:
    shape = scrap(seed)
    ground, cloth = GOOD[seed % 5]
    photo, scale = photograph(shape, seed, ground=ground, cloth=cloth)
    truth = true_in_scale(shape)
    raw = outline_from_photo(photo, scale, inward=0.0)
    assert raw.area == pytest.approx(truth.area, rel=0.01)
    assert len(raw.holes) == 1
    drawn = read_outline(photo, scale)
    assert drawn.inward < 0.5  # the edge is clean: only what was seen of fray is left out
    corners = shapely.points(shapely.get_coordinates(drawn.outline.polygon))
    assert float(shapely.distance(truth, corners).max()) <= 0.2


@pytest.mark.parametrize("seed", range(10))
def test_at_poor_contrast_the_area_is_right_to_three_parts_in_a_hundred(seed: int) -> None:
    shape = scrap(seed)
    ground, cloth = POOR[seed % 5]
    photo, scale = photograph(shape, seed, ground=ground, cloth=cloth)
    truth = true_in_scale(shape)
    reading = read_outline(photo, scale, inward=0.0)
    assert reading.outline.area == pytest.approx(truth.area, rel=0.03)
    assert "poor" in reading.words()


def test_at_poor_contrast_more_is_taken_off_for_fray() -> None:
    photo, scale = photograph(scrap(2), 2, ground=POOR[2][0], cloth=POOR[2][1])
    assert read_outline(photo, scale).inward > 1.5


def test_a_photograph_file_is_read_upright(tmp_path: Path) -> None:
    shape = scrap(3)
    photo, scale = photograph(shape, 3, ground=GOOD[0][0], cloth=GOOD[0][1])
    path = tmp_path / "scrap.jpg"
    exif = Image.Exif()
    exif[0x0112] = 6  # the camera was held upright: turn clockwise to see it
    Image.fromarray(np.rot90(photo)).save(path, quality=92, exif=exif)
    found = outline_from_photo(path, scale, inward=0.0)
    overlap = found.polygon.intersection(true_in_scale(shape)).area
    assert overlap == pytest.approx(found.area, rel=0.01)


def test_a_large_photograph_gives_the_same_outline_as_a_small_one() -> None:
    photo, scale = photograph(scrap(4), 4, ground=GOOD[1][0], cloth=GOOD[1][1])
    large = np.repeat(np.repeat(photo, 2, axis=0), 2, axis=1)
    half = PhotoScale.from_rectangle(
        [(2 * x, 2 * y) for x, y in scale.to_px([(0, 180), (240, 180), (240, 0), (0, 0)])], 240, 180
    )
    small, same = (
        outline_from_photo(*pair, inward=0.0) for pair in ((photo, scale), (large, half))
    )
    assert same.polygon.symmetric_difference(small.polygon).area < 0.004 * small.area


def two_scraps() -> tuple[np.ndarray, PhotoScale]:
    photo = np.full((600, 800, 3), 200, dtype=np.uint8)
    photo[100:500, 80:380] = (120, 20, 20)
    photo[200:400, 500:700] = (120, 20, 20)
    return photo, PhotoScale.from_length((0, 0), (100, 0), 50)


def test_the_largest_scrap_is_taken_unless_another_is_pointed_at() -> None:
    photo, scale = two_scraps()
    assert outline_from_photo(photo, scale, inward=0).area == pytest.approx(200 * 150, rel=0.01)
    pointed = outline_from_photo(photo, scale, inward=0, at=(600, 300))
    assert pointed.area == pytest.approx(100 * 100, rel=0.01)
    assert pointed.bounds == pytest.approx((250, -200, 350, -100), abs=0.3)
    with pytest.raises(ShapeError, match="only ground"):
        outline_from_photo(photo, scale, at=(440, 300))


def test_the_outline_is_drawn_inward_all_round() -> None:
    photo, scale = two_scraps()
    raw = outline_from_photo(photo, scale, inward=0)
    drawn = outline_from_photo(photo, scale, inward=3)
    assert drawn.polygon.distance(raw.polygon.boundary) == pytest.approx(3, abs=0.15)


def test_a_scrap_that_runs_out_of_the_photograph_is_refused() -> None:
    photo = np.full((600, 800, 3), 200, dtype=np.uint8)
    photo[200:400, 300:] = (20, 40, 120)
    with pytest.raises(ShapeError, match="runs out"):
        outline_from_photo(photo, PhotoScale.from_length((0, 0), (100, 0), 50))


def test_a_bare_ground_shows_no_scrap() -> None:
    random = np.random.default_rng(1)
    photo = np.clip(random.normal(180, 3, (400, 500, 3)), 0, 255).astype(np.uint8)
    with pytest.raises(ShapeError, match="plain sheet"):
        outline_from_photo(photo, PhotoScale.from_length((0, 0), (100, 0), 50))


def test_what_is_no_photograph_is_refused_by_name(tmp_path: Path) -> None:
    path = tmp_path / "letter.jpg"
    path.write_text("Dear binder")
    with pytest.raises(PhotoError, match=r"letter\.jpg"):
        outline_from_photo(path, PhotoScale.from_length((0, 0), (100, 0), 50))


def test_an_inward_allowance_wider_than_the_scrap_is_refused() -> None:
    photo, scale = two_scraps()
    with pytest.raises(ShapeError, match="Nothing is left"):
        outline_from_photo(photo, scale, inward=90)


def test_the_rendered_scraps_are_simple_shapes() -> None:
    assert all(isinstance(scrap(seed), Polygon) and scrap(seed).is_valid for seed in range(10))


def test_a_picture_with_far_too_many_pixels_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "wall.png"
    Image.new("1", (20_000, 20_000)).save(path)
    with pytest.raises(PhotoError, match="too many pixels"):
        outline_from_photo(path, PhotoScale.from_length((0, 0), (100, 0), 50))


def test_a_large_file_gives_the_same_outline_as_its_pixels(tmp_path: Path) -> None:
    photo, scale = two_scraps()
    path = tmp_path / "scraps.png"
    Image.fromarray(np.repeat(np.repeat(photo, 5, axis=0), 5, axis=1)).save(path)
    fifth = PhotoScale.from_length((0, 0), (500, 0), 50)
    large, small = (outline_from_photo(*p, inward=0) for p in ((path, fifth), (photo, scale)))
    assert large.polygon.symmetric_difference(small.polygon).area < 0.01 * small.area


def test_tooling_in_gold_is_no_hole_and_a_ruler_beside_is_no_scrap() -> None:
    # A brown cloth on a dark ground beside a white ruler, with a gilt bar and a true hole.
    random = np.random.default_rng(3)
    photo = random.normal(70, 2, (600, 800, 3))
    photo[100:420, 100:600] = random.normal((92, 66, 54), 2, (320, 500, 3))
    photo[200:230, 150:250] = (205, 175, 90)
    photo[300:340, 300:350] = random.normal(70, 2, (40, 50, 3))
    photo[480:540, 100:600] = 215
    pixels = np.clip(photo, 0, 255).astype(np.uint8)
    found = outline_from_photo(pixels, PhotoScale.from_length((0, 0), (100, 0), 50), inward=0)
    assert found.bounds == pytest.approx((50, -210, 300, -50), abs=0.4)
    assert len(found.holes) == 1
    assert found.area == pytest.approx(250 * 160 - 25 * 20, rel=0.01)
