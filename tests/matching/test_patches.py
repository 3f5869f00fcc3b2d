"""Corner patches, and parts that may be turned a little or any way."""

import pytest

from bindery_stock.errors import ShapeError
from bindery_stock.matching import Part, Piece, rank
from bindery_stock.shape import Flaw, FlawKind, Outline, PatchPlacement, sheet, triangle

RED = (38.0, 44.0, 21.0)


def scrap(code: str, outline: Outline, **more: object) -> Piece:
    return Piece(code, outline, RED, u=1.0, **more)  # type: ignore[arg-type]


def test_a_corner_patch_goes_into_a_triangle_that_holds_no_such_square() -> None:
    corner = Part(30, 30, RED, triangular=True)
    ranking = rank(corner, [scrap("C-0001", triangle(32, 32))])
    assert [match.code for match in ranking.matches] == ["C-0001"]
    placement = ranking.matches[0].placement
    assert isinstance(placement, PatchPlacement)
    assert placement.polygon.area == pytest.approx(450)
    assert ranking.matches[0].left.area == pytest.approx(32 * 32 / 2 - 450, abs=0.1)
    square = rank(Part(30, 30, RED), [scrap("C-0001", triangle(32, 32))])
    assert square.matches == ()


def test_a_strip_free_to_turn_fits_a_slanting_scrap_and_one_bound_to_the_warp_does_not() -> None:
    # 100 × 20 turned by 30°, with a little room
    slanting = Outline(((0, 0), (88.3, 51), (77.8, 69.2), (-10.5, 18.2)))
    assert rank(Part(20, 100, RED), [scrap("C-0001", slanting)]).matches == ()
    free = rank(Part(20, 100, RED, free=180), [scrap("C-0001", slanting)])
    assert [match.code for match in free.matches] == ["C-0001"]
    assert free.matches[0].placement.turn % 180 == pytest.approx(120, abs=1)
    a_little = rank(Part(20, 100, RED, free=5), [scrap("C-0001", slanting)])
    assert a_little.matches == ()
    assert a_little.near_misses[0].lack == "too small, whichever way it may be turned"


def test_a_stain_keeps_a_shown_patch_out_and_says_so() -> None:
    stain = Flaw(FlawKind.STAIN, ((10, 10), (20, 10), (20, 20), (10, 20)))
    corner = Part(30, 30, RED, triangular=True)
    stained = [scrap("C-0001", sheet(32, 32), flaws=(stain,))]
    ranking = rank(corner, stained)
    assert ranking.matches == ()
    assert ranking.near_misses[0].lack == "fits but for its flaws"
    hidden = Part(30, 30, RED, triangular=True, shown=False)
    assert [match.code for match in rank(hidden, stained).matches] == ["C-0001"]


def test_a_freedom_to_turn_is_an_angle() -> None:
    with pytest.raises(ShapeError, match="0 to 180"):
        Part(30, 30, RED, free=-1)
