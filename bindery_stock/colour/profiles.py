"""What the codes of a photograph mean: from codes to linear light and to XYZ (D50).

A profile is honoured by its content, never by its name: files called “Display P3 … with sRGB
Transfer” exist. Where a file has none, its nclx box (HEIC, ITU-T H.273) or the camera's EXIF
interoperability mark is used, and else sRGB is assumed and said.
"""

import io
import struct
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final, Protocol

import numpy as np
from numpy.typing import NDArray
from PIL import ExifTags, Image, ImageCms

from bindery_stock.colour.icc import Curve, ProfileFaultError, read_icc
from bindery_stock.colour.plausible import implausible
from bindery_stock.colour.png_colour import CodePoints, gamma_and_primaries
from bindery_stock.colour.space import (
    D65,
    SRGB_TO_XYZ,
    XYZ_TO_SRGB,
    Array,
    apply_matrix,
    lab_to_xyz,
    primaries_matrix,
    srgb_decode,
    xyz_to_lab,
)

_P3_D65: Final = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
_BT_2020: Final = ((0.708, 0.292), (0.170, 0.797), (0.131, 0.046))
_OPRGB: Final = ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06))
"""IEC 61966-2-5, the space a camera means by the interoperability mark R03."""
_OPRGB_GAMMA: Final = 563 / 256

_NCLX_PRIMARIES: Final[dict[int, tuple[str, Array]]] = {
    1: ("BT.709", SRGB_TO_XYZ),
    9: ("BT.2020", primaries_matrix(_BT_2020, D65)),
    12: ("P3-D65", primaries_matrix(_P3_D65, D65)),
}
"""ITU-T H.273 table 2, colour_primaries."""
_SRGB_TRANSFER: Final = 13
"""ITU-T H.273 table 3, transfer_characteristics: IEC 61966-2-1. Still pictures that carry the
video curves 1, 6, 14 or 15 are shown by the same curve in practice."""
_UNSPECIFIED: Final = 2
_LINEAR_TRANSFER: Final = 8
_CMS_FAULTS: Final = (ImageCms.PyCMSError, OSError, ValueError, TypeError)
"""What littleCMS, through Pillow, raises on a profile it cannot use."""
_PICTURE_TRANSFERS: Final = frozenset((1, 2, 6, _SRGB_TRANSFER, 14, 15))


class LightEncoding(Protocol):
    """How a photograph's codes stand for light."""

    @property
    def name(self) -> str:
        """In words, for the reading: which profile was used or assumed."""

    @property
    def matrix(self) -> Array:
        """3 × 3, from the linear channels to XYZ (D50, Y = 1)."""

    def linear(self, codes: NDArray[Any]) -> Array:
        """Codes as decoded (n × channels, 8 or 16 bit) to linear channels (n × 3, 0..1)."""


@dataclass(frozen=True)
class CurveEncoding:
    """One curve a channel and a matrix: exact in floating point."""

    name: str
    matrix: Array
    curves: tuple[Curve, ...]
    """Three, or one that serves every channel."""

    @cached_property
    def _table_8(self) -> Array:
        return self._table(256)

    @cached_property
    def _table_16(self) -> Array:
        return self._table(65536)

    def _table(self, size: int) -> Array:
        codes = np.arange(size) / (size - 1)
        # A damaged curve may leave the numbers; that it did is seen in what comes out.
        with np.errstate(all="ignore"):
            return np.stack([curve(codes) for curve in self.curves])

    def linear(self, codes: NDArray[Any]) -> Array:
        """By one table a channel; a grey picture gives three equal channels."""
        table = self._table_16 if codes.dtype.itemsize > 1 else self._table_8
        grey = codes.shape[-1] == 1
        channels = [table[c % len(table)][codes[..., 0 if grey else c]] for c in range(3)]
        return np.stack(channels, axis=-1)


