import io
import struct

import numpy as np
import pytest
from PIL import Image, ImageCms

from bindery_stock.colour import delta_e00, draft_photo, measure
from bindery_stock.colour.icc import ProfileFaultError, read_icc
from bindery_stock.colour.space import D50, D65, primaries_matrix
from bindery_stock.errors import PhotoError

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
    """An 8-bit A2B0 table to Lab that inverts lightness: only a reader of tables finds that."""
    grid = 2
    corners = np.stack(np.meshgrid(*[np.arange(grid)] * inputs, indexing="ij"), -1)
    share = corners.reshape(-1, inputs).mean(axis=1)
    lab = np.stack([255 - 255 * share, 128 + 40 * share, np.full_like(share, 100)], axis=1)
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


@pytest.mark.parametrize("length", [20, 130, 200, 400])
def test_a_damaged_profile_is_said_and_srgb_assumed(tmp_path, length):
    reading = _read(tmp_path, matrix_profile(P3, SRGB_PARA)[:length], (200, 40, 30))
    assert "sRGB assumed" in reading.profile
    assert any("damaged" in warning for warning in reading.warnings)
    assert reading.lab == pytest.approx(_read(tmp_path, None, (200, 40, 30)).lab)
    assert draft_photo(tmp_path / "p.png", 16).image.size == (16, 16)


def test_a_profile_for_another_kind_of_picture_is_not_used(tmp_path):
    reading = _read(tmp_path, icc(b"GRAY", {b"kTRC": gamma(1.8)}), (200, 40, 30))
    assert any("another kind" in warning for warning in reading.warnings)


def test_bytes_that_are_no_profile_are_refused():
    with pytest.raises(ProfileFaultError):
        read_icc(b"nothing of the kind" * 20)
    with pytest.raises(ProfileFaultError):
        read_icc(matrix_profile(P3, para(9, 1.0))).model()
