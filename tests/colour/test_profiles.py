import io
import struct

import numpy as np
import pytest
from PIL import Image, ImageCms

from bindery_stock.colour import delta_e00, draft_photo, measure
from bindery_stock.colour.icc import ProfileFaultError, read_icc
from bindery_stock.colour.plausible import cloth_colour
from bindery_stock.colour.space import D50, D65, primaries_matrix
from bindery_stock.errors import BinderyError, ColourError, PhotoError

WHOLE = [(0, 0), (16, 0), (16, 16), (0, 16)]
P3 = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
ADOBE = ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06))


def _s15(value):
    return struct.pack(">i", round(value * 65536))


def _xyz(values):
    return b"XYZ \0\0\0\0" + b"".join(_s15(v) for v in values)


def _text(name):
    data = name.encode() + b"\0"
    return b"desc\0\0\0\0" + struct.pack(">I", len(data)) + data + bytes(78)


def icc(space, tags, *, pcs=b"XYZ ", kind=b"mntr"):
    """A version 2 profile from its tags (ICC.1:2001-04, clause 6)."""
    tags = {b"desc": _text("test"), b"cprt": b"text\0\0\0\0none\0", b"wtpt": _xyz(D50), **tags}
    offset, table, body = 128 + 4 + 12 * len(tags), b"", b""
    for name, content in tags.items():
        data = content + bytes(-len(content) % 4)
        table += name + struct.pack(">II", offset + len(body), len(data))
        body += data
    head = struct.pack(">I", offset + len(body)) + bytes(4) + b"\x02\x40\0\0" + kind
    head += space + pcs + bytes(12) + b"acsp" + bytes(28)
    head += b"".join(_s15(v) for v in D50)
    return head + bytes(128 - len(head)) + struct.pack(">I", len(tags)) + table + body


def gamma(value):
    return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(value * 256)) + b"\0\0"


def table(values):
    codes = [round(v * 65535) for v in values]
    return b"curv\0\0\0\0" + struct.pack(f">I{len(codes)}H", len(codes), *codes)


def para(kind, *values):
    return b"para\0\0\0\0" + struct.pack(">HH", kind, 0) + b"".join(_s15(v) for v in values)


SRGB_PARA = para(3, 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)


def matrix_profile(primaries, *curves):
    columns = primaries_matrix(primaries, D65).T
    names = (b"r", b"g", b"b")
    chosen = curves * 3 if len(curves) == 1 else curves
    tags = {n + b"XYZ": _xyz(c) for n, c in zip(names, columns, strict=True)}
    tags |= {n + b"TRC": c for n, c in zip(names, chosen, strict=True)}
    return icc(b"RGB ", tags)


def _little_cms(profile, mode, codes):
    """CIELAB by littleCMS through Pillow: bytes, a* and b* two's complement."""
    transform = ImageCms.buildTransform(
        ImageCms.ImageCmsProfile(io.BytesIO(profile)),
        ImageCms.createProfile("LAB", 5000),
        mode,
        "LAB",
        ImageCms.Intent.RELATIVE_COLORIMETRIC,
    )
    image = Image.new(mode, (1, 1), codes)
    lab = np.asarray(ImageCms.applyTransform(image, transform))[0, 0]
    return np.array([lab[0] / 2.55, *lab[1:].astype(np.int8)])


def _read(tmp_path, profile, codes, mode="RGB", name="p.png"):
    Image.new(mode, (16, 16), codes).save(tmp_path / name, icc_profile=profile)
    return measure(tmp_path / name, WHOLE)


@pytest.mark.parametrize(
    "curve",
    [
        gamma(2.19921875),
        SRGB_PARA,
        table(np.linspace(0, 1, 1024) ** 1.8),
        table([]),
        para(0, 2.2),
        para(1, 2.2, 0.9, 0.1),
        para(2, 2.2, 0.9, 0.05, 0.02),
        para(4, 2.4, 0.92, 0.05, 0.07, 0.04, 0.01, 0.001),
    ],
    ids=["gamma", "srgb", "table", "linear", "para0", "para1", "para2", "para4"],
)
def test_matrix_profiles_agree_with_littlecms_within_its_bytes(tmp_path, curve):
    """littleCMS through Pillow rounds L* to 0.4 and a*, b* to whole units."""
    profile = matrix_profile(P3, curve)
    rng = np.random.default_rng(6)
    for codes in rng.integers(60, 200, (6, 3)).tolist():
        ours = np.array(_read(tmp_path, profile, tuple(codes)).lab)
        theirs = _little_cms(profile, "RGB", tuple(codes))
        assert np.abs(ours - theirs).max() < 0.75, codes


