"""A file taken for a photograph: its header is read, and what must not be decoded refused."""

import stat
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import BinaryIO, Final

from PIL import Image, ImageFile, TiffImagePlugin, UnidentifiedImageError, WebPImagePlugin

from bindery_stock.colour.deep import misread
from bindery_stock.colour.png_colour import code_points
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
_READ: Final = frozenset(
    ("JPEG", "MPO", "PNG", "TIFF", "HEIF", WebPImagePlugin.WebPImageFile.format)
)
DECODER_FAULTS: Final = (
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

# Pillow's own guard stays on, at our limit: it warns above it and refuses above twice as much.
Image.MAX_IMAGE_PIXELS = MOST_PIXELS


@contextmanager
def header_of(path: Path) -> Iterator[ImageFile.ImageFile]:
    """Open the file, read its header only, and refuse what must not be decoded."""
    with _file(path) as file:
        image = _identified(file, path.name)
        if points := code_points(file):
            image.info["cicp"] = points
        _check_header(image, path.name)
        yield image


def _file(path: Path) -> BinaryIO:
    """The open file; Pillow, left to open it, forgets to close it where it gives up."""
    name = path.name
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            raise PhotoError(f"“{name}” is a folder or a device, not a file. Choose a photograph.")
        if status.st_size == 0:
            raise PhotoError(f"“{name}” is empty (zero bytes). Copy it from the camera once more.")
        return path.open("rb")
    except FileNotFoundError as error:
        raise PhotoError(f"There is no file “{name}” any more. Choose it again.") from error
    except PermissionError as error:
        raise PhotoError(
            f"“{name}” may not be read. Change its permissions or copy it elsewhere."
        ) from error
    except OSError as error:
        raise PhotoError(
            f"“{name}” cannot be read ({error.strerror}). Copy it elsewhere."
        ) from error


@cache
def _heic_is_known() -> None:
    """Teach Pillow to read HEIC, once: not before the first photograph is opened."""
    from pillow_heif import register_heif_opener  # noqa: PLC0415 - at first use

    register_heif_opener()


def _identified(file: BinaryIO, name: str) -> ImageFile.ImageFile:
    _heic_is_known()
    try:
        return Image.open(file, formats=_FORMATS)
    except UnidentifiedImageError as error:
        raise PhotoError(
            f"“{name}” is not a picture this program reads. Save it as JPEG, PNG, TIFF or HEIC."
        ) from error
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PhotoError(_too_large(name)) from error
    except DECODER_FAULTS as error:
        raise PhotoError(
            f"“{name}” is damaged and cannot be opened. Copy it from the camera once more."
        ) from error


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
    if fault := misread(image):
        raise PhotoError(
            f"“{name}” {fault}, which is not read. Save it as an ordinary TIFF or PNG."
        )
    if image.mode == "1":
        raise PhotoError(
            f"“{name}” is black and white only (1 bit a pixel). Use the colour photograph."
        )
