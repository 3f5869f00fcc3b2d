"""A piece's colours square by square, on a drawn photograph whose light is known."""

import numpy as np
import pytest
from PIL import Image

from bindery_stock.colour import ColourMap, colour_map, delta_e00
from bindery_stock.colour.decode import open_negative
from bindery_stock.colour.space import lab_to_xyz, srgb_codes
from bindery_stock.errors import ColourError

SOUND, FADED = (33.0, 33.0, 17.0), (45.0, 25.0, 17.0)
TO_MM = (0.25, 0.0, -10.0, 0.0, -0.25, 70.0, 0.0, 0.0, 1.0)
"""Four pixels a millimetre; the piece's corner lies 40 pixels in, y up."""
OUTLINE = ((0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0))
HOLE = ((24.0, 24.0), (36.0, 24.0), (36.0, 36.0), (24.0, 36.0))
PATCH = ((50.0, 60.0), (90.0, 60.0), (90.0, 100.0), (50.0, 100.0))


@pytest.fixture
def photo(tmp_path):
    """Sound cloth on the left, faded from 45 mm on; all on black."""
    codes = np.zeros((320, 320, 3), np.uint8)
    codes[40:280, 40:280] = srgb_codes([SOUND])[0]
    codes[40:280, 220:280] = srgb_codes([FADED])[0]
    path = tmp_path / "cloth.png"
    Image.fromarray(codes).save(path)
    return open_negative(path)


def test_each_square_has_the_colour_of_the_cloth_there_and_none_where_there_is_no_cloth(photo):
    seen = colour_map(photo, TO_MM, OUTLINE, (HOLE,), PATCH, SOUND)
    labs = seen.lab()
    assert labs.shape == (20, 20, 3)
    assert float(delta_e00(SOUND, labs[2, 3])) < 0.1
    assert float(delta_e00(FADED, labs[2, 17])) < 0.6  # codes are whole numbers
    assert np.isnan(labs[10, 10]).all()
    assert np.isfinite(labs[..., 0]).sum() == 400 - 16


def test_the_squares_are_relative_to_the_reading_that_was_kept(photo):
    """Half the light in every channel, as by a grey card: exact for a gain."""
    half = lab_to_xyz(SOUND) / 2
    lab = (22.8, 27.0, 13.9)
    seen = colour_map(photo, TO_MM, OUTLINE, (), PATCH, lab)
    assert float(delta_e00(lab, seen.lab()[2, 3])) < 0.05
    assert seen.xyz[2, 3, 1] == pytest.approx(half[1], rel=0.1)


def test_boxes_and_shapes_give_the_mean_light_of_the_squares_they_touch():
    light = np.arange(16, dtype=np.float32).reshape(4, 4, 1) * np.ones(3, np.float32)
    light[3, 3] = np.nan
    seen = ColourMap(2.0, (10.0, 20.0), light)
    assert seen.mean_in([(10, 20, 12, 22)]) == pytest.approx([0.0] * 3)
    assert seen.mean_in([(11, 20, 13, 22)]) == pytest.approx([0.5] * 3)
    assert seen.mean_in([(16, 24, 18, 28)]) == pytest.approx([11.0] * 3)
    assert np.isnan(seen.mean_in([(16, 26, 18, 28)])).all()
    cells, shares = seen.cells_in([((11, 20), (13, 20), (13, 22), (11, 22))])
    assert cells[:, 1].tolist() == [0.0, 1.0]
    assert shares.tolist() == [0.5, 0.5]


def test_a_piece_outside_its_photograph_has_no_map(photo):
    beside = tuple((x + 500.0, y) for x, y in OUTLINE)
    with pytest.raises(ColourError, match="does not lie in its photograph"):
        colour_map(photo, TO_MM, beside, (), PATCH, SOUND)
