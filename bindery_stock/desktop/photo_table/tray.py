"""Waiting photographs, along the foot of the photo table."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon, QImage, QPainter, QPixmap
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QLabel,
    QListView,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.drawn_shapes import surround
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.read_photo import THUMBNAIL
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.tips import plain_tip

_RATIO = 2
"""Thumbnails are drawn at half their size, so that they are sharp on a fine screen."""
_THUMB = THUMBNAIL / _RATIO
_SHOWN = Qt.ItemDataRole.UserRole
"""Which thumbnail an item shows."""


class Tray(QWidget):
    """One thumbnail for each photograph that waits, in the order they came.

    Emits ``wanted(Draft)`` when one is chosen, ``more_wanted()`` and ``aside_wanted()`` from its
    buttons.
    """

    wanted = Signal(object)
    more_wanted = Signal()
    aside_wanted = Signal()

    def __init__(self) -> None:
        """Begin empty."""
        super().__init__()
        self._drafts: list[ScrapDraft] = []
        self.count = QLabel()
        self.count.setTextFormat(Qt.TextFormat.PlainText)
        self.list = QListWidget()
        self.list.setAccessibleName("Waiting photographs")
        self.list.setViewMode(QListView.ViewMode.IconMode)
        self.list.setFlow(QListView.Flow.LeftToRight)
        self.list.setWrapping(False)
        self.list.setMovement(QListView.Movement.Static)
        self.list.setIconSize(_THUMB)
        self.list.setSpacing(GRID)
        self.list.setUniformItemSizes(True)
        self.list.setTextElideMode(Qt.TextElideMode.ElideMiddle)
        self.list.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        line = self.fontMetrics().height()
        self._cell = QSize(_THUMB.width() + GRID * 8, _THUMB.height() + line + GRID * 2)
        self.list.setFixedHeight(self._cell.height() + GRID * 6)
        self.list.currentRowChanged.connect(self._chosen)
        self.more_button = QPushButton("&Choose photographs…")
        self.more_button.clicked.connect(self.more_wanted)
        self.aside_button = quiet_button("Set this one aside")
        self.aside_button.clicked.connect(self.aside_wanted)
        side = QVBoxLayout()
        side.setSpacing(GRID)
        side.addWidget(self.count)
        side.addStretch(1)
        side.addWidget(self.more_button)
        side.addWidget(self.aside_button)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 2, GRID * 3, GRID * 2)
        row.setSpacing(GRID * 3)
        row.addWidget(self.list, 1)
        row.addLayout(side)

    def show_drafts(self, drafts: list[ScrapDraft], current: ScrapDraft | None) -> None:
        """Show these, with the one on the table chosen."""
        self.list.blockSignals(True)
        if drafts != self._drafts or self.list.count() != len(drafts):
            self._drafts = list(drafts)
            self.list.clear()
            for draft in drafts:
                item = QListWidgetItem(_icon(draft.thumbnail), draft.name)
                item.setData(_SHOWN, draft.thumbnail.cacheKey())
                item.setSizeHint(self._cell)
                item.setToolTip(plain_tip(draft.name))
                self.list.addItem(item)
        else:
            for row, draft in enumerate(drafts):
                item = self.list.item(row)
                if item.data(_SHOWN) != draft.thumbnail.cacheKey():
                    item.setIcon(_icon(draft.thumbnail))
                    item.setData(_SHOWN, draft.thumbnail.cacheKey())
        row = drafts.index(current) if current in drafts else -1
        self.list.setCurrentRow(row)
        self.list.blockSignals(False)
        waiting = len(drafts)
        self.count.setText(f"{waiting} photograph{'s' if waiting != 1 else ''} waiting")
        self.aside_button.setEnabled(current is not None)

    def _chosen(self, row: int) -> None:
        if 0 <= row < len(self._drafts):
            self.wanted.emit(self._drafts[row])


def _icon(thumbnail: QImage) -> QIcon:
    """The photograph on neutral ground, or only the ground while it is being read."""
    cell = QImage(THUMBNAIL, QImage.Format.Format_RGB32)
    cell.fill(surround())
    if not thumbnail.isNull():
        painter = QPainter(cell)
        left, top = cell.width() - thumbnail.width(), cell.height() - thumbnail.height()
        painter.drawImage(left // 2, top // 2, thumbnail)
        painter.end()
    pixmap = QPixmap.fromImage(cell)
    pixmap.setDevicePixelRatio(_RATIO)
    icon = QIcon(pixmap)
    # Cloth keeps its colour where it is chosen; the words below show the choice.
    icon.addPixmap(pixmap, QIcon.Mode.Selected)
    return icon
