"""Photographs that come in: dragged over the window, pasted, or chosen."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QFileDialog, QWidget

PHOTO_FILTERS = (
    "Photographs (*.jpg *.jpeg *.png *.tif *.tiff *.heic *.heif)",
    "All files (*)",
)
"""What a dialog offers where photographs are chosen."""


def photo_paths(data: QMimeData) -> list[Path]:
    """The local files among what is dragged or pasted."""
    return [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]


def ask_photos(over: QWidget, folder: str, chosen: Callable[[list[Path]], None]) -> None:
    """Let photographs be chosen, from this folder on; ``chosen`` gets one at least."""

    def picked(files: list[str]) -> None:
        if files:
            chosen([Path(file) for file in files])

    dialog = QFileDialog(over, "Choose photographs", folder)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
    dialog.setNameFilters(PHOTO_FILTERS)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.filesSelected.connect(picked)
    dialog.open()


class TakesPhotos:
    """A widget photographs may be dropped on; it says in ``photos_dropped`` what it does then.

    Stands before the widget's own class, and the widget accepts drops.
    """

    def photos_dropped(self, paths: list[Path]) -> None:
        """Take these files, at least one."""
        raise NotImplementedError

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take photographs and nothing else."""
        if photo_paths(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Hand on what was dropped."""
        paths = photo_paths(event.mimeData())
        if paths:
            # Whatever was proposed: the file stays with whoever let go of it.
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()
            self.photos_dropped(paths)