def test_a_grey_profile_agrees_with_littlecms(tmp_path):
    profile = icc(b"GRAY", {b"kTRC": gamma(1.8)})
    for code in (20, 90, 200):
        ours = np.array(_read(tmp_path, profile, code, "L").lab)
        assert np.abs(ours - _little_cms(profile, "L", code)).max() < 0.75
        assert ours[1:] == pytest.approx([0, 0], abs=1e-6)


def _lut(space, inputs):
    """An 8-bit A2B0 table to Lab that tints what is dark: only a reader of tables finds that."""
    grid = 2
    corners = np.stack(np.meshgrid(*[np.arange(grid)] * inputs, indexing="ij"), -1)
    share = corners.reshape(-1, inputs).mean(axis=1)
    dark = share if space == b"CMYK" else 1 - share
    lab = np.stack([255 - 255 * dark, 128 + 40 * dark, 128 - 28 * dark], axis=1)
    head = b"mft1\0\0\0\0" + bytes([inputs, 3, grid, 0])
    identity = b"".join(_s15(v) for v in np.eye(3).ravel())
    ramp = bytes(range(256))
    clut = np.round(lab).astype(np.uint8).tobytes()
    return icc(space, {b"A2B0": head + identity + ramp * inputs + clut + ramp * 3}, pcs=b"Lab ")


def test_a_profile_of_tables_is_read_through_littlecms(tmp_path):
    profile = _lut(b"RGB ", 3)
    reading = _read(tmp_path, profile, (200, 100, 60))
    assert np.abs(np.array(reading.lab) - _little_cms(profile, "RGB", (200, 100, 60))).max() < 0.3
    assert "look-up tables" in reading.profile


def test_printing_colours_are_read_through_their_profile_alone(tmp_path):
    profile = _lut(b"CMYK", 4)
    reading = _read(tmp_path, profile, (20, 60, 120, 30), "CMYK", "print.tif")
    theirs = _little_cms(profile, "CMYK", (20, 60, 120, 30))
    assert np.abs(np.array(reading.lab) - theirs).max() < 0.3
    assert draft_photo(tmp_path / "print.tif", 16).image.mode == "RGB"
    Image.new("CMYK", (16, 16)).save(tmp_path / "bare.tif")
    with pytest.raises(PhotoError, match="without their profile"):
        measure(tmp_path / "bare.tif", WHOLE)
    Image.new("CMYK", (16, 16)).save(tmp_path / "hurt.tif", icc_profile=profile[:150])
    with pytest.raises(PhotoError, match="damaged"):
        measure(tmp_path / "hurt.tif", WHOLE)


def test_a_vivid_red_of_a_wide_camera_is_not_read_as_plain_srgb(tmp_path):
    """Own measurement: code (200, 40, 30) read as sRGB though it is P3 is off by ΔE00 4.1, though
    it is Adobe RGB by 7.0."""
    plain = _read(tmp_path, None, (200, 40, 30)).lab
    wide = _read(tmp_path, matrix_profile(P3, SRGB_PARA), (200, 40, 30)).lab
    wider = _read(tmp_path, matrix_profile(ADOBE, gamma(2.19921875)), (200, 40, 30)).lab
    assert float(delta_e00(plain, wide)) == pytest.approx(4.1, abs=0.15)
    assert float(delta_e00(plain, wider)) == pytest.approx(7.0, abs=0.15)


def test_the_name_of_a_profile_decides_nothing(tmp_path):
    profile = matrix_profile(P3, SRGB_PARA).replace(b"test", b"sRGB")
    assert "sRGB" in _read(tmp_path, profile, (200, 40, 30)).profile
    there = _read(tmp_path, profile, (200, 40, 30)).lab
    assert there == _read(tmp_path, matrix_profile(P3, SRGB_PARA), (200, 40, 30)).lab


def test_a_camera_that_marks_adobe_rgb_in_exif_alone_is_believed(tmp_path):
    """CIPA DC-008: interoperability index R03. The primaries are those of IEC 61966-2-5."""
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0xA005] = {1: "R03"}
    image = Image.new("RGB", (16, 16), (200, 40, 30))
    image.save(tmp_path / "slr.jpg", exif=exif, quality=100, subsampling=0)
    reading = measure(tmp_path / "slr.jpg", WHOLE)
    assert "opRGB" in reading.profile
    wider = _read(tmp_path, matrix_profile(ADOBE, gamma(2.19921875)), (200, 40, 30)).lab
    assert float(delta_e00(reading.lab, wider)) < 0.5


