import io
import os
import struct
import zlib
from dataclasses import replace

import numpy as np
import pytest
import tifffile
from PIL import Image
from pillow_heif import from_pillow

from bindery_stock.colour import ColourReading, delta_e00, draft_photo, measure, open_photo
from bindery_stock.colour.decode import open_negative
from bindery_stock.errors import BinderyError, PhotoError

WHOLE = [(0, 0), (40, 0), (40, 40), (0, 40)]


def _png(path, width, height, depth, kind, rows):
    def chunk(name, data):
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    head = struct.pack(">IIBBBBB", width, height, depth, kind, 0, 0, 0)
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + body)
    return path


def _flat(path, codes, size=(40, 40), **kinds):
    Image.new("RGB", size, codes).save(path, **kinds)
    return path


def _lab(path, patch=WHOLE):
    return np.array(measure(path, patch).lab)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_patch_is_read_where_the_upright_photograph_shows_it(tmp_path, orientation):
    """Pillow's own exif_transpose is the yardstick for what upright means."""
    from PIL import ImageOps

    rng = np.random.default_rng(4)
    codes = rng.integers(20, 230, (3, 5, 3), dtype=np.uint8).repeat(20, 0).repeat(20, 1)
    image = Image.fromarray(codes)
    exif = Image.Exif()
    exif[0x0112] = orientation
    image.save(tmp_path / "turned.png", exif=exif)
    with Image.open(tmp_path / "turned.png") as opened:
        upright = ImageOps.exif_transpose(opened)
    photo = open_photo(tmp_path / "turned.png")
    assert photo.size == upright.size
    assert np.array_equal(np.asarray(photo.image), np.asarray(upright))
    upright.info.clear()
    upright.save(tmp_path / "upright.png")
    patch = [(21, 1), (39, 1), (39, 19), (21, 19)]
    there = _lab(tmp_path / "turned.png", patch)
    assert there == pytest.approx(_lab(tmp_path / "upright.png", patch))


def test_a_draft_is_small_upright_and_knows_the_whole_size(tmp_path):
    exif = Image.Exif()
    exif[0x0112] = 6
    _flat(tmp_path / "big.jpg", (120, 40, 30), (1600, 800), exif=exif)
    draft = draft_photo(tmp_path / "big.jpg", 400)
    assert draft.size == (800, 1600)
    assert draft.image.size == (200, 400)
    assert draft.image.mode == "RGB"


def _truncated(folder):
    buffer = io.BytesIO()
    Image.effect_noise((200, 200), 80).save(buffer, "JPEG")
    path = folder / "cut.jpg"
    path.write_bytes(buffer.getvalue()[: len(buffer.getvalue()) // 2])
    return path


def _animated(folder):
    frames = [Image.new("RGB", (20, 20), (i * 80, 0, 0)) for i in range(3)]
    frames[0].save(folder / "moving.png", save_all=True, append_images=frames[1:])
    return folder / "moving.png"


def _text(folder):
    (folder / "notes.jpg").write_text("not a picture")
    return folder / "notes.jpg"


def _empty(folder):
    (folder / "empty.png").touch()
    return folder / "empty.png"


def _saved(mode, name):
    def make(folder):
        Image.new(mode, (60, 60)).save(folder / name)
        return folder / name

    return make


def _bomb(folder):
    return _png(folder / "bomb.png", 40_000, 40_000, 8, 2, b"")


def _big(folder):
    return _png(folder / "big.png", 16_000, 14_000, 8, 2, b"")


def _pipe(folder):
    os.mkfifo(folder / "pipe.jpg")
    return folder / "pipe.jpg"


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (_truncated, "cut short"),
        (_animated, "animated"),
        (_text, "not a picture"),
        (_empty, "zero bytes"),
        (_saved("CMYK", "print.jpg"), "[Pp]rinting colours"),
        (_saved("1", "line.png"), "1 bit"),
        (_saved("P", "plan.gif"), "GIF"),
        (_saved("F", "float.tif"), "ordinary 8-bit"),
        (_bomb, "megapixels"),
        (lambda folder: folder, "folder"),
        (lambda folder: folder / "gone.jpg", "no file"),
        pytest.param(_pipe, "device", marks=pytest.mark.skipif(os.name == "nt", reason="no pipes")),
    ],
)
def test_what_is_no_photograph_is_refused_by_name_with_the_mend(tmp_path, make, says):
    path = make(tmp_path)
    for opener in (open_photo, lambda p: draft_photo(p, 100)):
        with pytest.raises(PhotoError, match=says) as refused:
            opener(path)
        assert path.name in str(refused.value)
        assert str(refused.value).endswith(".")


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
def test_a_picture_a_little_too_large_is_refused_before_it_is_decoded(tmp_path):
    with pytest.raises(PhotoError, match="megapixels"):
        open_photo(_big(tmp_path))


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="the administrator reads anything")
def test_a_file_without_permission_is_named(tmp_path):
    path = _flat(tmp_path / "locked.png", (1, 2, 3))
    path.chmod(0)
    with pytest.raises(PhotoError, match="permissions"):
        open_photo(path)


