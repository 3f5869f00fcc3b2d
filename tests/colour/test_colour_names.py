import numpy as np
import pytest

from bindery_stock.colour import colour_name, delta_e00
from bindery_stock.colour.colour_names import CENTROIDS
from bindery_stock.colour.space import SRGB_TO_XYZ, apply_matrix, srgb_decode, xyz_to_lab

PUBLISHED_AS_SRGB = {
    "dark red": "722f37",
    "deep red": "841b2d",
    "dark grayish red": "543d3f",
    "dark reddish brown": "3e1d1e",
    "deep brown": "593319",
    "dark grayish brown": "3e322c",
    "dark yellowish brown": "4b3621",
    "dark olive": "403d21",
    "dark olive green": "2b3d26",
    "dark green": "1b4d3e",
    "dark yellowish green": "355e3b",
    "dark grayish green": "3a4b47",
    "dark blue": "00304e",
    "dark grayish blue": "36454f",
    "dark purple": "563c5c",
    "dark purplish red": "673147",
    "brownish orange": "ae6938",
    "dark orange yellow": "be8a3d",
    "brilliant yellow": "fada5e",
    "dark pink": "c08081",
    "dark gray": "555555",
    "black": "222222",
}
"""Centroids of NBS Special Publication 440 (Kelly and Judd 1976) as sRGB, from the public
Color-Library dictionary NBS_ISCC: an independent conversion of the same blocks."""


def _lab(code):
    rgb = np.array([int(code[i : i + 2], 16) for i in (0, 2, 4)]) / 255
    return xyz_to_lab(apply_matrix(SRGB_TO_XYZ, srgb_decode(rgb)))


def test_names_agree_with_an_independent_conversion_of_the_same_centroids():
    centroids = dict(CENTROIDS)
    steps = {
        name: float(delta_e00(_lab(c), centroids[name])) for name, c in PUBLISHED_AS_SRGB.items()
    }
    assert np.mean(list(steps.values())) < 3
    agree = [colour_name(_lab(code)) == name for name, code in PUBLISHED_AS_SRGB.items()]
    assert np.mean(agree) >= 0.9


def test_all_267_names_stand_once():
    assert len(CENTROIDS) == len({name for name, _ in CENTROIDS}) == 267


@pytest.mark.parametrize("number", [12, 43, 58, 107, 151, 182, 229])
def test_a_centroid_has_its_own_name(science, number):
    """Kelly 1958 in Munsell notation, through colour-science's renotation."""
    notation = {
        12: ("strong red", "4R 4.5/12"),
        43: ("moderate reddish brown", "9.6R 3.4/5.2"),
        58: ("moderate brown", "5.5YR 3.5/3.9"),
        107: ("moderate olive", "8Y 3.5/5.8"),
        151: ("dark grayish green", "9G 2.8/1.6"),
        182: ("moderate blue", "2.9PB 4.2/7.2"),
        229: ("dark grayish purple", "10P 2.8/2"),
    }
    name, munsell = notation[number]
    white = science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["C"]
    d50 = science.XYZ_to_xy([0.9642, 1, 0.8249])
    xyz = science.chromatic_adaptation(
        science.xyY_to_XYZ(science.munsell_colour_to_xyY(munsell)),
        science.xy_to_XYZ(white),
        science.xy_to_XYZ(d50),
        transform="Bradford",
    )
    assert CENTROIDS[number - 1][0] == name
    assert colour_name(science.XYZ_to_Lab(xyz, d50)) == name