@dataclass(frozen=True)
class TableEncoding:
    """A profile with look-up tables, through littleCMS to 8-bit CIELAB (D50).

    The linear channels are those of sRGB, unclipped; the bytes of CIELAB cost ΔE00 0.2 in the mean
    and 0.8 at most.
    """

    name: str
    profile: bytes
    mode: str

    @property
    def matrix(self) -> Array:
        """Linear sRGB to XYZ (D50)."""
        return SRGB_TO_XYZ

    @cached_property
    def _transform(self) -> ImageCms.ImageCmsTransform:
        return ImageCms.buildTransform(
            ImageCms.ImageCmsProfile(io.BytesIO(self.profile)),
            ImageCms.createProfile("LAB", 5000),
            self.mode,
            "LAB",
            ImageCms.Intent.RELATIVE_COLORIMETRIC,
        )

    def linear(self, codes: NDArray[Any]) -> Array:
        """Codes through the tables, then CIELAB to linear sRGB."""
        if codes.dtype.itemsize > 1:
            codes = (codes / 257 + 0.5).astype(np.uint8)
        picture = Image.frombytes(self.mode, (len(codes), 1), codes.tobytes())
        shown = ImageCms.applyTransform(picture, self._transform)
        assert shown is not None
        lab = np.asarray(shown)[0]
        # a* and b* are two's-complement bytes in Pillow's LAB, not offset ones.
        ab = lab[:, 1:].astype(np.int8)
        full = np.concatenate([lab[:, :1] * (100 / 255), ab], axis=1)
        return apply_matrix(XYZ_TO_SRGB, lab_to_xyz(full))


def _srgb(name: str) -> CurveEncoding:
    return CurveEncoding(name, SRGB_TO_XYZ, (srgb_decode,))


def encoding_of(image: Image.Image) -> tuple[LightEncoding | None, str]:
    """The encoding of a decoded picture, and a warning (or nothing) about how it was found.

    ``None`` where the picture's colour cannot be known, the sentences then saying why and what to
    do: printing colours without a profile, a profile that is damaged, of another kind of picture or
    not to be believed. To take such codes for sRGB would be a guess.
    """
    points = image.info.get("cicp")
    if isinstance(points, CodePoints) and points.primaries != _UNSPECIFIED:
        return _by_code_points(points)
    embedded = image.info.get("icc_profile")
    if embedded:
        return _by_profile(embedded, "L" if image.mode.startswith("I;16") else image.mode)
    if image.mode == "CMYK":
        return (
            None,
            "Printing colours cannot be read without their profile. Save it as an RGB picture.",
        )
    told = gamma_and_primaries(image.info)
    return _by_gamma(*told) if told else _unprofiled(image)


def _by_profile(embedded: bytes, mode: str) -> tuple[LightEncoding | None, str]:
    """The encoding an ICC profile gives, or why it cannot be used."""
    try:
        return _embedded(embedded, mode), ""
    except ProfileFaultError as error:
        return None, f"its colour profile cannot be used: {error}. {_MEND}"
    except _CMS_FAULTS:
        return None, f"its colour profile cannot be used: it is damaged. {_MEND}"


def _by_code_points(points: CodePoints) -> tuple[LightEncoding | None, str]:
    """The encoding a PNG names by ITU-T H.273, or why its colours are not read."""
    known = _NCLX_PRIMARIES.get(points.primaries)
    curve: Curve | None = srgb_decode if points.transfer in _PICTURE_TRANSFERS else None
    if points.transfer == _LINEAR_TRANSFER:
        curve = lambda v: v  # noqa: E731 - typed as a Curve
    if known is None or curve is None or not points.plain:
        return None, f"it names colours that are not read (high dynamic range?). {_MEND}"
    title, matrix = known
    return CurveEncoding(f"code points in the file: {title}", matrix, (curve,)), ""


def _by_gamma(gamma: float, points: Array) -> tuple[LightEncoding | None, str]:
    """The encoding a gamma and chromaticities (white, red, green, blue; 4 × 2) give."""
    refused = "its gamma and primaries cannot be used"
    if not 0.05 <= gamma <= 20 or points.min() < 0 or points[:, 1].min() < 0.001:
        return None, f"{refused}: no picture has them. {_MEND}"
    x, y = (float(v) for v in points[0])
    try:
        matrix = primaries_matrix(points[1:], np.array([x / y, 1.0, (1 - x - y) / y]))
        curve: Curve = lambda v: np.asarray(v ** (1 / gamma))  # noqa: E731 - typed as a Curve
        made = CurveEncoding(f"gamma {gamma:g} and primaries in the file", matrix, (curve,))
        return _believed(made, 3, exact=True), ""
    except (ProfileFaultError, np.linalg.LinAlgError):
        return None, f"{refused}: no picture has them. {_MEND}"


