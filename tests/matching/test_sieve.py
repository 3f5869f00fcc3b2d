"""The sieve refuses outlines quickly, and never one that holds the part."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from bindery_stock.matching.sieve import may_hold_upright
from bindery_stock.shape import place
from tests.matching.hoards import hoards


def column(*polygons: Polygon) -> np.ndarray:
    return np.array(polygons, dtype=object)


@settings(max_examples=60, deadline=None)
@given(
    hoards(most=10),
    st.floats(2, 90),
    st.floats(2, 200),
    st.sampled_from([0.0, 1.0, 7.5]),
)
def test_nothing_that_holds_the_part_is_refused(pieces, width, height, margin):
    kept = may_hold_upright(
        column(*(piece.outline.polygon for piece in pieces)), width, height, margin
    )
    for piece, may_hold in zip(pieces, kept, strict=True):
        if place(piece.outline, width, height, margin=margin):
            assert may_hold


def test_a_part_exactly_as_large_as_its_sheet_is_kept():
    rng = np.random.default_rng(3)
    sizes = rng.uniform(1, 400, (200, 2))
    for width, height in sizes:
        assert may_hold_upright(column(box(0, 0, width, height)), width, height).all()


def test_a_crooked_strip_that_only_looks_long_enough_is_refused():
    slanting = Polygon([(0, 0), (50, 0), (110, 240), (60, 240)])
    assert not may_hold_upright(column(slanting), 45, 235).any()


def test_a_sheet_slit_up_the_middle_holds_only_half_its_width():
    slit = Polygon(box(0, 0, 100, 240).exterior, [[(50, 1), (51, 1), (51, 239), (50, 239)]])
    assert may_hold_upright(column(slit), 49, 200).tolist() == [True]
    assert may_hold_upright(column(slit), 55, 200).tolist() == [False]