def test_damaged_files_are_refused_and_never_escape_as_faults(tmp_path):
    """A byte changed here and there in every form: a picture, or one of our sentences."""
    rng = np.random.default_rng(5)
    source = Image.effect_noise((48, 48), 60).convert("RGB")
    for suffix in ("jpg", "png", "tif"):
        buffer = io.BytesIO()
        source.save(buffer, {"jpg": "JPEG", "png": "PNG", "tif": "TIFF"}[suffix])
        whole = bytearray(buffer.getvalue())
        outcomes = set()
        for _ in range(40):
            hurt = bytearray(whole)
            for place in rng.integers(0, min(len(hurt), 400), 4):
                hurt[place] = int(rng.integers(0, 256))
            path = tmp_path / f"hurt.{suffix}"
            path.write_bytes(hurt)
            try:
                outcomes.add(type(measure(path, WHOLE)))
            except BinderyError:
                outcomes.add(BinderyError)
            except UserWarning:
                # Pillow warns of damaged tags; warnings are errors in these tests only.
                outcomes.add(UserWarning)
        assert outcomes <= {ColourReading, BinderyError, UserWarning}


def test_sixteen_bit_grey_does_not_clip(tmp_path):
    """Pillow's own conversion to RGB turns mid grey white (python-pillow issue 7723)."""
    rows = b"".join(b"\0" + struct.pack(">40H", *[32896] * 40) for _ in range(40))
    deep = _png(tmp_path / "deep.png", 40, 40, 16, 0, rows)
    assert _lab(deep) == pytest.approx(_lab(_flat(tmp_path / "g.png", (128, 128, 128))), abs=1e-3)
    assert np.asarray(draft_photo(deep, 40).image)[20, 20].tolist() == [128, 128, 128]


def test_sixteen_bit_grey_that_counts_from_white_is_refused(tmp_path):
    """TIFF 6.0, PhotometricInterpretation 0: WhiteIsZero; read as it stands it is a negative."""
    deep = Image.fromarray(np.full((40, 40), 30000, dtype=np.uint16))
    deep.save(tmp_path / "scan.tif", tiffinfo={262: 0})
    with Image.open(tmp_path / "scan.tif") as saved:
        assert saved.tag_v2[262] == 0
    with pytest.raises(PhotoError, match="a negative, white as zero"):
        measure(tmp_path / "scan.tif", WHOLE)


