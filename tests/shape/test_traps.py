"""Cases in which a careless fit is known to go wrong."""

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from bindery_stock.shape import (
    Flaw,
    FlawKind,
    Outline,
    best_place,
    largest_rectangle,
    place,
    place_patch,
)
from bindery_stock.shape.cells import Edges, free_cells
from tests.shape.scraps import frayed

SHEET = Outline(((0, 0), (100, 0), (100, 50), (0, 50)))
HAIRLINE = Outline(SHEET.exterior, (((3.1, 25), (97.3, 25.0001), (97.3, 25.0003)),))


def test_a_hairline_slit_between_any_samples_is_not_leaked_through() -> None:
    found = largest_rectangle(HAIRLINE)
    assert found is not None
    assert found.height <= 25.001
    assert place(HAIRLINE, 20, 30) is None
    assert place(HAIRLINE, 20, 25) is not None


def test_a_cell_crossed_by_a_slit_is_not_free() -> None:
    rings = [
        shapely.get_coordinates(ring)
        for ring in (HAIRLINE.polygon.exterior, *HAIRLINE.polygon.interiors)
    ]
    lines = np.linspace(0, 100, 5), np.linspace(0, 50, 4)
    free = free_cells(Edges.of(rings), *lines)
    assert free[:, 0].all()
    assert not free[:, 1].any()
    assert free[:, 2].all()


@pytest.mark.parametrize("batch", range(4))
def test_no_sliver_between_sweeps_becomes_a_false_fit(batch: int) -> None:
    # Slivers of 1e-14 mm between the swept edges are what a union of sweeps leaves behind.
    random = np.random.default_rng(batch)
    for seed in range(batch * 100, batch * 100 + 100):
        outline = frayed(seed, int(random.integers(6, 60)))
        width, height = random.uniform(20, 80), random.uniform(40, 140)
        found = place(outline, width, height, turns=(float(random.choice([0, 90, 12.5])),))
        if found is not None:
            assert found.polygon.difference(outline.polygon).area < 1e-9


def test_a_fit_with_a_few_hundredths_of_play_is_neither_missed_nor_invented() -> None:
    # A raster of half a millimetre misses a third of these or invents a quarter.
    for seed in range(60):
        outline = frayed(seed, 12)
        largest = largest_rectangle(outline)
        assert largest is not None
        width, height = largest.width, largest.height
        assert place(outline, width - 0.002, height - 0.002) is not None
        # grow the height until it no longer fits: the last fit and the first miss are close
        low, high = 0.0, 60.0
        while high - low > 0.01:
            middle = (low + high) / 2
            grown = place(outline, width, height + middle)
            low, high = (middle, high) if grown is not None else (low, middle)
            if grown is not None:
                assert grown.polygon.difference(outline.polygon).area < 1e-9


def test_a_part_wholly_inside_a_stain_is_not_offered() -> None:
    stain = Flaw(FlawKind.STAIN, ((5, 5), (95, 5), (95, 45), (5, 45)))
    assert place(SHEET, 20, 20, flaws=[stain]) is None
    assert place_patch(SHEET, Outline(((0, 0), (20, 0), (0, 20))), flaws=[stain]) is None
    assert best_place(SHEET, 20, 20, flaws=[stain]) is None


def test_a_part_in_a_bay_or_a_hole_of_the_piece_is_not_offered() -> None:
    bay = Outline(((0, 0), (100, 0), (100, 50), (90, 50), (90, 10), (10, 10), (10, 50), (0, 50)))
    assert place(bay, 20, 20) is None
    frame = Outline(SHEET.exterior, (((10, 10), (90, 10), (90, 40), (10, 40)),))
    assert place(frame, 20, 20) is None


def test_flaws_that_leave_the_piece_in_two_are_told_apart() -> None:
    stain = Flaw(FlawKind.STAIN, ((40, -5), (60, -5), (60, 55), (40, 55)))
    assert place(SHEET, 40, 50, flaws=[stain]) is not None
    assert place(SHEET, 41, 50, flaws=[stain]) is None


def test_a_margin_wider_than_the_piece_leaves_nothing() -> None:
    assert place(SHEET, 1, 1, margin=30) is None


def test_steps_in_an_outline_cut_square_are_exact() -> None:
    # Sides along the axes make sweeps that only touch each other.
    steps = Polygon([(0, 0), (30, 0), (30, 10), (20, 10), (20, 20), (10, 20), (10, 30), (0, 30)])
    outline = Outline.from_polygon(steps)
    for size in ((30, 10), (20, 20), (10, 30)):
        found = place(outline, *size)
        assert found is not None
        assert found.tight
        assert place(outline, size[0] + 0.01, size[1]) is None
        assert place(outline, size[0], size[1] + 0.01) is None
