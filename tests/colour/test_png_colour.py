"""What a PNG says of its colours besides a profile (W3C, PNG Third Edition), and WebP."""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image, ImageCms

from bindery_stock.colour import delta_e00, draft_photo, measure
from bindery_stock.errors import PhotoError

WHOLE = [(0, 0), (16, 0), (16, 16), (0, 16)]
CODES = (200, 40, 30)


def _chunk(name, data):
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def _png(path, *chunks, mode="RGB", codes=CODES):
    """A PNG with further chunks straight after its header."""
    buffer = io.BytesIO()
    Image.new(mode, (16, 16), codes).save(buffer, "PNG")
    whole = buffer.getvalue()
    path.write_bytes(whole[:33] + b"".join(_chunk(*one) for one in chunks) + whole[33:])
    return path


def _gamma(value):
    return b"gAMA", struct.pack(">I", round(value * 100_000))


def _primaries(*points):
    return b"cHRM", struct.pack(">8I", *(round(v * 100_000) for v in points))


def _cicp(primaries, transfer, matrix=0, full=1):
    return b"cICP", bytes((primaries, transfer, matrix, full))


P3 = (0.3127, 0.3290, 0.68, 0.32, 0.265, 0.69, 0.15, 0.06)
SRGB = (0.3127, 0.3290, 0.64, 0.33, 0.30, 0.60, 0.15, 0.06)


def test_code_points_of_p3_are_read_as_colour_science_reads_p3(tmp_path, science):
    wide = measure(_png(tmp_path / "p3.png", _cicp(12, 13)), WHOLE)
    xyz = science.RGB_to_XYZ(
        np.array(CODES) / 255,
        science.RGB_COLOURSPACES["Display P3"],
        illuminant=np.array([0.3457, 0.3585]),
        chromatic_adaptation_transform="Bradford",
        apply_cctf_decoding=True,
    )
    lab = science.XYZ_to_Lab(xyz, np.array([0.3457, 0.3585]))
    assert float(delta_e00(wide.lab, lab)) < 0.1
    assert float(delta_e00(wide.lab, measure(_png(tmp_path / "s.png"), WHOLE).lab)) > 2


def test_code_points_come_before_a_profile_also_under_transparency(tmp_path):
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    icc = (b"iCCP", b"x\0\0" + zlib.compress(srgb))
    wide = measure(_png(tmp_path / "p3.png", _cicp(12, 13)), WHOLE).lab
    assert measure(_png(tmp_path / "both.png", _cicp(12, 13), icc), WHOLE).lab == wide
    glass = _png(tmp_path / "a.png", _cicp(12, 13), mode="RGBA", codes=(*CODES, 255))
    assert measure(glass, WHOLE).lab == wide


@pytest.mark.parametrize("points", [(9, 16), (9, 18), (12, 13, 1), (12, 13, 0, 0), (77, 13)])
def test_code_points_that_are_not_read_are_refused_in_a_sentence(tmp_path, points):
    path = _png(tmp_path / "hdr.png", _cicp(*points))
    with pytest.raises(PhotoError, match=r"“hdr.png”: it names colours that are not read"):
        measure(path, WHOLE)
    assert draft_photo(path, 16).image.size == (16, 16)


def test_the_gamma_of_a_picture_is_believed(tmp_path):
    """Linear codes: L* follows from CIE 15 alone, Y = 100/255 · 1."""
    light = measure(_png(tmp_path / "l.png", _gamma(1.0), codes=(100, 100, 100)), WHOLE)
    y = 100 / 255
    assert light.lab == pytest.approx((116 * y ** (1 / 3) - 16, 0, 0), abs=0.01)


def test_gamma_with_primaries_is_read_and_an_srgb_chunk_comes_before_them(tmp_path, science):
    """P3 by its chromaticities under a plain gamma, as colour-science computes it."""
    wide = measure(_png(tmp_path / "w.png", _gamma(0.45455), _primaries(*P3)), WHOLE)
    xyz = science.RGB_to_XYZ(
        (np.array(CODES) / 255) ** 2.2,
        science.RGB_COLOURSPACES["Display P3"],
        illuminant=np.array([0.3457, 0.3585]),
        chromatic_adaptation_transform="Bradford",
    )
    lab = science.XYZ_to_Lab(xyz, np.array([0.3457, 0.3585]))
    assert float(delta_e00(wide.lab, lab)) < 0.1
    plain = measure(_png(tmp_path / "s.png"), WHOLE).lab
    for name, chunks in (
        ("usual", [_gamma(0.45455), _primaries(*SRGB)]),
        ("said", [(b"sRGB", b"\0"), _gamma(1.0), _primaries(*P3)]),
    ):
        assert measure(_png(tmp_path / f"{name}.png", *chunks), WHOLE).lab == plain


@pytest.mark.parametrize(
    "chunks",
    [
        [_gamma(0.001)],
        [_gamma(15.0)],
        [_gamma(0.5), _primaries(0.3127, 0.3290, *(0.3, 0.3) * 3)],
        [_gamma(0.5), _primaries(0.3127, 0.0, 0.64, 0.33, 0.30, 0.60, 0.15, 0.06)],
    ],
)
def test_gamma_and_primaries_that_cannot_be_true_give_no_number(tmp_path, chunks):
    with pytest.raises(PhotoError, match="gamma and primaries cannot be used"):
        measure(_png(tmp_path / "odd.png", *chunks), WHOLE)


def test_webp_is_read_as_the_same_picture_in_png_is(tmp_path):
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    image = Image.new("RGB", (16, 16), CODES)
    image.save(tmp_path / "t.webp", lossless=True, icc_profile=profile)
    image.save(tmp_path / "t.png", icc_profile=profile)
    there = measure(tmp_path / "t.webp", WHOLE)
    assert there.lab == measure(tmp_path / "t.png", WHOLE).lab
    assert "profile in the file" in there.profile


def test_a_moving_webp_is_refused(tmp_path):
    frames = [Image.new("RGB", (16, 16), (n * 80, 0, 0)) for n in range(3)]
    frames[0].save(tmp_path / "m.webp", save_all=True, append_images=frames[1:])
    with pytest.raises(PhotoError, match="animated"):
        measure(tmp_path / "m.webp", WHOLE)
