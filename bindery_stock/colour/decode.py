"""The program's one decoder of photographs: upright, whole, and honest about what it did.

Everything that opens a picture goes through here, so that a broken, hostile or misleading file is
met once. The limit on pixels is checked on the header, before anything is decoded.
"""

import stat
import struct
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PIL import (
    ExifTags,
    Image,
    ImageCms,
    ImageOps,
    TiffImagePlugin,
    UnidentifiedImageError,
    WebPImagePlugin,
)
from pillow_heif import register_heif_opener

from bindery_stock.colour.profiles import to_display
from bindery_stock.errors import PhotoError

MOST_PIXELS: Final = 220_000_000
"""More than any telephone or full-frame camera makes; 660 MB once decoded."""

_FORMATS: Final = (
    "JPEG",  # and the MPO of telephones
    "PNG",
    "GIF",
    "HEIF",
    TiffImagePlugin.TiffImageFile.format,
    WebPImagePlugin.WebPImageFile.format,
)
"""What is looked at; what is only refused by name is among them."""
_READ: Final = frozenset(("JPEG", "MPO", "PNG", "TIFF", "HEIF"))
_GREY_16: Final = frozenset(("I;16", "I;16L", "I;16B"))
_MODES: Final = frozenset(("RGB", "L", "CMYK")) | _GREY_16
_DECODER_FAULTS: Final = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    EOFError,
    OverflowError,
    RuntimeError,
    struct.error,
    zlib.error,
)
"""What the decoders raise on files that are damaged rather than absent."""

register_heif_opener()
# Pillow's own guard stays on, at our limit: it warns above it and refuses above twice as much.
Image.MAX_IMAGE_PIXELS = MOST_PIXELS


@dataclass(frozen=True, slots=True)
class OpenPhoto:
    """A decoded photograph, upright."""

    path: Path
    image: Image.Image
    """Upright; mode ``RGB``, ``L`` or 16-bit grey ``I;16``; ``info`` keeps the profile."""
    size: tuple[int, int]
    """Width and height of the whole upright photograph in pixels, also where this is a draft."""
    notes: tuple[str, ...] = ()
    """What was done to the picture that bears on its colour, in words for the user."""


def open_photo(path: Path) -> OpenPhoto:
    """Decode a photograph whole and turn it upright (EXIF orientation).

    Raises ``PhotoError`` naming the file and the mend where it is missing, unreadable, not a
    picture, cut short, too large, animated, one-bit or in a form without a known colour.
    """
    image = _header(Path(path))
    with image:
        size = _upright_size(image)
        return _finish(Path(path), _load(image, Path(path)), size)


def draft_photo(path: Path, longest: int) -> OpenPhoto:
    """A quick picture to look at: 8-bit sRGB, its longer side at most ``longest`` pixels.

    Colours are for the screen. Never measure from it: shrinking averages codes, not light.
    Raises ``PhotoError`` as ``open_photo`` does.
    """
    path = Path(path)
    image = _header(path)
    scale = min(1.0, longest / max(image.size))
    with image:
        size = _upright_size(image)
        width, height = image.size
        image.draft(None, (max(1, int(width * scale)), max(1, int(height * scale))))
        photo = _finish(path, _load(image, path), size)
    shown = photo.image
    if max(shown.size) > longest:
        shown.thumbnail((longest, longest), Image.Resampling.BILINEAR, reducing_gap=2.0)
    try:
        shown = to_display(shown)
    except ImageCms.PyCMSError as error:
        raise PhotoError(
            f"“{path.name}” carries a colour profile that is damaged. Save it again as sRGB."
        ) from error
    return OpenPhoto(path, shown, photo.size, photo.notes)


