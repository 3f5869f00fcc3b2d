"""The renderer itself: its camera against the scale, its photographs against their truth."""

import numpy as np
import pytest
import shapely

from bindery_stock.shape.unseen_tilt import TILT_BY_HAND, worst_by_tilt
from tests.rendered.camera import SHEET, Camera
from tests.rendered.kinds import HARD, plain
from tests.rendered.scene import shoot


@pytest.mark.parametrize("tilt", [0.0, 20.0])
def test_the_scale_of_a_rendered_photograph_gives_back_the_bench(tilt: float) -> None:
    camera = Camera(tilt=tilt, swing=-6.0)
    bench = np.array([(-70.0, 20.0), (35.0, -41.0), (90.0, 60.0)])
    mm = camera.scale().to_mm(camera.seen(bench))
    assert mm == pytest.approx(bench + np.array(SHEET) / 2, abs=1e-6)
    x, y = camera.bench()
    row, column = 300, 500
    spot = camera.seen([(x[row, column], y[row, column])])
    assert spot[0] == pytest.approx((column + 0.5, row + 0.5), abs=1e-6)


def test_the_dark_pixels_of_a_plain_photograph_cover_the_true_cloth() -> None:
    shot = shoot(plain(3))  # black on white
    rows, columns = np.nonzero(shot.pixels[:, :, 1] < 120)
    mm = shot.scale.to_mm(np.column_stack((columns, rows)) + 0.5)
    inside = shapely.contains_xy(shot.truths[0].buffer(0.6), *mm.T)
    assert inside.mean() > 0.97  # a shadow as dark as this is left over
    share = len(rows) * (350 / 1300) ** 2 / shot.truths[0].area
    assert share == pytest.approx(1.0, abs=0.08)


def test_what_lifts_is_seen_further_out_and_every_hard_kind_says_what_is_the_matter() -> None:
    camera = Camera()
    flat, raised = camera.seen([(100.0, 0.0)]), camera.seen([(100.0, 0.0)], 10.0)
    # similar triangles: 100 mm seen from 350 mm, 10 mm nearer
    assert raised[0, 0] - 480 == pytest.approx((flat[0, 0] - 480) * 350 / 340)
    plain_scene = plain(1)
    for kind in HARD.values():
        assert kind(1) != plain_scene


@pytest.mark.parametrize("ruler", [20.0, 50.0, 100.0])
def test_no_ruler_is_worse_than_what_is_said_of_the_tilt_that_it_does_not_show(
    ruler: float,
) -> None:
    camera = Camera(tilt=TILT_BY_HAND)
    ends = camera.seen([(0.0, -100.0), (0.0, ruler - 100.0)])  # up the slope, at the far side
    sides = camera.seen([(-100.0, 100.0), (100.0, 100.0)])
    pixels, across = (float(np.hypot(*(b - a))) for a, b in (ends, sides))
    too_long = across / pixels * ruler - 200.0
    assert 0.6 * worst_by_tilt() < too_long <= worst_by_tilt()
