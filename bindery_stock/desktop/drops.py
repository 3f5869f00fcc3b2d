"""What is dragged over or pasted into the window."""

from pathlib import Path

from PySide6.QtCore import QMimeData

PHOTO_FILTERS = (
    "Photographs (*.jpg *.jpeg *.png *.tif *.tiff *.heic *.heif)",
    "All files (*)",
)
"""What a dialog offers where photographs are chosen."""


def photo_paths(data: QMimeData) -> list[Path]:
    """The local files among what is dragged or pasted."""
    return [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]