def _refused(tmp_path, profile, says, codes=(200, 40, 30), mode="RGB"):
    """Refused for reading, by name and with the mend; it can still be looked at."""
    with pytest.raises(PhotoError, match=says) as refused:
        _read(tmp_path, profile, codes, mode)
    assert "“p.png”: its colour profile cannot be used" in str(refused.value)
    assert "Copy the photograph from the camera once more" in str(refused.value)
    shown = draft_photo(tmp_path / "p.png", 16)
    assert shown.image.size == (16, 16)
    assert any("cannot be used" in note for note in shown.notes)


@pytest.mark.parametrize("length", [20, 130, 200, 400])
def test_a_photograph_with_a_damaged_profile_is_not_read(tmp_path, length):
    """To take it for sRGB would be a guess: a wide camera's red is off by ΔE00 4 to 7 by it."""
    _refused(tmp_path, matrix_profile(P3, SRGB_PARA)[:length], "none of the ICC|damaged")


def test_a_profile_that_littlecms_cannot_open_is_refused_in_our_words(tmp_path):
    """One byte changed, the version in the header: littleCMS raised a bare OSError."""
    profile = bytearray(matrix_profile(P3, SRGB_PARA))
    profile[8] = 0xFF
    _refused(tmp_path, bytes(profile), "it is damaged")


def _colorants(red, green, blue, curve=SRGB_PARA):
    tags = {b"rXYZ": _xyz(red), b"gXYZ": _xyz(green), b"bXYZ": _xyz(blue)}
    return icc(b"RGB ", {**tags, b"rTRC": curve, b"gTRC": curve, b"bTRC": curve})


RED, GREEN, BLUE = primaries_matrix(P3, D65).T
NEGATIVE_GAMMA = para(0, -2.2)
FAR = np.array((5.0, 0.0, 0.0))


@pytest.mark.parametrize(
    ("profile", "says"),
    [
        (_colorants((30000, 0, 0), GREEN, BLUE), "makes black L|makes white"),
        (_colorants((0, 0, 0), (0, 0, 0), (0, 0, 0)), "makes black L. 0 and white L. 0"),
        (
            _colorants(*(primaries_matrix(P3, D65).T * (0.9505 / D50[0], 1, 1.089 / D50[2]))),
            "white",
        ),
        (_colorants(RED + FAR, GREEN - FAR, BLUE), "makes a pure colour"),
        (_colorants(BLUE, GREEN, RED), "takes red, green and blue for one another"),
        (_colorants(RED, GREEN, BLUE, gamma(250)), "makes middle grey L. 0"),
        (_colorants(RED, GREEN, BLUE, para(0, 300)), "makes middle grey L. 0"),
        (_colorants(RED, GREEN, BLUE, para(0, 0.01)), "makes middle grey|makes black"),
        (_colorants(RED, GREEN, BLUE, NEGATIVE_GAMMA), "gives no figures|makes"),
        (_colorants(RED, GREEN, BLUE, table([1, 0.5, 0])), "makes black L. 100 and white L. 0"),
        (_colorants(RED, GREEN, BLUE, table([0, 0.9, 0.2, 0.8])), "lighter grey darker"),
        (_colorants(RED, GREEN, BLUE, table([0, 0])), "makes black L. 0 and white L. 0"),
    ],
)
def test_a_profile_that_cannot_be_true_is_refused_and_gives_no_number(tmp_path, profile, says):
    """A red colorant of X = 30000 gave an a* of 3934; zeroes and a gamma of 300 gave black."""
    _refused(tmp_path, profile, says)


def test_a_grey_profile_that_cannot_be_true_is_refused(tmp_path):
    _refused(tmp_path, icc(b"GRAY", {b"kTRC": table([1, 0])}), "white L. 0", 90, "L")


def test_a_table_that_sends_white_to_black_or_is_cut_short_is_refused(tmp_path):
    profile = _lut(b"RGB ", 3)
    place = profile.index(b"mft1") + 48 + 256 * 3
    upside_down = bytearray(profile)
    grid = np.frombuffer(profile[place : place + 24], np.uint8).reshape(8, 3).copy()
    grid[:, 0] = 255 - grid[:, 0]
    upside_down[place : place + 24] = grid.tobytes()
    _refused(tmp_path, bytes(upside_down), "white L. 0")
    _refused(tmp_path, profile[:-400], "damaged")


