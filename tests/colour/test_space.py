import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.colour import check_lab, srgb_codes, to_srgb
from bindery_stock.colour.space import (
    D50,
    SRGB_TO_XYZ,
    apply_matrix,
    lab_to_xyz,
    srgb_decode,
    srgb_encode,
    xyz_to_lab,
)
from bindery_stock.errors import ColourError
from tests.patience import PATIENCE


def test_srgb_codes_become_the_lab_of_colour_science(science):
    codes = np.random.default_rng(2).integers(0, 256, (1000, 3)) / 255
    ours = xyz_to_lab(apply_matrix(SRGB_TO_XYZ, srgb_decode(codes)))
    d50 = science.XYZ_to_xy(D50)
    xyz = science.RGB_to_XYZ(
        codes, "sRGB", illuminant=d50, chromatic_adaptation_transform="Bradford",
        apply_cctf_decoding=True,
    )  # fmt: skip
    # colour-science keeps the four-decimal matrix printed in the standard; ours is derived.
    assert np.abs(ours - science.XYZ_to_Lab(xyz, d50)).max() < 0.05


def test_the_codes_of_many_colours_are_those_of_colormath():
    # Judge: colormath, whose matrices are rounded to four decimals, through ``to_srgb``.
    labs = np.random.default_rng(3).uniform((5, -60, -60), (95, 60, 60), (300, 3))
    one_by_one = np.array([to_srgb(lab)[0] for lab in labs], dtype=int)
    assert np.abs(srgb_codes(labs).astype(int) - one_by_one).max() <= 1


def test_white_is_l_100_without_hue():
    lab = xyz_to_lab(apply_matrix(SRGB_TO_XYZ, np.ones((1, 3))))[0]
    assert lab == pytest.approx([100, 0, 0], abs=1e-9)


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_what_a_screen_shows_comes_back_as_the_same_codes(codes):
    lab = xyz_to_lab(apply_matrix(SRGB_TO_XYZ, srgb_decode(np.array(codes) / 255)))
    assert to_srgb(np.clip(lab, (0, -128, -128), (100, 128, 128))) == (codes, True)


def test_a_colour_no_screen_shows_is_clipped_and_said():
    codes, shown = to_srgb((50, -100, 0))
    assert not shown
    assert codes[0] == 0


@given(st.tuples(st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128)))
def test_lab_and_xyz_undo_each_other(lab):
    assert xyz_to_lab(lab_to_xyz(lab)) == pytest.approx(np.array(lab), abs=1e-6)


@given(st.floats(-1, 2))
def test_srgb_curve_undoes_itself(value):
    assert float(srgb_decode(srgb_encode(value))) == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize(
    ("lab", "names"),
    [((101, 0, 0), "L"), ((50, 140, 0), "a"), ((50, 0, -200), "b"), ((math.nan, 0, 0), "L")],
)
def test_a_colour_out_of_range_is_refused_by_its_figure(lab, names):
    with pytest.raises(ColourError, match=rf"^{names}\*"):
        check_lab(lab)


def test_two_figures_are_not_a_colour():
    with pytest.raises(ColourError, match="three figures"):
        check_lab((50, 0))
    with pytest.raises(ColourError, match="no colour"):
        check_lab("red")


def test_colours_are_reckoned_without_a_warning_where_no_compiled_file_can_be_kept(tmp_path: Path):
    """The first compiling of a library is when Python complains of how it is written."""
    ended = subprocess.run(
        [
            sys.executable, "-B", "-W", "always", "-X", f"pycache_prefix={tmp_path}",
            "-c", "import bindery_stock.colour.space as space; print(space.to_srgb((50, 10, 10)))",
        ],
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=True,
    )  # fmt: skip
    assert ended.stdout.startswith("(")
    assert ended.stderr == ""
