"""Choosing what values a target is held against."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFileDialog, QHBoxLayout, QPushButton, QWidget

from bindery_stock.bench.colour_room.sitting import keep_values
from bindery_stock.bench.colour_room.snapshot import COLOUR_ROOM, ColourRoomView, snapshot
from bindery_stock.colour import EDITIONS, SINCE_2014, Reference, read_reference
from bindery_stock.desktop.jobs import Job, Pool
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip

_WORDS = {
    EDITIONS[0]: "Published, made since November 2014",
    EDITIONS[1]: "Published, made before November 2014",
}
_FILES = ("Values of a target (*.csv *.txt *.cgats *.it8 *.cxf.txt)", "All files (*)")


class Editions(QWidget):
    """Emits ``changed()`` when other values are chosen.

    The binder's own values, once read from a file, are kept with the stockroom.
    """

    changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with the edition made today."""
        super().__init__()
        self._session = session
        self._job: Job | None = None
        self.box = QComboBox()
        self.box.setAccessibleName("Values of the target")
        self.box.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.box.setMinimumContentsLength(10)
        self.box.activated.connect(lambda _index: self.changed.emit())
        self.file_button = QPushButton("File…")
        self.file_button.setToolTip(
            "Values measured on your own target: CSV with a heading line, or CGATS.17 text"
        )
        self.file_button.clicked.connect(self.ask_for_file)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(self.box, 1)
        row.addWidget(self.file_button)
        self._known: tuple[Reference, ...] = ()
        self.refresh()

    @property
    def reference(self) -> Reference:
        """The values chosen."""
        return self._known[max(self.box.currentIndex(), 0)]

    def show_reference(self, reference: Reference) -> None:
        """Choose these values, without telling."""
        if reference not in self._known:
            self._offer((*self._known, reference))
        self.box.setCurrentIndex(self._known.index(reference))
        self.box.setToolTip(plain_tip(reference.source))

    def refresh(self) -> None:
        """Offer what the open stockroom has."""
        chosen = self.reference if self._known else SINCE_2014
        open_room = self._session.is_open
        self._offer(self._session.snapshot(COLOUR_ROOM).view.editions if open_room else EDITIONS)
        self.box.setCurrentIndex(self._known.index(chosen) if chosen in self._known else 0)

    def _offer(self, references: tuple[Reference, ...]) -> None:
        self._known = references
        self.box.clear()
        for reference in references:
            source = reference.source
            self.box.addItem(_WORDS.get(reference, source[:1].upper() + source[1:]))

    def ask_for_file(self) -> None:
        """Choose a file of one's own values."""
        dialog = QFileDialog(self, "Values of your target")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters(_FILES)
        dialog.fileSelected.connect(lambda path: self.read_file(Path(path)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def read_file(self, path: Path) -> None:
        """Read one's own values from a file, keep them and choose them."""
        stockroom = self._session.stockroom

        def work(_job: Job) -> tuple[Reference, ColourRoomView]:
            reference = read_reference(path)
            if not stockroom.read_only:
                keep_values(stockroom, reference)
            return reference, snapshot(stockroom)

        def done(read: tuple[Reference, ColourRoomView]) -> None:
            reference, view = read
            self._session.snapshot(COLOUR_ROOM).take(view)
            self.show_reference(reference)
            self.changed.emit()

        self._job = self._session.jobs.run(work, owner=self, done=done, pool=Pool.STOCK)
