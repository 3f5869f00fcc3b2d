"""A photograph of a target judged without a window, and the target kept for the sitting."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from bindery_stock.bench.colour_room.sitting import (
    editions,
    end_sitting,
    keep_target,
    keep_values,
    kept_target,
    sitting_of,
)
from bindery_stock.bench.colour_room.target_fit import (
    dropped_words,
    judge,
    likely_squares,
    model_words,
    patch_words,
    trust_words,
    worst_patch,
)
from bindery_stock.colour import EDITIONS, SINCE_2014, Reference
from bindery_stock.errors import ColourError
from bindery_stock.stock import Stockroom
from tests.desktop.charts import CORNERS, PITCH, photograph_target


@pytest.fixture
def stock(tmp_path: Path) -> Iterator[Stockroom]:
    with Stockroom.create(tmp_path / "stock") as made:
        yield made


def keep(stock: Stockroom, photo: Path, reference: Reference = SINCE_2014) -> None:
    keep_target(
        stock,
        photo,
        name=photo.name,
        size=(560, 480),
        corners=CORNERS,
        reference=reference,
        light=" north window ",
        camera="",
    )


@pytest.mark.parametrize("first", range(4))
def test_the_squares_lie_on_the_patches_whichever_corner_comes_first(
    tmp_path: Path, first: int
) -> None:
    corners = (*CORNERS[first:], *CORNERS[:first])
    fit = judge(photograph_target(tmp_path / "target.png"), corners, SINCE_2014)
    middles = np.array(fit.squares).mean(axis=1)
    assert middles[0] == pytest.approx(CORNERS[0], abs=0.01)
    assert middles[1] - middles[0] == pytest.approx((PITCH, 0), abs=0.01)
    assert fit.report.turned is (first != 0)
    guessed = np.array(likely_squares(corners)).mean(axis=1)
    assert sorted(map(tuple, guessed.round())) == sorted(map(tuple, middles.round()))


def test_corners_that_are_not_four_or_lie_on_a_line_show_no_squares() -> None:
    assert likely_squares(CORNERS[:3]) == ()
    assert likely_squares(((0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0))) == ()


def test_three_corners_are_no_target(tmp_path: Path) -> None:
    photo = photograph_target(tmp_path / "target.png")
    with pytest.raises(ColourError, match="four-sided"):
        judge(photo, CORNERS[:3], SINCE_2014)


def test_every_patch_has_its_words_and_one_model_is_chosen(tmp_path: Path) -> None:
    photo = photograph_target(tmp_path / "finger.png", finger_over=13)
    report = judge(photo, CORNERS, SINCE_2014).report
    assert patch_words(report, 13).startswith("Green: dropped, foreign")
    assert dropped_words(report) == (
        "Green, foreign: not the colour it should be",
        # Its published colour lies outside sRGB.
        "Cyan, clipped: outside what the photograph can hold",
    )
    assert "the worst of all" in patch_words(report, worst_patch(report))
    models = model_words(report)
    assert [chosen for _, _, chosen in models].count(True) == 1
    assert [error for _, error, _ in models] == sorted(error for _, error, _ in models)
    assert any("of 22 patches" in line for line in trust_words(report))


def test_the_kept_target_is_found_again_with_its_correction(
    stock: Stockroom, tmp_path: Path
) -> None:
    assert kept_target(stock) is None
    photo = photograph_target(tmp_path / "target.png")
    keep(stock, photo)
    kept = kept_target(stock)
    assert kept is not None
    assert kept.light == "north window"
    assert kept.words == "the target in “target.png”, north window, camera not named"
    again = sitting_of(kept).correction
    first = judge(photo, CORNERS, SINCE_2014).sitting.correction
    assert again.model == first.model
    assert again.u == pytest.approx(first.u)
    end_sitting(stock)
    assert kept_target(stock) is None


def test_a_kept_target_whose_photograph_is_gone_is_not_lent(
    stock: Stockroom, tmp_path: Path
) -> None:
    keep(stock, photograph_target(tmp_path / "target.png"))
    kept = kept_target(stock)
    assert kept is not None
    kept.photo.chmod(0o600)
    kept.photo.unlink()
    assert kept_target(stock) is None


def test_values_of_ones_own_are_kept_beside_the_published_ones(
    stock: Stockroom, tmp_path: Path
) -> None:
    assert editions(stock) == EDITIONS
    own = Reference(tuple((lo, a, b + 0.5) for lo, a, b in SINCE_2014.labs), "values from own.csv")
    keep_values(stock, own)
    assert editions(stock) == (*EDITIONS, own)
    keep(stock, photograph_target(tmp_path / "target.png"), own)
    kept = kept_target(stock)
    assert kept is not None
    assert kept.reference == own
