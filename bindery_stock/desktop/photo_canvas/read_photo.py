"""Photographs as pictures for the screen, read off the GUI thread."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage

from bindery_stock.colour import draft_photo
from bindery_stock.desktop.pictures import qimage

LONGEST_DRAFT = 1600
"""Longest side in pixels of the quick picture."""
THUMBNAIL = QSize(144, 108)
"""Largest width and height of a thumbnail in pixels of the screen."""
_SHARPEST = 8192
"""Longest side of the sharp picture: a larger one would only fill the memory."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture for the screen, and the size of the whole upright photograph in pixels."""

    picture: QImage
    thumbnail: QImage
    size: tuple[int, int]


def read_draft(path: Path) -> Shown:
    """The quick picture. Raises ``PhotoError`` for what is no whole photograph."""
    return _read(path, LONGEST_DRAFT)


def read_full(path: Path) -> Shown:
    """The sharp picture. Raises ``PhotoError`` as ``read_draft`` does."""
    return _read(path, _SHARPEST)


def _read(path: Path, longest: int) -> Shown:
    photo = draft_photo(path, longest)
    # 32 bits to a pixel is what the screen paints fastest.
    picture = qimage(photo.image).convertToFormat(QImage.Format.Format_RGB32)
    thumbnail = picture.scaled(
        THUMBNAIL,
        Qt.AspectRatioMode.KeepAspectRatio,
        Qt.TransformationMode.SmoothTransformation,
    )
    return Shown(picture, thumbnail, photo.size)
