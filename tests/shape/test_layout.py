"""Several parts out of one piece, against published instances whose best is known."""

from itertools import combinations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from bindery_stock.errors import ShapeError
from bindery_stock.shape import (
    Flaw,
    FlawKind,
    Outline,
    Placement,
    Sight,
    Zone,
    cut_length,
    how_many,
    is_sheet,
    place_all,
    sheet,
)
from bindery_stock.shape.layout import lay_out
from bindery_stock.shape.rectangle_wanted import RectangleWanted
from tests.shape.scraps import frayed

# Z. Moroń, "O rozkładach prostokątów na kwadraty", Przegląd Matematyczno-Fizyczny 3, 1925:
# a rectangle 33 × 32 made of nine different squares, no waste (sizes from memory; areas add up).
MORON = (33, 32), (18, 15, 14, 10, 9, 8, 7, 4, 1)
# A. J. W. Duijvestijn, "Simple perfect squared square of lowest order", Journal of Combinatorial
# Theory B 25, 1978: 112 × 112 of twenty-one different squares (from memory; areas add up).
DUIJVESTIJN = (
    (112, 112),
    (50, 42, 37, 35, 33, 29, 27, 25, 24, 19, 18, 17, 16, 15, 11, 9, 8, 7, 6, 4, 2),
)


def lain(found: list[Placement | None]) -> list[Placement]:
    return [placement for placement in found if placement is not None]


def assert_apart(found: list[Placement | None], outline: Outline, gap: float = 0.0) -> None:
    placed = lain(found)
    for placement in placed:
        assert placement.polygon.difference(outline.polygon).area < 1e-6
    for one, other in combinations(placed, 2):
        assert one.polygon.intersection(other.polygon).area < 1e-6
        assert one.polygon.distance(other.polygon) >= gap - 1e-6


@pytest.mark.parametrize("instance", [MORON, DUIJVESTIJN])
def test_a_squared_rectangle_is_laid_without_waste(
    instance: tuple[tuple[int, int], tuple[int, ...]],
) -> None:
    (width, height), sides = instance
    assert sum(side**2 for side in sides) == width * height
    found = place_all(sheet(width, height), [(s, s) for s in sides])
    assert all(placement is not None for placement in found)
    assert_apart(found, sheet(width, height))


def test_a_squared_rectangle_cannot_be_cut_on_board_shears() -> None:
    # No cut runs through it from edge to edge, or one of its parts would be a squared rectangle
    # of lower order than nine (order nine is the least: Reichert and Töpken, 1940; from memory).
    (width, height), sides = MORON
    found = place_all(sheet(width, height), [(s, s) for s in sides], guillotine=True)
    assert len(lain(found)) < len(sides)


def separable(boxes: list[tuple[float, float, float, float]]) -> bool:
    """Whether boxes can be parted by cuts from edge to edge, each time in two."""
    if len(boxes) <= 1:
        return True
    for low, high in ((0, 2), (1, 3)):
        for at in {b[high] for b in boxes}:
            before = [b for b in boxes if b[high] <= at + 1e-6]
            after = [b for b in boxes if b[low] >= at - 1e-6]
            if before and after and len(before) + len(after) == len(boxes):
                return separable(before) and separable(after)
    return False


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_board_shears_lay_what_was_made_by_cuts_from_edge_to_edge(seed: int) -> None:
    random = np.random.default_rng(seed)
    parts = [(200.0, 120.0)]
    while len(parts) < 5:
        width, height = parts.pop(0)
        share = round(random.uniform(0.3, 0.7), 2)
        if random.random() < 0.5:
            parts += [(width * share, height), (width * (1 - share), height)]
        else:
            parts += [(width, height * share), (width, height * (1 - share))]
    found = place_all(sheet(200, 120), parts, guillotine=True)
    assert_apart(found, sheet(200, 120))
    placed = lain(found)
    assert separable([p.polygon.bounds for p in placed])
    assert sum(p.width * p.height for p in placed) >= 0.75 * 200 * 120


def test_the_knife_takes_its_width_between_parts() -> None:
    board = sheet(100, 50)
    assert all(place_all(board, [(50, 50), (50, 50)]))
    assert len(lain(place_all(board, [(50, 50), (50, 50)], gap=1))) == 1
    found = place_all(board, [(49.5, 50), (49.5, 50)], gap=1)
    assert_apart(found, board, gap=1)
    assert all(found)


def test_the_warp_is_obeyed_unless_a_quarter_turn_is_allowed() -> None:
    parts = [(60, 40), (60, 40)]
    assert len(lain(place_all(sheet(80, 60), parts))) == 1
    found = place_all(sheet(80, 60), parts, turns=(0, 90))
    assert all(found)
    assert_apart(found, sheet(80, 60))
    assert {p.turn for p in lain(found)} == {90.0}
    only = place_all(sheet(80, 60), parts, turns=(90,))
    assert all(only)


