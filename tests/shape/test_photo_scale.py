"""From pixels to millimetres, checked against a pinhole camera in closed form."""

from itertools import pairwise
from math import cos, radians, sin

import numpy as np
import numpy.typing as npt
import pytest

from bindery_stock.errors import ShapeError
from bindery_stock.shape import PhotoScale

FOCAL, DISTANCE, CENTRE = 3000.0, 600.0, (2000.0, 1500.0)


def seen(points: object, tilt: float) -> npt.NDArray[np.float64]:
    """A pinhole camera over the plane z = 0, tilted about the x axis; closed form.

    Source: the perspective equations x' = f X / Z, as in Hartley and Zisserman 2004, ch. 6.
    """
    x, y = np.asarray(points, dtype=float).T
    t = radians(tilt)
    depth = DISTANCE + y * sin(t)
    return np.stack((CENTRE[0] + FOCAL * x / depth, CENTRE[1] - FOCAL * y * cos(t) / depth), axis=1)


CORNERS = [(-100.0, 150.0), (100.0, 150.0), (100.0, -150.0), (-100.0, -150.0)]


@pytest.mark.parametrize("tilt", [0.0, 8.0, 25.0])
@pytest.mark.parametrize("order", [[0, 1, 2, 3], [3, 2, 1, 0], [2, 3, 0, 1]])
def test_four_corners_recover_the_plane_of_a_tilted_photograph(
    tilt: float, order: list[int]
) -> None:
    scale = PhotoScale.from_rectangle(seen(CORNERS, tilt)[order].tolist(), 200, 300)
    marks = np.array([(-70.0, 20.0), (35.0, 120.0), (90.0, -140.0)])
    got = scale.to_mm(seen(marks, tilt))
    assert np.hypot(*(got[0] - got[1])) == pytest.approx(np.hypot(*(marks[0] - marks[1])), abs=1e-6)
    assert np.cross([*(got[1] - got[0]), 0], [*(got[2] - got[0]), 0])[2] == pytest.approx(
        np.cross([*(marks[1] - marks[0]), 0], [*(marks[2] - marks[0]), 0])[2], abs=1e-4
    )
    assert scale.to_px(got) == pytest.approx(seen(marks, tilt), abs=1e-6)
    assert scale.tilt == pytest.approx(tilt, abs=2.5)


def test_a_grid_recovers_the_same_plane_and_tells_the_lens_error() -> None:
    grid = [[(x, y) for x in range(-100, 101, 50)] for y in range(100, -101, -50)]
    rows = [seen(row, 10).tolist() for row in grid]
    scale = PhotoScale.from_grid(rows, 50)
    assert scale.to_mm(seen([(10, 20)], 10))[0] == pytest.approx((110, 120), abs=1e-6)
    bent = [[(x + 4 * ((x - 2000) / 500) ** 3, y) for x, y in row] for row in rows]
    worse = PhotoScale.from_grid(bent, 50)
    assert worse.uncertainty > scale.uncertainty
    assert "lens error" in worse.words()


def test_a_known_length_gives_millimetres_and_owns_that_it_cannot_see_tilt() -> None:
    scale = PhotoScale.from_length((100, 100), (100, 1100), 200)
    assert scale.to_mm([(100, 100), (600, 100), (100, 50)]) == pytest.approx(
        np.array([(20, -20), (120, -20), (20, -10)])
    )
    assert scale.tilt is None
    assert scale.words() == "±3.1 mm over 200 mm, from a known length of 200 mm; tilt unseen"


def test_the_warp_arrow_becomes_up() -> None:
    scale = PhotoScale.from_length((0, 0), (100, 0), 50)
    turned = scale.turned((10, 10), (40, 50))
    tail, head = turned.to_mm([(10, 10), (40, 50)])
    assert head - tail == pytest.approx((0, 25))
    assert np.linalg.det(np.array(turned.matrix).reshape(3, 3)[:2, :2]) == pytest.approx(-0.25)
    assert turned.settled([(10, 10), (40, 50)]).to_mm([(10, 10)])[0] == pytest.approx((0, 0))


def test_the_uncertainty_of_four_corners_shrinks_with_a_larger_rectangle() -> None:
    large = PhotoScale.from_rectangle(seen(CORNERS, 5).tolist(), 200, 300)
    small = PhotoScale.from_rectangle(
        seen([(-20, 20), (20, 20), (20, -20), (-20, -20)], 5).tolist(), 40, 40
    )
    assert large.uncertainty < small.uncertainty
    assert large.words().startswith("±0.")


def test_a_photograph_too_oblique_is_refused_with_advice() -> None:
    with pytest.raises(ShapeError, match="straight above"):
        PhotoScale.from_rectangle(seen(CORNERS, 50).tolist(), 200, 300)


@pytest.mark.parametrize(
    ("start", "end", "mm"),
    [((5, 5), (5, 5), 100), ((0, 0), (100, 0), 0), ((0, 0), (float("nan"), 0), 10)],
)
def test_a_scale_of_zero_is_refused(
    start: tuple[float, float], end: tuple[float, float], mm: float
) -> None:
    with pytest.raises(ShapeError):
        PhotoScale.from_length(start, end, mm)


def test_corners_out_of_order_are_refused() -> None:
    corners = seen(CORNERS, 0).tolist()
    with pytest.raises(ShapeError, match="one after another"):
        PhotoScale.from_rectangle([corners[i] for i in (0, 2, 1, 3)], 200, 300)


def with_middles(corners: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The corners with the middle of each side between them."""
    ring = [*corners, corners[0]]
    middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairwise(ring)]
    return [point for pair in zip(corners, middles, strict=True) for point in pair]


def bent(points: np.ndarray, strength: float) -> np.ndarray:
    """Points moved outward by a lens of that first radial coefficient.

    The radial term of D. C. Brown, *Photogrammetric Engineering* 37, 1971, over the focal length.
    """
    out = (points - np.array(CENTRE)) / FOCAL
    return np.array(CENTRE) + FOCAL * out * (1.0 + strength * (out**2).sum(axis=1))[:, None]


def test_the_middles_of_the_sides_tell_the_lens_error_which_corners_alone_cannot() -> None:
    eight = seen(with_middles(CORNERS), 10)
    straight = PhotoScale.from_rectangle(eight.tolist(), 200, 300)
    assert straight.to_mm(seen([(10, 20)], 10))[0] == pytest.approx((110, 170), abs=1e-6)
    assert "lens error 0.0 mm" in straight.words()
    barrel = PhotoScale.from_rectangle(bent(eight, -0.4).tolist(), 200, 300)
    assert barrel.uncertainty > straight.uncertainty + 0.3
    assert "lens error 0.0 mm" not in barrel.words()
    four = PhotoScale.from_rectangle(bent(eight, -0.4)[0::2].tolist(), 200, 300)
    assert "lens error unseen" in four.words()


def test_four_crossings_of_a_grid_own_that_they_cannot_see_the_lens_error() -> None:
    four = [[(100, 100), (500, 100)], [(100, 500), (500, 500)]]
    assert "lens error unseen" in PhotoScale.from_grid(four, 100).words()


def test_eight_points_that_begin_with_a_middle_are_refused() -> None:
    eight = seen(with_middles(CORNERS), 0).tolist()
    with pytest.raises(ShapeError, match="Begin with a corner"):
        PhotoScale.from_rectangle([*eight[1:], eight[0]], 200, 300)
    with pytest.raises(ShapeError, match="or eight points"):
        PhotoScale.from_rectangle(eight[:5], 200, 300)