_MEND: Final = (
    "Copy the photograph from the camera once more, or save it as an sRGB picture with the program "
    "that made it."
)


def shown_as_srgb() -> LightEncoding:
    """For a picture that is only looked at, whatever its codes mean."""
    return _srgb("not known; shown as sRGB")


def _embedded(data: bytes, mode: str) -> LightEncoding:
    profile = read_icc(data)
    title = ImageCms.getProfileDescription(ImageCms.ImageCmsProfile(io.BytesIO(data))).strip()
    wanted = {"RGB": ("RGB",), "L": ("GRAY", "RGB"), "CMYK": ("CMYK",)}[mode]
    if profile.space not in wanted:
        raise ProfileFaultError("it is for another kind of picture")
    model = profile.model()
    if model is not None:
        matrix, curves = model
        exact = CurveEncoding(f"profile in the file: {title}", matrix, curves)
        return _believed(exact, Image.getmodebands(mode), exact=True)
    if profile.space == "RGB" and mode == "L":
        raise ProfileFaultError("its table for three channels cannot serve grey")
    encoding = TableEncoding(f"profile in the file: {title} (look-up tables)", data, mode)
    # Tried here, so that a profile littleCMS refuses is met where it can be answered.
    return _believed(encoding, Image.getmodebands(mode), exact=False)


def _believed(encoding: LightEncoding, channels: int, *, exact: bool) -> LightEncoding:
    """The encoding, or ``ProfileFaultError`` where what it makes of codes cannot be true."""

    def read(codes: NDArray[Any]) -> Array:
        with np.errstate(all="ignore"):
            return xyz_to_lab(apply_matrix(encoding.matrix, encoding.linear(codes)))

    fault = implausible(read, channels, exact=exact)
    if fault:
        raise ProfileFaultError(f"it {fault}")
    return encoding


def _unprofiled(image: Image.Image) -> tuple[LightEncoding, str]:
    nclx = image.info.get("nclx_profile")
    if nclx:
        known = _NCLX_PRIMARIES.get(int(nclx["color_primaries"]))
        if known and int(nclx["transfer_characteristics"]) in _PICTURE_TRANSFERS:
            title, matrix = known
            return CurveEncoding(f"colour box in the file: {title}", matrix, (srgb_decode,)), ""
        if int(nclx["color_primaries"]) != 2:
            return _srgb("colour box in the file not usable: sRGB assumed"), (
                "The file names colours this program does not read (high dynamic range?); sRGB "
                "was assumed. Save the photograph as JPEG."
            )
    if _camera_mark(image) == "R03":
        matrix = primaries_matrix(_OPRGB, D65)
        curve: Curve = lambda v: np.asarray(v**_OPRGB_GAMMA)  # noqa: E731 - typed as a Curve
        return CurveEncoding("camera's mark in the file: opRGB", matrix, (curve,)), ""
    return _srgb("no profile in the file: sRGB assumed"), ""


def _camera_mark(image: Image.Image) -> str:
    """The EXIF interoperability index (CIPA DC-008), or nothing."""
    try:
        mark = image.getexif().get_ifd(ExifTags.IFD.Interop).get(ExifTags.Interop.InteropIndex, "")
    except (OSError, SyntaxError, ValueError, TypeError, KeyError, struct.error):
        # A camera's notes may be broken while its picture is whole.
        return ""
    return str(mark).strip("\0 ")


def to_display(image: Image.Image) -> Image.Image:
    """The picture as 8-bit sRGB for the screen, through its profile where it carries a good one."""
    if image.mode.startswith("I;16"):
        grey = Image.fromarray((np.asarray(image) / 257 + 0.5).astype(np.uint8))
        grey.info.update(image.info)
        image = grey
    embedded = image.info.get("icc_profile")
    if not embedded:
        return image.convert("RGB")
    try:
        shown = ImageCms.profileToProfile(
            image,
            ImageCms.ImageCmsProfile(io.BytesIO(embedded)),
            ImageCms.createProfile("sRGB"),
            outputMode="RGB",
        )
    except _CMS_FAULTS:
        # A picture to look at is better shown as it stands than not at all; a reading from it
        # is refused.
        return image.convert("RGB")
    assert shown is not None
    return shown
