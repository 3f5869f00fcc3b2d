"""Choosing one of the photographs in the archive."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.colour_room.archive_photos import Archived, archived
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.canvas import PhotoCanvas
from bindery_stock.desktop.photo_canvas.read_photo import Shown, read_draft
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button
from bindery_stock.desktop.session import Session

_ROLE = Qt.ItemDataRole.UserRole


class ArchivePicker(QDialog):
    """Emits ``picked(Path, str)`` with the original and its name."""

    picked = Signal(object, str)

    def __init__(self, session: Session, parent: QWidget) -> None:
        """List the photographs of the open stockroom."""
        super().__init__(parent)
        self._session = session
        self._job: Job | None = None
        self.setWindowTitle("A photograph from the archive")
        self.search = QLineEdit()
        self.search.setPlaceholderText("Find by name or code")
        self.search.setAccessibleName("Find a photograph by name or code")
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._sift)
        self.list = QListWidget()
        self.list.setAccessibleName("Photographs in the archive")
        self.list.currentItemChanged.connect(lambda *_: self._preview())
        self.list.itemActivated.connect(lambda _item: self._take())
        self.empty = EmptyState(
            "No photograph is in the archive yet",
            "Photographs come into the archive when a scrap is shelved at the photo table.",
            [],
        )
        self.body = EitherOr(self.list, self.empty)
        self.canvas = PhotoCanvas()
        self.canvas.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.take_button = next_button("Take this photograph")
        self.take_button.setEnabled(False)
        self.take_button.clicked.connect(self._take)
        self._lay_out()
        self.resize(GRID * 220, GRID * 140)
        session.jobs.run(
            lambda _job: archived(session.stockroom), owner=self, done=self._show_photos
        )

    def _lay_out(self) -> None:
        label = QLabel("&Find")
        label.setBuddy(self.search)
        finding = QHBoxLayout()
        finding.addWidget(label)
        finding.addWidget(self.search, 1)
        side = QVBoxLayout()
        side.setSpacing(GRID * 2)
        side.addLayout(finding)
        side.addWidget(self.body, 1)
        side.addWidget(DialogFoot(self, self.take_button))
        row = QHBoxLayout(self)
        row.addLayout(side, 2)
        row.addWidget(self.canvas, 3)

    def _show_photos(self, photos: list[Archived]) -> None:
        for one in photos:
            item = QListWidgetItem(one.words)
            item.setData(_ROLE, one)
            self.list.addItem(item)
        self.body.show_only(self.list if photos else self.empty)
        self.canvas.setVisible(bool(photos))
        if photos:
            self.list.setCurrentRow(0)
            self.list.setFocus()

    def _sift(self, text: str) -> None:
        wanted = text.strip().casefold()
        for row in range(self.list.count()):
            item = self.list.item(row)
            item.setHidden(wanted not in item.text().casefold())

    def _chosen(self) -> Archived | None:
        item = self.list.currentItem()
        return item.data(_ROLE) if item is not None and not item.isHidden() else None

    def _preview(self) -> None:
        chosen = self._chosen()
        self.take_button.setEnabled(chosen is not None)
        if self._job is not None:
            self._job.stop()
        if chosen is None:
            return
        stockroom, sha256 = self._session.stockroom, chosen.photo.sha256

        def done(shown: Shown) -> None:
            self.canvas.show_photo(shown.picture, QImage(), shown.size)

        self._job = self._session.jobs.run(
            lambda _job: read_draft(stockroom.photos.path(sha256)), owner=self, done=done
        )

    def _take(self) -> None:
        chosen = self._chosen()
        if chosen is None:
            return
        path: Path = self._session.stockroom.photos.path(chosen.photo)
        self.picked.emit(path, chosen.photo.name)
        self.accept()
