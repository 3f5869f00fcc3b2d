"""The photograph on a piece's sheet."""

import pytest

from bindery_stock.desktop.shelf.photo_view import warp_turn
from bindery_stock.shape import PhotoScale
from tests.desktop.shelving import TO_MM


def test_the_arrow_follows_the_warp_of_a_piece_photographed_lying_on_its_side() -> None:
    upright = PhotoScale(TO_MM, 0.0, None, "for the test")
    assert warp_turn(upright, (100.0, 125.0)) == pytest.approx(0.0, abs=1e-9)
    on_its_side = upright.turned((300.0, 500.0), (700.0, 500.0))  # the warp runs to the right
    assert warp_turn(on_its_side, (10.0, -20.0)) == pytest.approx(90.0)
    upside_down = upright.turned((300.0, 300.0), (300.0, 700.0))
    assert abs(warp_turn(upside_down, (0.0, 0.0))) == pytest.approx(180.0)
