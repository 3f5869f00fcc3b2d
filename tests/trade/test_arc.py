"""The back as a circular segment: elementary geometry, and the table computed from it."""

import math
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from bindery_stock.errors import EntryError
from bindery_stock.trade import Arc

RISES = (0, 2, 3, 5, 8)
TABLE = {
    12: (12.0, 12.9, 13.9, 17.0, None),
    20: (20.0, 20.5, 21.2, 23.2, 27.7),
    25: (25.0, 25.4, 25.9, 27.6, 31.3),
    32: (32.0, 32.3, 32.7, 34.0, 37.1),
    40: (40.0, 40.3, 40.6, 41.6, 44.1),
    50: (50.0, 50.2, 50.5, 51.3, 53.3),
}


@pytest.mark.parametrize(
    ("chord", "rise", "length"),
    [(c, r, a) for c, row in TABLE.items() for r, a in zip(RISES, row, strict=True) if a],
)
def test_the_arc_of_a_back(chord, rise, length):
    assert Arc(chord, rise).length == pytest.approx(length, abs=0.05)


def test_an_over_round_back_is_refused():
    with pytest.raises(EntryError, match="more than half"):
        Arc(12, 8)


def test_a_worked_back_of_32_by_5():
    back = Arc(32, 5)
    assert back.radius == pytest.approx(28.1, abs=0.05)
    assert math.degrees(back.angle) == pytest.approx(69.4, abs=0.05)
    assert back.length + back.growth(0.6) == pytest.approx(34.8, abs=0.05)


def test_a_half_round_back_is_half_a_circle():
    assert Arc(40, 20).length == pytest.approx(math.pi * 20)


@given(st.floats(1, 200), st.floats(0.001, 1))
def test_the_arc_agrees_with_the_circle_drawn_point_by_point(chord, share):
    back = Arc(chord, chord / 2 * share)
    steps = 500
    points = [
        (back.radius * math.sin(t), back.radius * math.cos(t))
        for t in (back.angle * (i / steps - 0.5) for i in range(steps + 1))
    ]
    walked = sum(math.dist(a, b) for a, b in pairwise(points))
    assert points[-1][0] - points[0][0] == pytest.approx(chord, rel=1e-6)
    assert back.length == pytest.approx(walked, rel=1e-5)


@given(st.floats(1, 200), st.floats(0, 1), st.floats(0, 5))
@example(1.25, 1e-323, 0)
@example(50.1, 1e-322, 0)
def test_linings_only_ever_lengthen_a_back(chord, share, thickness):
    back = Arc(chord, chord / 2 * share)
    assert back.length >= chord * (1 - 1e-12)
    assert back.growth(thickness) >= 0


@given(st.floats(1, 200), st.integers(1, 5000))
def test_a_rise_too_small_to_see_leaves_the_back_as_long_as_its_chord(chord, least):
    assert Arc(chord, least * math.ulp(0.0)).length == pytest.approx(chord, rel=1e-12)


@pytest.mark.parametrize(
    ("chord", "rise"), [(0, 0), (-1, 0), (20, -1), (math.nan, 0), (20, math.inf)]
)
def test_measurements_that_cannot_be_are_refused(chord, rise):
    with pytest.raises(EntryError):
        Arc(chord, rise)