def _planes_16(path, codes):
    """An uncompressed TIFF 6.0 of 40 × 40, 16 bits, PlanarConfiguration 2."""
    plane = 40 * 40 * 2
    entries = [
        (256, 3, 1, struct.pack("<HH", 40, 0)),
        (257, 3, 1, struct.pack("<HH", 40, 0)),
        (258, 3, 3, struct.pack("<I", 134)),
        (259, 3, 1, struct.pack("<HH", 1, 0)),
        (262, 3, 1, struct.pack("<HH", 2, 0)),
        (273, 4, 3, struct.pack("<I", 140)),
        (277, 3, 1, struct.pack("<HH", 3, 0)),
        (278, 3, 1, struct.pack("<HH", 40, 0)),
        (279, 4, 3, struct.pack("<I", 152)),
        (284, 3, 1, struct.pack("<HH", 2, 0)),
    ]
    table = b"".join(struct.pack("<HHI", *entry[:3]) + entry[3] for entry in entries)
    head = struct.pack("<2sHIH", b"II", 42, 8, len(entries)) + table + bytes(4)
    head = head.ljust(134, b"\0") + struct.pack("<HHH", 16, 16, 16)
    head += struct.pack("<III", *(164 + plane * n for n in range(3)))
    head += struct.pack("<III", plane, plane, plane)
    path.write_bytes(head + b"".join(struct.pack("<H", code) * 1600 for code in codes))
    return path


def test_sixteen_bit_planes_are_refused_rather_than_read_as_noise(tmp_path):
    """TIFF 6.0: Pillow takes uncompressed planes of 16 bits for twice as many of 8."""
    with pytest.raises(PhotoError, match="planar"):
        measure(_planes_16(tmp_path / "scan.tif", (40003, 20077, 10009)), WHOLE)


def _by_srgb(science, codes):
    """CIELAB (D50) of an sRGB colour of 16 bits, by colour-science."""
    white = science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]
    light = science.cctf_decoding(np.array(codes) / 65535, "sRGB")
    xyz = science.RGB_to_XYZ(light, "sRGB", white, "Bradford")
    return science.XYZ_to_Lab(xyz, white)