@settings(max_examples=8, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_parts_out_of_a_scrap_lie_apart_and_clear_of_the_stain(seed: int) -> None:
    outline = frayed(seed, 14)
    stain = Flaw(FlawKind.STAIN, ((-5, 40), (5, 40), (5, 50), (-5, 50)))
    parts = [(20, 50), (15, 30), (25, 25), (10, 60)]
    found = place_all(outline, parts, margin=1, gap=1, flaws=[stain])
    assert len(found) == len(parts)
    assert lain(found)
    assert_apart(found, outline, gap=1)
    for (width, height), placement in zip(parts, found, strict=True):
        if placement is not None:
            assert (placement.width, placement.height) == (width, height)
            assert placement.polygon.distance(outline.polygon.boundary) >= 1 - 1e-6
            assert placement.polygon.distance(stain.polygon) >= 1 - 1e-6


STAINED = Flaw(FlawKind.STAIN, ((5, 40), (95, 40), (95, 45), (5, 45)))
TORN = Flaw(FlawKind.HOLE, ((5, 40), (95, 40), (95, 45), (5, 45)))
REBACK = (
    Zone(Sight.SHOWN, 0, 0, 40, 15),
    Zone(Sight.HIDDEN, 0, 15, 40, 65),
    Zone(Sight.SHOWN, 0, 65, 40, 80),
)


def test_a_stain_across_the_piece_goes_under_the_old_cloth_of_two_strips() -> None:
    cloth = Outline(((0, 0), (100, 0), (100, 84), (99, 85), (0, 85)))
    strips = [(40, 80), (40, 80)]
    assert not lain(place_all(cloth, strips, flaws=[STAINED]))
    found = place_all(cloth, strips, flaws=[STAINED], zones=[REBACK, REBACK], gap=1)
    assert all(found)
    assert_apart(found, cloth, gap=1)
    assert len(lain(place_all(cloth, strips, flaws=[STAINED], zones=[REBACK, ()]))) == 1
    assert not lain(place_all(cloth, strips, flaws=[TORN], zones=[REBACK, REBACK]))


@settings(max_examples=8, deadline=None)
@given(seed=st.integers(0, 10_000), left=st.integers(-30, 0), low=st.integers(-30, 20))
def test_no_shown_zone_lies_on_the_stain_whatever_the_scrap(seed: int, left: int, low: int) -> None:
    outline = frayed(seed, 14)
    stain = Flaw(
        FlawKind.STAIN, ((left, low), (left + 30, low), (left + 30, low + 8), (left, low + 8))
    )
    zones = [(Zone(Sight.HIDDEN, 0, 0, 20, 30), Zone(Sight.SHOWN, 0, 30, 20, 50)), (), ()]
    found = place_all(outline, [(20, 50), (15, 30), (25, 25)], gap=1, flaws=[stain], zones=zones)
    assert_apart(found, outline, gap=1)
    strip, *others = found
    for other in lain(others):
        assert other.polygon.intersection(stain.polygon).area < 1e-9, "it may touch it"
    if strip is not None:
        below, above = np.array(strip.corners)[:2], np.array(strip.corners)[:1:-1]
        seam = below + (above - below) * 30 / 50
        shown = shapely.Polygon([*seam, *above[::-1]])
        assert shown.area == pytest.approx(20 * 20)
        assert not shapely.intersects(shown.buffer(-1e-9), stain.polygon)


def test_parts_of_different_turns_are_laid_together() -> None:
    parts = [RectangleWanted(60, 40, turns=(90,)), RectangleWanted(20, 60)]
    found = lay_out(sheet(60, 60), parts).placements
    assert [placement and placement.turn for placement in found] == [90, 0]
    assert_apart(found, sheet(60, 60))


def test_nothing_is_laid_on_what_is_taken() -> None:
    taken = shapely.box(0, 0, 50, 60)
    found = lay_out(
        sheet(100, 60), [RectangleWanted(50, 60), RectangleWanted(10, 10)], taken=[taken]
    ).placements
    assert len(lain(found)) == 1
    assert_apart(
        [*found, Placement(tuple(taken.exterior.coords)[:4], 0, False, 50, 60)], sheet(100, 60)
    )  # type: ignore[arg-type]


def test_every_part_has_its_own_list_of_zones_or_none_has() -> None:
    with pytest.raises(ShapeError, match="2 parts and 1 lists"):
        place_all(sheet(100, 60), [(10, 10), (20, 20)], zones=[REBACK])


def test_a_second_corner_is_tried_where_the_first_would_waste_the_leg() -> None:
    leg = Outline(((0, 0), (60, 0), (60, 100), (30, 100), (30, 40), (0, 40)))
    assert all(place_all(leg, [(30, 40), (30, 100)]))


def test_a_sheet_tells_how_many_spines_are_left_in_it() -> None:
    assert how_many(sheet(300, 480), 48, 235) == 12
    assert how_many(sheet(300, 480), 48, 235, margin=3, gap=1) == 12
    assert how_many(sheet(300, 471), 48, 235, gap=2) == 6
    # Two blocks: five upright beside each other and one lying above them.
    assert how_many(sheet(100, 120), 20, 100, turns=(0, 90)) == 6
    assert how_many(sheet(10, 10), 20, 100) == 0


def test_a_scrap_tells_at_least_how_many_are_left_in_it() -> None:
    leg = Outline(((0, 0), (60, 0), (60, 100), (30, 100), (30, 40), (0, 40)))
    assert how_many(leg, 30, 40) == 3
    assert how_many(leg, 31, 41) == 0


def test_a_roll_stays_one_piece_as_lengths_are_cut_off() -> None:
    roll = sheet(1000, 5000)
    left = cut_length(roll, 1200)
    assert left is not None
    assert (left.width, left.height) == (1000, 3800)
    assert cut_length(left, 3800) is None
    with pytest.raises(ShapeError, match="3800 mm are left"):
        cut_length(left, 3801)
    with pytest.raises(ShapeError):
        cut_length(frayed(1, 9), 10)
    assert is_sheet(left)
    assert not is_sheet(frayed(1, 9))
