"""Outlines that doubt themselves, on rendered photographs whose truth is known."""

import numpy as np
import pytest
import shapely

from bindery_stock.errors import ShapeError
from bindery_stock.shape import EdgeSight, PhotoScale
from bindery_stock.shape.outline_photo import read_outline, read_outlines
from tests.rendered import kinds
from tests.rendered.scene import shoot


def outside(found: shapely.Polygon, truth: shapely.Polygon) -> float:
    """mm by which a found outline leaves the true cloth."""
    corners = shapely.points(shapely.get_coordinates(found.segmentize(0.5)))
    return float(shapely.distance(truth, corners).max())


@pytest.mark.parametrize("seed", [1, 5])
def test_a_plain_photograph_gives_a_good_outline_inside_the_cloth(seed: int) -> None:
    shot = shoot(kinds.plain(seed))
    found, truth = read_outline(shot.pixels, shot.scale), shot.truths[0]
    assert found.good
    assert outside(found.outline.polygon, truth) <= 0.3
    assert found.outline.area == pytest.approx(truth.area, rel=0.01)
    assert abs(found.outline.area - truth.area) <= 0.3 * truth.length


@pytest.mark.parametrize(
    ("kind", "said"),
    [("touching", "touches another scrap"), ("striped_like_ground", "Only stripes of it are seen")],
)
def test_what_is_not_one_plain_scrap_is_never_called_good(kind: str, said: str) -> None:
    shot = shoot(kinds.HARD[kind](1))
    found = read_outline(shot.pixels, shot.scale)
    assert not found.good
    assert said in found.words()


def test_a_lifted_edge_is_told_by_its_shadow_and_only_there() -> None:
    shot = shoot(kinds.lifted(1))
    found = read_outline(shot.pixels, shot.scale)
    assert not found.good
    assert EdgeSight.SHADOW in {stretch.sight for stretch in found.doubtful}
    assert EdgeSight.CLEAR in {stretch.sight for stretch in found.stretches}


def test_a_hole_of_a_nail_is_kept() -> None:
    shot = shoot(kinds.small_hole(1))
    assert len(read_outline(shot.pixels, shot.scale).outline.holes) == 1


def test_a_mirrored_lamp_is_named_where_the_scrap_cannot_be_told() -> None:
    shot = shoot(kinds.bright_glare(1))
    with pytest.raises(ShapeError, match="lamp is mirrored"):
        read_outline(shot.pixels, shot.scale)


def test_all_scraps_of_a_photograph_come_from_left_to_right() -> None:
    shot = shoot(kinds.apart(2))
    found = read_outlines(shot.pixels, shot.scale)
    truths = sorted(shot.truths, key=lambda truth: truth.bounds[0])
    assert len(found) == 3
    for reading, truth in zip(found, truths, strict=True):
        assert outside(reading.outline.polygon, truth) <= 0.3
        assert reading.outline.area == pytest.approx(truth.area, rel=0.02)


def test_a_ruler_alone_says_what_the_unseen_tilt_may_do_and_is_never_good() -> None:
    photo = np.full((300, 400, 3), 200, dtype=np.uint8)
    photo[60:240, 80:320] = (120, 20, 20)
    found = read_outline(photo, PhotoScale.from_length((0, 0), (100, 0), 50))
    assert not found.good
    assert "up to 84 mm too long" in found.words()
