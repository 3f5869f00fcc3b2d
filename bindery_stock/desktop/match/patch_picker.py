"""Marks the patch of a book's photograph whose colour is sought."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.colour_reading import Sample, read
from bindery_stock.colour import ColourReading
from bindery_stock.desktop.colour_room.photo_desk import PhotoDesk
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.photo_table.reading_view import ReadingView
from bindery_stock.desktop.photo_table.ring_tool import RingTool
from bindery_stock.desktop.place import next_button
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError
from bindery_stock.stock import FaceName, Lab

_ADVICE = (
    "Mark patches of sound cloth as it will be seen: on a sunned spine, the spine itself. Keep "
    "clear of gold, glare and shadow."
)
_HINT = (
    "Drag rectangles over the cloth, three of them apart from each other. The wheel zooms; Insert "
    "puts a patch in the middle and the arrow keys move it."
)


class PatchPicker(QDialog):
    """Shows a photograph and reads the colour of the patches drawn on it.

    A grey card, a target, a plain sheet or the sitting's target correct it as at the photo table.
    Emits ``measured(ColourReading)`` when the reading is taken over.
    """

    measured = Signal(object)

    def __init__(self, session: Session, photo: Path, parent: QWidget) -> None:
        """Show the photograph as soon as a draft of it is decoded."""
        super().__init__(parent)
        self._session = session
        self._photo = photo
        self._reading: ColourReading | None = None
        self._meant: Lab | None = None
        self._job: Job | None = None
        self.setWindowTitle(f"The colour sought, on {photo.name}")
        self.tool = RingTool(_HINT, single=False)
        self.desk = PhotoDesk(session, (self.tool,), self, lending=True)
        self.canvas = self.desk.canvas
        self.hint = QLabel(_HINT)
        self.hint.setWordWrap(True)
        self.hint.setProperty("role", "muted")
        self.view = ReadingView()
        self.view.say(_ADVICE)
        self.take_button = next_button("Seek this colour")
        self.take_button.setEnabled(False)
        self._lay_out()
        self._listen()
        self.resize(GRID * 280, GRID * 170)
        self.desk.load(photo)

    def _lay_out(self) -> None:
        heading = QLabel("Mark the cloth")
        sized(heading, TypeSize.HEAD)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setSpacing(GRID * 3)
        for widget in (heading, self.hint, self.desk.references, self.view):
            column.addWidget(widget)
        column.addStretch(1)
        area = QScrollArea()
        area.setWidget(inside)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        leave = QPushButton("Leave it")
        leave.clicked.connect(self.reject)
        buttons = QHBoxLayout()
        buttons.addWidget(leave)
        buttons.addStretch(1)
        buttons.addWidget(self.take_button)
        side = QWidget()
        side.setFixedWidth(GRID * 90)
        right = QVBoxLayout(side)
        right.setContentsMargins(0, 0, 0, 0)
        right.addWidget(area, 1)
        right.addLayout(buttons)
        row = QHBoxLayout(self)
        row.addWidget(self.canvas, 1)
        row.addWidget(side)

    def _listen(self) -> None:
        self.desk.refused.connect(self._refused)
        self.desk.loaded.connect(self._show_hint)
        self.desk.changed.connect(self._measure)
        self.tool.marked.connect(self._marked)
        self.canvas.passed_on.connect(self._take_over)
        self.view.meant.connect(self._choose)
        self.take_button.clicked.connect(self._take_over)

    def _refused(self, error: Exception) -> None:
        self.reject()
        self._session.tell(error)

    def _marked(self) -> None:
        self._meant = None
        self._measure()

    def _choose(self, lab: Lab) -> None:
        self._meant = lab
        self._measure()

    def _show_hint(self) -> None:
        self.hint.setText(self.desk.hint)

    def _measure(self) -> None:
        self.take_button.setEnabled(False)
        self._reading = None
        self._show_hint()
        if self._job is not None:
            self._job.stop()
        if not self.tool.rings:
            self.view.say(_ADVICE)
            return
        references = self.desk.references
        try:
            reference = references.reference()
        except EntryError as error:
            self.view.say("No reading", str(error))
            return
        sample = Sample(
            FaceName.SHOWN,
            self.tool.rings,
            (),
            reference,
            references.sheet,
            references.lent,
            self._meant,
        )
        self.view.say("Reading the colour…")
        self._job = self._session.jobs.run(
            lambda _job: read(self._photo, sample),
            owner=self,
            done=self._show_reading,
            failed=lambda error: self.view.say("No reading", str(error)),
        )

    def _show_reading(self, reading: ColourReading) -> None:
        self._reading = reading
        self.view.show_reading(reading)
        self.take_button.setEnabled(True)

    def _take_over(self) -> None:
        if self._reading is not None:
            self.measured.emit(self._reading)
            self.accept()
