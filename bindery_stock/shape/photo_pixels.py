"""The pixels of an upright photograph, small enough to be looked through quickly."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageOps, UnidentifiedImageError

from bindery_stock.errors import PhotoError

Pixels = npt.NDArray[np.float32]
"""Rows × columns × red, green, blue, from 0 to 1 as coded in the file."""
Photo = Path | npt.NDArray[np.uint8] | npt.NDArray[np.float32]
"""A file, or rows × columns × 3 pixels already upright: whole numbers to 255, or floats to 1."""


def upright_pixels(photo: Photo, longest: int) -> tuple[Pixels, float]:
    """The upright pixels, shrunk so that the longer side is at most about ``longest``.

    And by how much they were shrunk: pixels of the photograph to one pixel of the answer. Raises
    ``PhotoError`` for what is not a photograph, naming the file.
    """
    if not isinstance(photo, Path):
        pixels = np.asarray(photo)
        if pixels.ndim != 3 or pixels.shape[2] < 3:
            raise PhotoError("These pixels are not rows × columns × red, green, blue.")
        top = 255.0 if np.issubdtype(pixels.dtype, np.integer) else 1.0
        return shrunk(pixels[:, :, :3].astype(np.float32) / np.float32(top), longest)
    with _opened(photo) as image:
        times = max(-(-max(image.size) // longest), 1)
        upright = ImageOps.exif_transpose(image).convert("RGB").reduce(times)
    return np.asarray(upright, dtype=np.float32) / np.float32(255.0), float(times)


def upright_grey(photo: Path) -> npt.NDArray[np.uint8]:
    """Every upright pixel in grey, rows × columns. Raises ``PhotoError`` as ``upright_pixels``."""
    with _opened(photo) as image:
        return np.asarray(ImageOps.exif_transpose(image).convert("L"))


@contextmanager
def _opened(photo: Path) -> Iterator[Image.Image]:
    """The photograph in a file; whatever keeps it from being read is told with its name."""
    from pillow_heif import register_heif_opener  # noqa: PLC0415 - at first use

    register_heif_opener()
    try:
        with Image.open(photo) as image:
            yield image
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PhotoError(
            f"{photo.name} has too many pixels to be a photograph of a scrap. Save it smaller."
        ) from error
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError) as error:
        raise PhotoError(
            f"{photo.name} cannot be read as a photograph. Open it elsewhere to see whether it is "
            "whole, or take it again."
        ) from error


def shrunk(pixels: Pixels, longest: int) -> tuple[Pixels, float]:
    """The pixels with the longer side at most ``longest``, and by how much they were shrunk.

    Means over whole squares of pixels, so that nothing shifts.
    """
    times = max(-(-max(pixels.shape[:2]) // longest), 1)
    if times == 1:
        return pixels, 1.0
    rows, columns = pixels.shape[0] // times, pixels.shape[1] // times
    whole = pixels[: rows * times, : columns * times]
    squares = whole.reshape(rows, times, columns, times, 3)
    return np.asarray(squares.mean(axis=(1, 3)), dtype=np.float32), float(times)
