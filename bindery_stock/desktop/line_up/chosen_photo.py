"""One photograph that comes in: from the clipboard, or chosen."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QTemporaryDir
from PySide6.QtGui import QClipboard
from PySide6.QtWidgets import QFileDialog, QWidget

from bindery_stock.desktop.drops import PHOTO_FILTERS, photo_paths

NOTHING_COPIED = "There is no photograph on the clipboard. Copy a picture or its file first."
_NAME = "Pasted photograph.png"


def ask_photo(over: QWidget, title: str, chosen: Callable[[Path], None]) -> None:
    """Let one file be chosen."""
    dialog = QFileDialog(over, title)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.setNameFilters(PHOTO_FILTERS)
    dialog.fileSelected.connect(lambda path: chosen(Path(path)))
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()


def pasted_photo(clipboard: QClipboard, folder: QTemporaryDir) -> Path | None:
    """The file on the clipboard, or its picture written into ``folder``; None without either."""
    data = clipboard.mimeData()
    paths = photo_paths(data) if data is not None else []
    if paths:
        return paths[0]
    picture = clipboard.image()
    path = Path(folder.filePath(_NAME))
    return path if not picture.isNull() and picture.save(str(path)) else None
