"""Marks the patch of a book's photograph whose colour is sought."""

from pathlib import Path

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from bindery_stock.colour import ColourReading, draft_photo, family, measure
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.photo_table.canvas import PhotoCanvas
from bindery_stock.desktop.photo_table.ring_tool import RingTool
from bindery_stock.desktop.pictures import qimage
from bindery_stock.desktop.place import next_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.swatch import Swatch, lab_text
from bindery_stock.shape import Ring

_DRAFT_LONGEST = 1600
_ADVICE = (
    "Mark a patch of sound cloth as it will be seen: on a sunned spine, the spine itself. Keep "
    "clear of gold, glare and shadow."
)


class PatchPicker(QDialog):
    """Shows a photograph and reads the colour of the patch drawn on it.

    Emits ``measured(ColourReading)`` when the reading is taken over.
    """

    measured = Signal(object)

    def __init__(self, session: Session, photo: Path, parent: QWidget) -> None:
        """Show the photograph as soon as a draft of it is decoded."""
        super().__init__(parent)
        self._session = session
        self._photo = photo
        self._reading: ColourReading | None = None
        self._job: Job | None = None
        self.setWindowTitle(f"The colour sought, on {photo.name}")
        self.canvas = PhotoCanvas()
        self.tool = RingTool("Mark the patch whose colour is sought.", single=True)
        self.tool.marked.connect(self._measure)
        self.canvas.passed_on.connect(self._take_over)
        self.swatch = Swatch(QSize(GRID * 24, GRID * 24))
        self.words = QLabel(_ADVICE)
        self.words.setWordWrap(True)
        self.take_button = next_button("Seek this colour")
        self.take_button.setEnabled(False)
        self.take_button.clicked.connect(self._take_over)
        self._lay_out()
        self.resize(GRID * 250, GRID * 165)
        self._load()

    def _lay_out(self) -> None:
        heading = QLabel("Mark the patch")
        sized(heading, TypeSize.HEAD)
        hint = QLabel(
            "Drag a rectangle, or click the corners of a patch. The wheel zooms; Insert puts a "
            "patch in the middle and the arrow keys move it."
        )
        hint.setWordWrap(True)
        hint.setProperty("role", "muted")
        cancel = QPushButton("Leave it")
        cancel.clicked.connect(self.reject)
        buttons = QHBoxLayout()
        buttons.addWidget(cancel)
        buttons.addStretch(1)
        buttons.addWidget(self.take_button)
        side = QVBoxLayout()
        side.setSpacing(GRID * 3)
        side.addWidget(heading)
        side.addWidget(hint)
        side.addWidget(self.swatch)
        side.addWidget(self.words)
        side.addStretch(1)
        side.addLayout(buttons)
        panel = QWidget()
        panel.setLayout(side)
        panel.setFixedWidth(GRID * 75)
        row = QHBoxLayout(self)
        row.addWidget(self.canvas, 1)
        row.addWidget(panel)

    def _load(self) -> None:
        photo = self._photo

        def work(_job: Job) -> tuple[QImage, tuple[int, int]]:
            draft = draft_photo(photo, _DRAFT_LONGEST)
            return qimage(draft.image), draft.size

        def done(result: tuple[QImage, tuple[int, int]]) -> None:
            image, size = result
            self.canvas.show_photo(image, QImage(), size)
            self.canvas.use_tools([self.tool], self.tool)
            self.canvas.setFocus()

        self._session.jobs.run(work, owner=self, done=done, failed=self._refused)

    def _refused(self, error: Exception) -> None:
        self.reject()
        self._session.tell(error)

    def _measure(self) -> None:
        self.take_button.setEnabled(False)
        self._reading = None
        if not self.tool.rings:
            return
        ring: Ring = self.tool.rings[0]
        self.words.setText("Reading the colour…")
        if self._job is not None:
            self._job.stop()
        self._job = self._session.jobs.run(
            lambda _job: measure(self._photo, ring),
            owner=self,
            done=self._show_reading,
            failed=lambda error: self.words.setText(str(error)),
        )

    def _show_reading(self, reading: ColourReading) -> None:
        self._reading = reading
        self.swatch.show_colours(reading.lab)
        told = [
            f"{family(reading.lab).capitalize()}. {lab_text(reading.lab)}",
            f"Spread {reading.spread:.1f} ΔE00 over {reading.pixels:,} pixels.",
            f"{reading.method.capitalize()}: good to ± {reading.u:.1f} ΔE00 (95 %).",
            *reading.warnings,
        ]
        self.words.setText("\n".join(told))
        self.take_button.setEnabled(True)

    def _take_over(self) -> None:
        if self._reading is not None:
            self.measured.emit(self._reading)
            self.accept()
