"""A found outline told among those of the shelf: against shapes turned and redrawn on purpose."""

import numpy as np
import pytest
import shapely
from shapely import Polygon, affinity

from bindery_stock.shape import Outline
from bindery_stock.shape.told_outline import likeness, most_off, told_outline
from tests.rendered.line_up import ragged


def kept(seed: int, width: float = 80.0, height: float = 62.0) -> Outline:
    return Outline.from_polygon(ragged(seed, width, height))


SHELF = {f"C-{seed:04}": kept(seed) for seed in range(1, 25)}


def found(outline: Outline, turn: float, *, over: bool = False, longer: float = 1.0) -> Outline:
    """The same scrap as another photograph shows it: turned, moved, its edge redrawn by a hand."""
    body = Polygon(outline.exterior)
    if over:
        body = affinity.scale(body, -1.0, 1.0)
    body = affinity.translate(affinity.rotate(body, turn), 140.0, -60.0)
    body = affinity.scale(body, longer, 1.0)
    ring = np.asarray(body.segmentize(2.0).exterior.coords[:-1])
    shaken = ring + np.random.default_rng(int(turn)).normal(0.0, 0.15, ring.shape)
    return Outline.from_polygon(shapely.buffer(Polygon(shaken), -0.2))


def off_by(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)


@pytest.mark.parametrize("turn", [0.0, 37.0, 90.0, 181.0, 303.0])
def test_a_scrap_is_told_by_its_outline_at_any_turn(turn: float) -> None:
    told = told_outline(found(SHELF["C-0007"], turn), SHELF)
    assert told is not None
    assert told.code == "C-0007"
    assert off_by(told.likeness.turn, turn) < 1.0
    assert told.likeness.off < 0.4
    assert not told.likeness.mirrored


def test_a_scrap_is_told_from_every_other_of_the_shelf() -> None:
    for number, (code, outline) in enumerate(list(SHELF.items())[::4]):
        told = told_outline(found(outline, 29.0 * number), SHELF)
        assert told is not None, code
        assert told.code == code


def test_a_ruler_read_slightly_aslant_does_not_make_it_another_scrap() -> None:
    """One side longer by 2 %: the tilt that a ruler alone cannot see."""
    told = told_outline(found(SHELF["C-0004"], 118.0, longer=1.02), SHELF)
    assert told is not None
    assert told.code == "C-0004"


def test_a_scrap_lying_face_down_is_told_and_said_to_lie_so() -> None:
    told = told_outline(found(SHELF["C-0009"], 64.0, over=True), SHELF)
    assert told is not None
    assert (told.code, told.likeness.mirrored) == ("C-0009", True)


def test_an_outline_that_is_its_own_mirror_image_is_not_said_to_lie_face_down() -> None:
    square = Outline(((0, 0), (70, 0), (70, 55), (0, 55)))
    assert not likeness(found(square, 20.0), square).mirrored


def test_a_scrap_that_is_not_on_the_shelf_is_not_told() -> None:
    for seed in range(60, 66):
        assert told_outline(found(kept(seed), 10.0 * seed), SHELF) is None


def test_of_two_alike_none_is_told() -> None:
    alike = {
        "C-0001": Outline(((0, 0), (70, 0), (70, 55), (0, 55))),
        "C-0002": Outline(((0, 0), (70.5, 0), (70.5, 55), (0, 54.6))),
    }
    assert told_outline(found(alike["C-0001"], 45.0), alike) is None


def test_what_was_laid_out_stands_before_what_lies_in_its_tin() -> None:
    alike = {
        "C-0001": Outline(((0, 0), (70, 0), (70, 55), (0, 55))),
        "C-0002": Outline(((0, 0), (70.5, 0), (70.5, 55), (0, 54.6))),
    }
    told = told_outline(found(alike["C-0001"], 45.0), alike, first={"C-0001"})
    assert told is not None
    assert told.code == "C-0001"
    assert told_outline(found(alike["C-0001"], 45.0), alike, first=set(alike)) is None


def test_a_scrap_cut_since_it_was_shelved_is_not_told() -> None:
    whole = Polygon(SHELF["C-0003"].exterior)
    left, low, right, high = whole.bounds
    rest = max(
        shapely.get_parts(whole.intersection(shapely.box(left, low, right - 12.0, high))),
        key=shapely.area,
    )
    assert told_outline(found(Outline.from_polygon(rest), 15.0), SHELF) is None


def test_the_label_on_a_cloth_looks_like_a_hole_and_counts_for_nothing() -> None:
    body = Polygon(found(SHELF["C-0011"], 200.0).exterior)
    with_label = body.difference(shapely.box(-12, -8, 12, 8).buffer(0)).difference(
        body.representative_point().buffer(9.0)
    )
    assert isinstance(with_label, Polygon)
    told = told_outline(Outline.from_polygon(with_label), SHELF)
    assert told is not None
    assert told.code == "C-0011"


def test_the_limit_grows_with_the_scrap() -> None:
    assert most_off(kept(1, 40, 30)) < most_off(kept(1, 160, 120)) < 3.0
