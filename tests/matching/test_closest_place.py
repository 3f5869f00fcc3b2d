"""Sharing out counts a piece by its closest place, and tells the cloth under each part."""

import numpy as np
import pytest

from bindery_stock.colour import ColourMap
from bindery_stock.colour.space import lab_to_xyz
from bindery_stock.matching import Part, Piece, share_out
from bindery_stock.shape import sheet

SOUND, FADED, OTHER = (33.0, 33.0, 17.0), (48.0, 20.0, 14.0), (36.0, 30.0, 16.0)


def half_faded(code: str, lab, faded_share: float) -> Piece:
    """A sheet of 100 × 200 mm, faded at its foot."""
    light = np.empty((40, 20, 3), np.float32)
    light[:] = lab_to_xyz(SOUND)
    light[: int(40 * faded_share)] = lab_to_xyz(FADED)
    seen = ColourMap(5.0, (0.0, 0.0), light)
    return Piece(code, sheet(100, 200), lab, colour_map=seen)


def test_a_piece_counts_by_its_closest_place_and_not_by_its_reading() -> None:
    part = Part(60, 60, SOUND, name="corner patch")
    faded_through = half_faded("C-0001", SOUND, 1.0)
    sound_above = half_faded("C-0002", OTHER, 0.5)
    plan = share_out([part], [faded_through, sound_above], steps=20)
    (placed,) = plan.placed
    assert placed.code == "C-0002"
    assert plan.bound <= plan.objective + 1e-6


@pytest.mark.parametrize(("share", "least", "most"), [(0.0, 0.0, 0.1), (1.0, 10.0, 20.0)])
def test_a_row_tells_the_cloth_under_its_part(share: float, least: float, most: float) -> None:
    part = Part(60, 60, SOUND, name="corner patch")
    plan = share_out([part], [half_faded("C-0001", SOUND, share)], steps=20)
    (placed,) = plan.placed
    assert placed.under
    assert least <= placed.delta_e <= most
