"""Photographs as pictures for the screen, read off the GUI thread."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtGui import QImage

from bindery_stock.colour import draft_photo
from bindery_stock.desktop.pictures import qimage

_DRAFT = 1600
"""Longest side in pixels of the quick picture."""
_SHARPEST = 8192
"""Longest side of the sharp picture: a larger one would only fill the memory."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture for the screen, and the size of the whole upright photograph in pixels."""

    picture: QImage
    size: tuple[int, int]


def read_draft(path: Path) -> Shown:
    """The quick picture. Raises ``PhotoError`` for what is no whole photograph."""
    return _read(path, _DRAFT)


def read_full(path: Path) -> Shown:
    """The sharp picture. Raises ``PhotoError`` as ``read_draft`` does."""
    return _read(path, _SHARPEST)


def _read(path: Path, longest: int) -> Shown:
    photo = draft_photo(path, longest)
    return Shown(
        # 32 bits to a pixel is what the screen paints fastest.
        qimage(photo.image).convertToFormat(QImage.Format.Format_RGB32),
        photo.size,
    )
