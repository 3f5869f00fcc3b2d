import numpy as np
import pytest

from bindery_stock.colour import (
    BEFORE_2014,
    PATCHES,
    SINCE_2014,
    Reference,
    delta_e00,
    from_instrument,
    parse_reading,
    read_reference,
)
from bindery_stock.errors import ColourError


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        (SINCE_2014, "ColorChecker24 - After November 2014"),
        (BEFORE_2014, "ColorChecker24 - Before November 2014"),
    ],
)
def test_built_in_values_are_those_colour_science_carries(science, ours, theirs):
    chart = science.CCS_COLOURCHECKERS[theirs]
    xyz = np.array([science.xyY_to_XYZ(value) for value in chart.data.values()])
    labs = science.XYZ_to_Lab(xyz, chart.illuminant)
    # Published to two decimals.
    assert np.abs(labs - ours.array).max() < 0.011
    for name, other in zip(PATCHES, chart.data, strict=True):
        assert other.startswith(name)


def _csv(labs, sign=",", point="."):
    lines = [sign.join(("name", "L*", "a*", "b*"))]
    for name, lab in zip(PATCHES, labs, strict=True):
        lines.append(sign.join((name, *(f"{v:.2f}".replace(".", point) for v in lab))))
    return "\n".join(lines)


def _cgats(labs, names, head="", fields="SAMPLE_ID LAB_L LAB_A LAB_B"):
    rows = [
        f'"{n}" ' + " ".join(f"{v:.4f}" for v in lab) for n, lab in zip(names, labs, strict=True)
    ]
    body = "\n".join(rows)
    return (
        f"CGATS.17\n{head}NUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\n{fields}\nEND_DATA_FORMAT\n"
        f"NUMBER_OF_SETS 24\nBEGIN_DATA\n{body}\nEND_DATA\n"
    )


BY_ROW = [f"{'ABCD'[i // 6]}{i % 6 + 1}" for i in range(24)]
BY_COLUMN = [f"{'ABCDEF'[i % 6]}{i // 6 + 1}" for i in range(24)]


@pytest.mark.parametrize(
    "text",
    [
        _csv(BEFORE_2014.labs),
        _csv(BEFORE_2014.labs, ";", ","),
        _csv(BEFORE_2014.labs, "\t"),
        _cgats(BEFORE_2014.labs, range(1, 25)),
        _cgats(BEFORE_2014.labs, BY_ROW),
        _cgats(BEFORE_2014.labs, BY_COLUMN, 'ILLUMINANT "D50"\nOBSERVER "2"\n'),
    ],
    ids=["comma", "semicolon", "tab", "numbered", "rows lettered", "columns lettered"],
)
def test_the_users_own_values_are_read(tmp_path, text):
    path = tmp_path / "mine.txt"
    path.write_text(text, encoding="utf-8")
    reference = read_reference(path)
    assert np.abs(reference.array - BEFORE_2014.array).max() < 0.011
    assert "mine.txt" in reference.source


def test_rows_shuffled_under_their_names_are_put_in_order(tmp_path):
    order = np.random.default_rng(9).permutation(24)
    text = _cgats([BEFORE_2014.labs[i] for i in order], [BY_COLUMN[i] for i in order])
    (tmp_path / "mine.txt").write_text(text)
    reference = read_reference(tmp_path / "mine.txt")
    assert np.abs(reference.array - BEFORE_2014.array).max() < 0.011


def test_values_as_xyz_are_read(tmp_path, science):
    xyz = science.Lab_to_XYZ(SINCE_2014.array, science.XYZ_to_xy([0.9642, 1, 0.8249])) * 100
    text = _cgats(xyz, range(24), fields="SAMPLE_ID XYZ_X XYZ_Y XYZ_Z")
    (tmp_path / "mine.txt").write_text(text)
    reference = read_reference(tmp_path / "mine.txt")
    assert np.abs(reference.array - SINCE_2014.array).max() < 0.02


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "empty"),
        ("name,one,two\nx,1,2", "no columns"),
        (_csv(SINCE_2014.labs).replace("37.54", "dark"), "Row 1"),
        ("\n".join(_csv(SINCE_2014.labs).splitlines()[:-1]), "23 rows"),
        (_csv(SINCE_2014.labs[::-1]), "order"),
        (_cgats(SINCE_2014.labs, range(24), "ILLUMINANT D65\n"), "D65"),
        (_cgats(SINCE_2014.labs, range(24)).replace("END_DATA\n", ""), "lacks"),
        (_cgats(SINCE_2014.labs, range(24)).replace("LAB_B", "LAB_B EXTRA"), "divide"),
    ],
)
def test_a_file_that_is_no_reference_says_what_is_wrong(tmp_path, text, says):
    (tmp_path / "mine.txt").write_text(text)
    with pytest.raises(ColourError, match=says) as refused:
        read_reference(tmp_path / "mine.txt")
    assert "mine.txt" in str(refused.value)


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(ColourError, match=r"gone\.csv"):
        read_reference(tmp_path / "gone.csv")


def test_a_reference_needs_24_sound_colours():
    with pytest.raises(ColourError, match="24 patches"):
        Reference(SINCE_2014.labs[:20], "short")
    with pytest.raises(ColourError, match="out of range"):
        Reference(((140.0, 0.0, 0.0), *SINCE_2014.labs[1:]), "wrong")


@pytest.mark.parametrize("illuminant", ["A", "C", "D55", "D65", "F2", "F11"])
def test_readings_under_other_lights_are_adapted_as_colour_science_does(science, illuminant):
    name = illuminant.replace("F", "FL")
    white = science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"][name]
    d50 = science.XYZ_to_xy([0.9642, 1, 0.8249])
    xyz = science.chromatic_adaptation(
        science.Lab_to_XYZ([45.0, 30.0, 12.0], white),
        science.xy_to_XYZ(white),
        science.xy_to_XYZ(d50),
        transform="Bradford",
    )
    theirs = science.XYZ_to_Lab(xyz, d50)
    reading = from_instrument((45.0, 30.0, 12.0), illuminant, 2)
    assert float(delta_e00(reading.lab, theirs)) < 0.02
    assert "adapted to D50" in reading.method


def test_a_reading_of_the_other_observer_is_said_to_be_approximate():
    reading = from_instrument((45, 30, 12), "D65", 10)
    assert "approximate" in reading.method
    assert reading.u > from_instrument((45, 30, 12), "D50", 2).u


@pytest.mark.parametrize(
    ("text", "lab"),
    [
        ("L* 43.1 a* 22.0 b* 11.4", (43.1, 22.0, 11.4)),
        ("L*=43,1; a*=22,0; b*=-11,4", (43.1, 22.0, -11.4)),
        ("43.1 22 −11.4", (43.1, 22.0, -11.4)),
        ("43.1\t22\t11.4\tD50/2", (43.1, 22.0, 11.4)),
    ],
)
def test_a_pasted_reading_is_understood(text, lab):
    assert parse_reading(text).lab == pytest.approx(lab)


def test_a_pasted_reading_keeps_its_illuminant():
    assert parse_reading("D65/10°  L* 43.1 a* 22.0 b* 11.4") == from_instrument(
        (43.1, 22.0, 11.4), "D65", 10
    )


@pytest.mark.parametrize("text", ["", "dull red", "L* 143 a* 0 b* 0", "L 50 a 10"])
def test_a_reading_that_is_none_is_refused(text):
    with pytest.raises(ColourError):
        parse_reading(text)


def test_an_unknown_light_is_refused_with_those_known():
    with pytest.raises(ColourError, match="D65"):
        from_instrument((50, 0, 0), "candle", 2)
