"""The photographs of a volume: dropped in, told what they show, and looked at for a colour."""

from pathlib import Path

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QIcon, QImage, QPixmap
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListView,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
)

from bindery_stock.bench.adhesives.tests import keep_photo
from bindery_stock.bench.colour_room.archive_photos import archived_draft, readable_name
from bindery_stock.desktop.drops import TakesPhotos
from bindery_stock.desktop.jobs import Job, Pool
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.pictures import qimage
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import BookPhoto, Photo, Stage, View

_THUMB = QSize(GRID * 28, GRID * 21)
_FILTER = "Photographs (*.jpg *.jpeg *.png *.tif *.tiff *.heic)"


class PhotoStrip(TakesPhotos, QFrame):
    """The photographs in a row. Emits ``changed()`` and ``colour_wanted(object)`` with a Photo."""

    changed = Signal()
    colour_wanted = Signal(object)

    def __init__(self, session: Session) -> None:
        """Begin with no photographs."""
        super().__init__()
        self._session = session
        self._shots: list[BookPhoto] = []
        self._thumbs: dict[str, QIcon] = {}
        self.setAcceptDrops(True)
        self.list = QListWidget()
        self.list.setViewMode(QListView.ViewMode.IconMode)
        self.list.setFlow(QListView.Flow.LeftToRight)
        self.list.setWrapping(False)
        self.list.setMovement(QListView.Movement.Static)
        self.list.setIconSize(_THUMB)
        self.list.setFixedHeight(_THUMB.height() + GRID * 12)
        self.list.setAccessibleName("Photographs of this volume")
        self.list.currentRowChanged.connect(self._show_chosen)
        self.hint = QLabel("Drop photographs of the volume here: spine, boards, what is wrong.")
        self.hint.setProperty("role", "muted")
        self.hint.setWordWrap(True)
        self.shows = QComboBox()
        self.shows.addItems([str(view) for view in View])
        self.shows.setAccessibleName("What the photograph shows")
        self.shows.activated.connect(self._told)
        self.stage = QComboBox()
        self.stage.addItems([str(stage) for stage in Stage])
        self.stage.setAccessibleName("When it was taken")
        self.stage.activated.connect(self._told)
        self.add_button = QPushButton("Add…")
        self.add_button.clicked.connect(self.ask_for_photos)
        self.colour_button = QPushButton("Read a colour on it…")
        self.colour_button.clicked.connect(self._ask_colour)
        self.remove_button = quiet_button("Take out")
        self.remove_button.clicked.connect(self._take_out)
        self._lay_out()
        self._refresh()

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        for widget in (self.add_button, self.shows, self.stage, self.colour_button):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.remove_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(self.hint)
        column.addWidget(self.list)
        column.addLayout(row)

    def shots(self) -> tuple[BookPhoto, ...]:
        """The photographs as they are told."""
        return tuple(self._shots)

    def show_shots(self, shots: tuple[BookPhoto, ...]) -> None:
        """Show these photographs."""
        self._shots = list(shots)
        self._refresh()

    def chosen(self) -> BookPhoto | None:
        """The photograph in hand."""
        row = self.list.currentRow()
        return self._shots[row] if 0 <= row < len(self._shots) else None

    def ask_for_photos(self) -> None:
        """Choose photographs."""
        dialog = QFileDialog(self, "Photographs of the volume", "", _FILTER)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
        dialog.filesSelected.connect(lambda paths: self.add([Path(path) for path in paths]))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def add(self, paths: list[Path]) -> None:
        """Archive photographs and take them in."""
        room = self._session.stockroom

        def work(job: Job) -> list[Photo]:
            kept = []
            for path in paths:
                job.check()
                kept.append(keep_photo(room, path))
            return kept

        self._session.jobs.run(work, owner=self, done=self._take_in, pool=Pool.STOCK)

    def _take_in(self, photos: list[Photo]) -> None:
        known = {shot.photo.sha256 for shot in self._shots}
        for photo in photos:
            if photo.sha256 not in known:
                self._shots.append(BookPhoto(photo, _guess(photo.name) or View.WHOLE))
        self._refresh(len(self._shots) - 1)
        self.changed.emit()

    def _refresh(self, row: int = 0) -> None:
        self.list.clear()
        for shot in self._shots:
            item = QListWidgetItem(f"{shot.shows}, {shot.stage}")
            item.setToolTip(plain_tip(readable_name(shot.photo.name)))
            item.setIcon(self._thumb(shot.photo))
            item.setSizeHint(QSize(_THUMB.width() + GRID * 4, _THUMB.height() + GRID * 8))
            self.list.addItem(item)
        self.list.setVisible(bool(self._shots))
        self.hint.setVisible(not self._shots)
        self.list.setCurrentRow(row if self._shots else -1)
        self._show_chosen()

    def _show_chosen(self, _row: int = 0) -> None:
        shot = self.chosen()
        for widget in (self.shows, self.stage, self.colour_button, self.remove_button):
            widget.setVisible(shot is not None)
        if shot is not None:
            self.shows.setCurrentText(str(shot.shows))
            self.stage.setCurrentText(str(shot.stage))

    def _told(self, _index: int = 0) -> None:
        row, shot = self.list.currentRow(), self.chosen()
        if shot is not None:
            self._shots[row] = BookPhoto(
                shot.photo, View(self.shows.currentText()), Stage(self.stage.currentText())
            )
            self._refresh(row)
            self.changed.emit()

    def _take_out(self) -> None:
        row = self.list.currentRow()
        if 0 <= row < len(self._shots):
            del self._shots[row]
            self._refresh()
            self.changed.emit()

    def _ask_colour(self) -> None:
        shot = self.chosen()
        if shot is not None:
            self.colour_wanted.emit(shot.photo)

    def _thumb(self, photo: Photo) -> QIcon:
        if photo.sha256 in self._thumbs:
            return self._thumbs[photo.sha256]
        room = self._session.stockroom

        def work(_job: Job) -> QImage:
            draft = archived_draft(room, photo, 2 * _THUMB.width())
            return qimage(draft.image)

        def done(image: QImage) -> None:
            picture = QPixmap.fromImage(image)
            icon = QIcon(picture)
            icon.addPixmap(picture, QIcon.Mode.Selected)  # cloth keeps its colour where chosen
            self._thumbs[photo.sha256] = icon
            for row, shot in enumerate(self._shots):
                if shot.photo.sha256 == photo.sha256:
                    self.list.item(row).setIcon(self._thumbs[photo.sha256])

        self._session.jobs.run(work, owner=self, done=done)
        return QIcon()

    def photos_dropped(self, paths: list[Path]) -> None:
        """Archive what is dropped."""
        self.add(paths)


def _guess(name: str) -> View | None:
    """What a file's name says it shows."""
    words = name.casefold()
    for word, view in (
        ("spine", View.SPINE),
        ("back", View.SPINE),
        ("board", View.FRONT),
        ("front", View.FRONT),
        ("inside", View.INSIDE),
        ("damage", View.DAMAGE),
    ):
        if word in words:
            return view
    return None