DARK = (1900, 1650, 1700)


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("packed", [None, "zlib"])
@pytest.mark.parametrize("opacity", [(), (65535,)])
def test_a_scan_of_sixteen_bits_is_read_by_all_of_them(science, tmp_path, order, packed, opacity):
    """Outside judges: tifffile writes the scan, colour-science says what colour it is."""
    scan = np.full((40, 40, 3 + len(opacity)), (*DARK, *opacity), np.uint16)
    tifffile.imwrite(
        tmp_path / "scan.tif",
        scan,
        byteorder=order,
        compression=packed,
        photometric="rgb",
        extrasamples=["unassalpha"] * len(opacity),
    )
    truth = _by_srgb(science, DARK)
    assert _lab(tmp_path / "scan.tif") == pytest.approx(truth, abs=0.02)
    upper = _flat(tmp_path / "g.png", tuple(code // 256 for code in DARK))
    assert float(delta_e00(truth, [_lab(upper)])[0]) > 0.1
    assert not any("bits" in note for note in open_photo(tmp_path / "scan.tif").notes)


def test_a_turned_png_of_sixteen_bits_is_read_where_it_is_shown(tmp_path):
    codes = np.zeros((30, 40, 3), ">u2")
    codes[:15, :20], codes[15:, 20:] = DARK, (52000, 41000, 20500)
    rows = b"".join(b"\0" + row.tobytes() for row in codes)
    deep = _png(tmp_path / "deep.png", 40, 30, 16, 2, rows)
    negative = open_negative(deep)
    for orientation, turned in ((1, codes), (3, codes[::-1, ::-1]), (6, np.rot90(codes, -1))):
        shown = replace(negative, orientation=orientation)
        assert np.array_equal(shown.codes((3, 2, 25, 28)), turned[2:28, 3:25])


def test_planes_of_sixteen_bits_say_that_eight_are_read(tmp_path):
    planes = np.full((3, 40, 40), 40000, np.uint16)
    tifffile.imwrite(
        tmp_path / "scan.tif",
        planes,
        photometric="rgb",
        planarconfig="separate",
        compression="zlib",
    )
    assert any("16 bits" in note for note in open_photo(tmp_path / "scan.tif").notes)


def test_a_glassy_picture_of_sixteen_bits_says_that_eight_are_read(tmp_path):
    rows = b"".join(b"\0" + struct.pack(">160H", *[40000, 20000, 10000, 9] * 40) for _ in range(40))
    photo = open_photo(_png(tmp_path / "deep.png", 40, 40, 16, 6, rows))
    assert any("transparent" in note for note in photo.notes)
    assert any("16 bits" in note for note in photo.notes)


def test_transparency_is_laid_on_white_and_said(tmp_path):
    Image.new("RGBA", (40, 40), (200, 0, 0, 128)).save(tmp_path / "glass.png")
    Image.new("RGBA", (40, 40), (200, 30, 10, 255)).save(tmp_path / "solid.png")
    assert any("transparent" in note for note in measure(tmp_path / "glass.png", WHOLE).warnings)
    assert not any("transparent" in n for n in measure(tmp_path / "solid.png", WHOLE).warnings)
    assert _lab(tmp_path / "solid.png") == pytest.approx(
        _lab(_flat(tmp_path / "plain.png", (200, 30, 10)))
    )


def test_a_telephones_heic_is_read_by_its_colour_box(tmp_path):
    """ITU-T H.273: colour_primaries 12 is P3 with the D65 white; the box alone must do."""
    image = Image.new("RGB", (64, 64), (200, 40, 30))
    for name, primaries in (("p3", 12), ("plain", 1)):
        from_pillow(image).save(
            tmp_path / f"{name}.heic",
            quality=-1,
            chroma=444,
            color_primaries=primaries,
            transfer_characteristics=13,
            matrix_coefficients=0,
            full_range_flag=1,
        )
    wide, plain = measure(tmp_path / "p3.heic", WHOLE), measure(tmp_path / "plain.heic", WHOLE)
    assert "P3" in wide.profile
    from bindery_stock.colour import delta_e00

    assert float(delta_e00(wide.lab, plain.lab)) == pytest.approx(4.1, abs=0.3)
    srgb = measure(_flat(tmp_path / "plain.png", (200, 40, 30), (64, 64)), WHOLE)
    assert float(delta_e00(plain.lab, srgb.lab)) < 0.5


@pytest.mark.parametrize(
    ("transfer", "read"), [(13, True), (1, True), (16, False), (18, False), (8, False)]
)
def test_a_heic_of_another_tone_curve_is_not_read_as_if_it_had_ours(tmp_path, transfer, read):
    """ITU-T H.273 table 3: 13 is that of sRGB, 1 that of video; 8 is linear, 16 and 18 are PQ and
    HLG, of high dynamic range."""
    from_pillow(Image.new("RGB", (64, 64), (200, 40, 30))).save(
        tmp_path / "p3.heic",
        quality=-1,
        chroma=444,
        color_primaries=12,
        transfer_characteristics=transfer,
        matrix_coefficients=0,
        full_range_flag=1,
    )
    reading = measure(tmp_path / "p3.heic", WHOLE)
    assert ("P3" in reading.profile) is read
    assert any("high dynamic range" in warning for warning in reading.warnings) is not read


def test_a_telephones_two_picture_jpeg_is_its_first_picture(tmp_path):
    first, second = Image.new("RGB", (60, 60), (90, 30, 20)), Image.new("RGB", (60, 60))
    first.save(tmp_path / "phone.jpg", "MPO", save_all=True, append_images=[second])
    photo = open_photo(tmp_path / "phone.jpg")
    assert np.abs(np.asarray(photo.image)[30, 30].astype(int) - (90, 30, 20)).max() < 4


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("factor", [1, 3])
def test_a_picture_made_small_is_upright(tmp_path, orientation, factor):
    """Pillow's own turning and reducing of the whole are the judge."""
    codes = np.random.default_rng(2).integers(0, 256, (700, 400, 3)).astype(np.uint8)
    exif = Image.Exif()
    exif[0x0112] = orientation
    Image.fromarray(codes).save(tmp_path / "p.png", exif=exif)
    negative = open_negative(tmp_path / "p.png")
    whole = negative.image.reduce(factor) if factor > 1 else negative.image
    upright = replace(negative, image=whole).upright()
    small, _ = negative.reduced(factor)
    assert np.array_equal(small, np.asarray(upright))
