"""Scraps that touch, and cloth in stripes: what is parted, what is offered, and what is only said.

Small photographs made here: half a millimetre to a pixel, a weave, noise, and a lens's smear.
"""

import numpy as np
import pytest
import shapely
from scipy import ndimage

from bindery_stock.errors import ShapeError
from bindery_stock.shape import EdgeSight, PhotoScale
from bindery_stock.shape.outline_photo import read_outline, read_outlines
from bindery_stock.shape.seam import parted
from tests.rendered import kinds
from tests.rendered.scene import shoot

PAPER, RED, TAN = (222, 220, 215), (120, 25, 28), (160, 134, 100)
Box = tuple[int, int, int, int]
"""Left, top, right, bottom, in pixels."""


def photo_of(
    things: list[tuple[Box, tuple[int, int, int]]], size: tuple[int, int] = (400, 300)
) -> np.ndarray:
    """Boxes of colour on paper."""
    random = np.random.default_rng(11)
    light = np.full((size[1], size[0], 3), PAPER, dtype=np.float64)
    for (left, top, right, bottom), colour in things:
        light[top:bottom, left:right] = colour
    mixed = ndimage.gaussian_filter((light / 255) ** 2.2, (0.8, 0.8, 0))  # as light mixes
    coded = 255 * mixed ** (1 / 2.2) + random.normal(0, 1.2, light.shape)
    return np.clip(coded, 0, 255).astype(np.uint8)


def half_mm(size: tuple[int, int] = (400, 300)) -> PhotoScale:
    """Half a millimetre to a pixel, seen straight from above."""
    w, h = size
    return PhotoScale.from_rectangle([(0, 0), (w, 0), (w, h), (0, h)], w / 2, h / 2)


UNEVEN = shapely.union_all([shapely.box(20, 20, 120, 150), shapely.box(120, 40, 230, 140)])


def tones(lines: list[int], height: float = -0.2) -> np.ndarray:
    """Logarithms of light over ``UNEVEN``, with upright lines across it."""
    random = np.random.default_rng(3)
    over = random.normal(-1.0, 0.03, (180, 250, 3))
    for at in lines:
        over[:, at - 1 : at + 1] += height
    return over


@pytest.mark.parametrize("height", [-0.2, 0.2])
def test_two_scraps_are_parted_where_a_line_is_seen_between_two_inward_corners(
    height: float,
) -> None:
    parts = parted(UNEVEN, tones([120], height), 0.3)
    assert [part.area for part in parts] == pytest.approx([100 * 130, 110 * 100], rel=0.02)


def test_two_cloths_are_parted_at_the_step_between_them() -> None:
    over = tones([])
    over[:, 120:] += (0.3, 0.1, 0.0)
    assert len(parted(UNEVEN, over, 0.3)) == 2


def test_a_scrap_that_only_has_the_shape_of_two_is_left_whole() -> None:
    assert parted(UNEVEN, tones([]), 0.3) == (UNEVEN,)


def test_a_stripe_that_runs_between_two_corners_is_no_seam() -> None:
    assert parted(UNEVEN, tones(list(range(30, 225, 10))), 0.3) == (UNEVEN,)


def test_six_things_of_which_one_is_two_scraps_touching_are_seven_outlines() -> None:
    boxes = [(20, 20, 110, 120), (150, 30, 230, 110), (280, 20, 370, 130), (20, 170, 100, 270)]
    boxes += [(140, 180, 210, 270), (240, 160, 310, 280), (311, 180, 380, 260)]
    photo = photo_of([(box, RED) for box in boxes])
    found = read_outlines(photo, half_mm())
    assert len(found) == 7
    truths = [
        shapely.box(left / 2, 150 - bottom / 2, right / 2, 150 - top / 2)
        for left, top, right, bottom in boxes
    ]
    touching = 0
    for reading in found:
        outline = reading.outline.polygon
        truth = max(truths, key=lambda each: each.intersection(outline).area)
        assert outline.area == pytest.approx(truth.area, rel=0.03)
        assert outline.difference(truth.buffer(0.3)).is_empty
        beside = [s for s in reading.doubtful if s.sight is EdgeSight.CLOSE]
        touching += bool(beside)
        assert reading.good == (not beside) or "small" in reading.words()
        if beside:
            assert "drawn to the seam" in reading.words()
            assert all(abs(x - 155.25) < 2 for s in beside for x, _ in s.points)
    assert touching == 2


def test_where_no_seam_is_seen_one_outline_is_given_and_said_to_be_perhaps_two() -> None:
    photo = photo_of([((60, 60, 200, 240), RED), ((200, 90, 340, 210), RED)])
    (found,) = read_outlines(photo, half_mm())
    assert not found.good
    assert not found.whole
    assert "Two scraps may be touching" in found.words()


STRIPES = [((left, 40, left + 20, 260), RED) for left in range(50, 330, 40)]


def test_cloth_striped_like_its_ground_is_offered_whole_and_in_doubt_between_the_stripes() -> None:
    photo = photo_of(STRIPES)
    found = read_outline(photo, half_mm())
    # From the first stripe to the last; one more like the ground beyond it cannot be seen.
    assert found.outline.area == pytest.approx(130 * 110, rel=0.03)
    assert not found.good
    assert not found.whole
    assert "the whole extent is offered" in found.words()
    unclear = sum(s.length for s in found.doubtful if s.sight is EdgeSight.UNCLEAR)
    assert unclear == pytest.approx(2 * 60, rel=0.2)  # six gaps of 10 mm, above and below
    assert len(read_outlines(photo, half_mm())) == 1
    one = read_outline(photo, half_mm(), at=(140, 150))  # if they are strips after all
    assert one.outline.area == pytest.approx(10 * 110, rel=0.06)


def test_three_scraps_beside_each_other_are_no_stripes() -> None:
    boxes = [(30, 60, 120, 240), (150, 60, 240, 240), (270, 60, 360, 240)]
    found = read_outlines(photo_of([(box, RED) for box in boxes]), half_mm())
    assert [r.outline.area for r in found] == pytest.approx([45 * 90] * 3, rel=0.02)


def test_patterned_cloth_is_good_where_each_of_its_colours_is_unlike_the_ground() -> None:
    body: Box = (60, 40, 340, 260)
    stripes = [((left, 40, left + 14, 260), TAN) for left in range(70, 330, 28)]
    found = read_outline(photo_of([(body, RED), *stripes]), half_mm())
    assert found.outline.area == pytest.approx(140 * 110, rel=0.01)
    assert found.good, found.words()


def test_patterned_cloth_much_like_the_ground_in_part_is_not_called_good() -> None:
    body: Box = (60, 40, 340, 260)
    stripes = [((left, 40, left + 14, 260), (196, 190, 184)) for left in range(70, 330, 28)]
    found = read_outline(photo_of([(body, RED), *stripes]), half_mm())
    assert not found.good


def test_a_ground_as_strongly_grained_as_the_scrap_stands_out_is_named_as_the_reason() -> None:
    shot = shoot(kinds.wooden(9))  # tan cloth on wood of the same tan
    with pytest.raises(ShapeError, match="ground is patterned"):
        read_outline(shot.pixels, shot.scale)