def test_spaces_in_use_are_believed_however_wide(tmp_path):
    """Chromaticities from memory: ROMM RGB (ISO 22028-2), opRGB (IEC 61966-2-5), BT.2020."""
    romm = ((0.7347, 0.2653), (0.1596, 0.8404), (0.0366, 0.0001))
    wide = ((0.708, 0.292), (0.170, 0.797), (0.131, 0.046))
    for primaries, white in ((romm, D50), (ADOBE, D65), (wide, D65), (P3, D65)):
        for curve in (gamma(1.0), gamma(1.8), gamma(2.2), SRGB_PARA):
            profile = _colorants(*primaries_matrix(primaries, white).T, curve)
            assert "profile in the file" in _read(tmp_path, profile, (90, 60, 50)).profile
    made = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    assert _read(tmp_path, made, (90, 60, 50)).lab == pytest.approx(
        _read(tmp_path, None, (90, 60, 50)).lab, abs=0.05
    )


def _hurt(profile, rng):
    """A profile with a few bytes or words changed, or its end lost."""
    bytes_ = bytearray(profile)
    match int(rng.integers(4)):
        case 0:
            for place in rng.integers(0, len(bytes_), int(rng.integers(1, 5))):
                bytes_[place] = int(rng.integers(256))
        case 1:
            place = int(rng.integers(128, len(bytes_) - 4))
            bytes_[place : place + 4] = rng.choice([bytes(4), b"\xff" * 4, b"\x7f" + b"\xff" * 3])
        case 2:
            place = int(rng.integers(len(bytes_)))
            bytes_[place] ^= 1 << int(rng.integers(8))
        case _:
            del bytes_[int(rng.integers(1, len(bytes_))) :]
    return bytes(bytes_)


@pytest.mark.parametrize(
    ("profile", "mode", "codes"),
    [
        (matrix_profile(P3, SRGB_PARA), "RGB", (200, 40, 30)),
        (matrix_profile(ADOBE, table(np.linspace(0, 1, 16) ** 2.2)), "RGB", (90, 120, 40)),
        (icc(b"GRAY", {b"kTRC": gamma(1.8)}), "L", 90),
        (_lut(b"RGB ", 3), "RGB", (200, 100, 60)),
        (_lut(b"CMYK", 4), "CMYK", (20, 60, 120, 30)),
    ],
    ids=["matrix", "tables of tone", "grey", "look-up", "inks"],
)
def test_no_damage_to_a_profile_leaves_as_a_fault_or_as_a_colour_that_cannot_be(
    tmp_path, profile, mode, codes
):
    rng = np.random.default_rng(15)
    outcomes, said = {"read": 0, "refused": 0}, set()
    for _ in range(40 if b"mft1" in profile else 100):
        hurt = _hurt(profile, rng)
        name = "p.tif" if mode == "CMYK" else "p.png"
        try:
            lightness, a, b = _read(tmp_path, hurt, codes, mode, name).lab
        except BinderyError as error:
            outcomes["refused"] += 1
            said.add(name in str(error) or "which no cloth can have" in str(error))
        else:
            outcomes["read"] += 1
            assert 0 <= lightness <= 100
            assert max(abs(a), abs(b)) <= 128
        try:
            assert draft_photo(tmp_path / name, 16).image.size == (16, 16)
        except PhotoError:
            assert mode == "CMYK"
    assert min(outcomes.values()) > 5
    assert said == {True}


def test_a_colour_no_cloth_can_have_is_refused_and_one_just_beyond_white_is_white():
    for lab in ((106.0, 0.0, 0.0), (-6.0, 0.0, 0.0), (50.0, 3934.0, 0.0), (50.0, 0.0, -129.0)):
        with pytest.raises(ColourError, match="no cloth can have"):
            cloth_colour(lab)
    with pytest.raises(ColourError, match="no cloth can have"):
        cloth_colour((float("nan"), 0.0, 0.0))
    assert cloth_colour((102.0, 1.0, 2.0)) == (100.0, 1.0, 2.0)
    assert cloth_colour((-0.1, 1.0, 2.0)) == (0.0, 1.0, 2.0)


def test_a_profile_for_another_kind_of_picture_is_not_used(tmp_path):
    _refused(tmp_path, icc(b"GRAY", {b"kTRC": gamma(1.8)}), "another kind")


def test_bytes_that_are_no_profile_are_refused():
    with pytest.raises(ProfileFaultError):
        read_icc(b"nothing of the kind" * 20)
    with pytest.raises(ProfileFaultError):
        read_icc(matrix_profile(P3, para(9, 1.0))).model()