def _header(path: Path) -> Image.Image:
    """Open the file, read its header only, and refuse what must not be decoded."""
    name = path.name
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            raise PhotoError(f"“{name}” is a folder or a device, not a file. Choose a photograph.")
        if status.st_size == 0:
            raise PhotoError(f"“{name}” is empty (zero bytes). Copy it from the camera once more.")
        image = Image.open(path, formats=_FORMATS)
    except FileNotFoundError as error:
        raise PhotoError(f"There is no file “{name}” any more. Choose it again.") from error
    except PermissionError as error:
        raise PhotoError(
            f"“{name}” may not be read. Change its permissions or copy it elsewhere."
        ) from error
    except UnidentifiedImageError as error:
        raise PhotoError(
            f"“{name}” is not a picture this program reads. Save it as JPEG, PNG, TIFF or HEIC."
        ) from error
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PhotoError(_too_large(name)) from error
    except _DECODER_FAULTS as error:
        raise PhotoError(
            f"“{name}” is damaged and cannot be opened. Copy it from the camera once more."
        ) from error
    try:
        _check_header(image, name)
    except PhotoError:
        image.close()
        raise
    return image


def _too_large(name: str) -> str:
    most = MOST_PIXELS // 1_000_000
    return f"“{name}” is larger than {most} megapixels. Save a smaller copy, or crop it."


def _check_header(image: Image.Image, name: str) -> None:
    width, height = image.size
    if width * height > MOST_PIXELS:
        raise PhotoError(_too_large(name))
    # A telephone's MPO holds a second picture (a depth or gain map); the first is the photograph.
    if image.format not in {"MPO", "HEIF"} and getattr(image, "n_frames", 1) > 1:
        raise PhotoError(
            f"“{name}” is animated or holds several pages. Save the one picture as JPEG or PNG."
        )
    if image.format not in _READ:
        raise PhotoError(
            f"“{name}” is a {image.format} picture. Save it as JPEG, PNG, TIFF or HEIC."
        )
    if image.mode == "1":
        raise PhotoError(
            f"“{name}” is black and white only (1 bit a pixel). Use the colour photograph."
        )


def _upright_size(image: Image.Image) -> tuple[int, int]:
    """The size after turning; orientations 5 to 8 lie on their side (EXIF 2.3, tag 274)."""
    width, height = image.size
    lying = image.getexif().get(ExifTags.Base.Orientation, 1) in range(5, 9)
    return (height, width) if lying else (width, height)


def _load(image: Image.Image, path: Path) -> Image.Image:
    """Decode every pixel and turn the picture upright."""
    try:
        image.load()
        return ImageOps.exif_transpose(image)
    except MemoryError as error:
        raise PhotoError(
            f"There is not enough memory to open “{path.name}”. Close other programs."
        ) from error
    except _DECODER_FAULTS as error:
        raise PhotoError(
            f"“{path.name}” is cut short or damaged. Copy it from the camera once more."
        ) from error


def _finish(path: Path, image: Image.Image, size: tuple[int, int]) -> OpenPhoto:
    """Bring the picture into one of the few modes whose colour is known."""
    notes: list[str] = []
    if image.mode in ("P", "PA"):
        image = _keep_profile(image, image.convert("RGBA"))
    if image.mode in ("RGBA", "LA"):
        image = _opaque(image, notes)
    if image.mode not in _MODES:
        raise PhotoError(
            f"“{path.name}” is stored in a form whose colour is not known ({image.mode}). "
            "Save it as an ordinary 8-bit RGB picture."
        )
    if image.mode == "CMYK":
        raise PhotoError(f"“{path.name}” is in printing colours (CMYK). Save it as an RGB picture.")
    return OpenPhoto(path, image, size, tuple(notes))


def _opaque(image: Image.Image, notes: list[str]) -> Image.Image:
    """Lay a picture with transparency on white; an opaque one only loses the channel."""
    plain = "RGB" if image.mode == "RGBA" else "L"
    lowest = image.getchannel("A").getextrema()[0]
    if lowest == 255:
        return _keep_profile(image, image.convert(plain))
    notes.append("The picture is partly transparent; it was laid on white.")
    ground = Image.new(image.mode, image.size, "white")
    return _keep_profile(image, Image.alpha_composite(ground, image).convert(plain))


def _keep_profile(source: Image.Image, result: Image.Image) -> Image.Image:
    if "icc_profile" in source.info:
        result.info["icc_profile"] = source.info["icc_profile"]
    return result
