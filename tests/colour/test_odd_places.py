"""Places of a cloth that are not of its usual colour, in pictures painted here."""

import numpy as np
import pytest

from bindery_stock.colour import odd_places

RING = ((20.0, 30.0), (380.0, 30.0), (380.0, 270.0), (20.0, 270.0))


def _cloth(rng: np.random.Generator) -> np.ndarray:
    """Red cloth with a rib of three pixels and noise, on a grey mat."""
    picture = np.full((300, 400, 3), (120, 122, 121), np.float64)
    rib = 1 + 0.12 * np.sin(np.arange(400) * 2 * np.pi / 3)
    picture[30:270, 20:380] = np.array((128, 38, 44)) * rib[None, 20:380, None]
    return picture + rng.normal(0, 6, picture.shape)


def _codes(picture: np.ndarray) -> np.ndarray:
    return picture.round().clip(0, 255).astype(np.uint8)


def test_even_cloth_has_no_odd_place() -> None:
    assert odd_places(_codes(_cloth(np.random.default_rng(1))), RING) == []


@pytest.mark.parametrize("share", [0.55, 1.25])
def test_a_stain_and_a_faded_corner_are_odd_and_the_rest_is_not(share: float) -> None:
    picture = _cloth(np.random.default_rng(2))
    picture[100:160, 150:230] *= share
    found = odd_places(_codes(picture), RING)
    covered = np.zeros(picture.shape[:2], bool)
    for left, top, right, bottom in found:
        covered[round(top) : round(bottom), round(left) : round(right)] = True
    assert covered[104:156, 154:226].mean() > 0.95
    covered[90:170, 140:240] = False
    assert not covered.any()


def test_a_cloth_of_few_pixels_is_not_parted() -> None:
    picture = _codes(_cloth(np.random.default_rng(3)))
    assert odd_places(picture, ((30.0, 40.0), (60.0, 40.0), (60.0, 70.0))) == []
