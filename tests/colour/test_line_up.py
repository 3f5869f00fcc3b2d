"""Cloths of one photograph held against the book: which are tied, and which are told apart."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from bindery_stock.colour import Neutral, compare_in_photo
from bindery_stock.colour.line_up import read_line_up, tied_in_photo
from bindery_stock.errors import ColourError
from tests.benchmarks.bench_line_up import real_pairs, told_apart, uneven_cloths


@pytest.mark.parametrize(
    ("best", "grey", "limit"),
    [(0.0, False, 0.75), (1.0, False, 2.35), (5.0, False, 8.75), (1.0, True, 2.95)],
)
def test_the_group_that_cannot_be_told_from_the_closest_is_that_of_one_photograph(
    best: float, grey: bool, limit: float
) -> None:
    """best + 0.75 + 0.6 · best; by a grey card best + 1.75 + 0.2 · best. Own measurement."""
    assert tied_in_photo(limit - 0.01, best, grey=grey)
    assert not tied_in_photo(limit + 0.01, best, grey=grey)


def square(x: float, y: float, half: float = 14.0) -> tuple[tuple[float, float], ...]:
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def strip(path: Path, *codes: tuple[int, int, int]) -> Path:
    """Even cloths side by side, 100 pixels each, with a little noise."""
    picture = np.repeat(np.array([codes], dtype=np.float64), 100, axis=1).repeat(100, axis=0)
    noise = np.random.default_rng(0).normal(0.0, 1.5, picture.shape)
    Image.fromarray(np.clip(picture + noise, 0, 255).astype(np.uint8)).save(path)
    return path


def four(number: int) -> list[tuple[tuple[float, float], ...]]:
    return [square(100 * number + x, y) for x, y in ((20, 20), (80, 20), (20, 80), (80, 80))]


CLOTHS = ((150, 60, 50), (170, 80, 70), (153, 62, 52), (90, 60, 90))


def test_cloths_are_ranked_by_what_lies_between_them_and_the_book(tmp_path: Path) -> None:
    photo = strip(tmp_path / "strip.png", *CLOTHS)
    said = read_line_up(photo, four(0), [four(1), four(2), four(3)])
    assert [one.key for one in said.ranked] == [1, 0, 2]
    assert [one.tied for one in said.ranked] == [True, False, False]


def test_each_is_held_against_the_book_as_it_would_be_alone(tmp_path: Path) -> None:
    photo = strip(tmp_path / "strip.png", *CLOTHS, (120, 120, 120))
    grey = Neutral(square(450, 50), (50.0, 0.0, 0.0))
    for neutral in (None, grey):
        said = read_line_up(photo, four(0), [four(1)], neutral=neutral)
        alone = compare_in_photo(photo, four(0), four(1), neutral=neutral)
        found = said.ranked[0].comparison
        assert (found.delta_e, found.u, found.way) == (alone.delta_e, alone.u, alone.way)


def test_a_patch_of_plainly_another_colour_is_not_read(tmp_path: Path) -> None:
    photo = strip(tmp_path / "strip.png", *CLOTHS)
    gilt = square(350, 50)
    said = read_line_up(photo, [*four(0), gilt], [four(2)])
    assert gilt not in said.book_patches
    assert len(said.book_patches) == 4
    clean = read_line_up(photo, four(0), [four(2)])
    assert said.book.lab == clean.book.lab


def test_a_cloth_without_room_is_refused_by_itself_and_a_book_without_room_altogether(
    tmp_path: Path,
) -> None:
    photo = strip(tmp_path / "strip.png", *CLOTHS)
    said = read_line_up(photo, four(0), [[], four(2)])
    assert [one.key for one in said.ranked] == [1]
    assert "no room" in said.refused[0]
    with pytest.raises(ColourError, match="no room"):
        read_line_up(photo, [], [four(1)])


def test_a_bare_photograph_tells_cloths_three_apart_in_95_of_100(target_photos: object) -> None:
    """Real pairs of patches scaled to ΔE00 3, the sample's unevenness on both: own measurement.

    All photographs and cloths: ``python -m tests.benchmarks.bench_line_up``.
    """
    apart, alike = told_apart(list(real_pairs(only=2))[::2], uneven_cloths(9, every=14))
    assert apart >= 0.95
    assert alike <= 0.05
