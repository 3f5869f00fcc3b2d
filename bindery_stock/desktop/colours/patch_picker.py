"""Marks the patch of a book's photograph whose colour is sought."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from bindery_stock.bench.colour_room.archive_photos import readable_name
from bindery_stock.bench.photo_table.marks import Grey, Patches
from bindery_stock.bench.photo_table.readings import Sample, read
from bindery_stock.colour import ColourReading
from bindery_stock.desktop.colours.photo_dialog import PhotoDialog
from bindery_stock.desktop.colours.reading_view import ReadingView
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.session import Session
from bindery_stock.stock import FaceName, Lab

_ADVICE = (
    "Mark patches of sound cloth as it will be seen: on a sunned spine, the spine itself. Keep "
    "clear of gold, glare and shadow."
)
_HINT = (
    "Drag rectangles over the cloth, three of them apart from each other. The wheel zooms; Insert "
    "puts a patch in the middle and the arrow keys move it."
)


class PatchPicker(PhotoDialog):
    """Shows a photograph and reads the colour of the patches drawn on it.

    A grey card, a target, a plain sheet or the sitting's target correct it as at the photo table.
    Emits ``measured(ColourReading)`` when the reading is taken over.
    """

    measured = Signal(object)

    def __init__(self, session: Session, photo: Path, parent: QWidget) -> None:
        """Show the photograph as soon as a draft of it is decoded."""
        self.tool = RingTool(_HINT, single=False)
        super().__init__(session, (self.tool,), parent, lending=True)
        self._photo = photo
        self._reading: ColourReading | None = None
        self._meant: Lab | None = None
        self.setWindowTitle(f"The colour sought, on {readable_name(photo.name)}")
        self.canvas = self.desk.canvas
        self.view = ReadingView()
        self.view.say(_ADVICE)
        self.take_button = next_button("Seek this colour")
        self.take_button.setEnabled(False)
        heading = plain_label("Mark the cloth", TypeSize.HEAD)
        panel = (heading, self.hint, self.desk.references, self.view, None)
        self.lay_out(self.canvas, panel, self.take_button)
        self._listen()
        self.resize(GRID * 280, GRID * 170)
        self.desk.load(photo)

    def _listen(self) -> None:
        self.desk.refused.connect(self._refused)
        self.tool.marked.connect(self._marked)
        self.canvas.passed_on.connect(self._take_over)
        self.view.meant.connect(self._choose)
        self.take_button.clicked.connect(self._take_over)

    def _refused(self, error: Exception) -> None:
        self.reject()
        self._session.tell(error)

    def _marked(self) -> None:
        self._meant = None
        self.refresh()

    def _choose(self, lab: Lab) -> None:
        self._meant = lab
        self.refresh()

    def say_trouble(self, words: str) -> None:
        """Say why there is no reading."""
        self.view.say("No reading", words)

    def refresh(self) -> None:
        """Read the patches that are drawn."""
        self.take_button.setEnabled(False)
        self._reading = None
        self.show_hint()
        self.stop_reading()
        if not self.tool.rings:
            self.view.say(_ADVICE)
            return
        references = self.desk.references
        rings, sheet, lent, meant = self.tool.rings, references.sheet, references.lent, self._meant

        def work(reference: Grey | Patches | None) -> ColourReading:
            sample = Sample(FaceName.SHOWN, rings, (), reference, sheet, lent, meant)
            return read(self._photo, sample)

        self.view.say("Reading the colour…")
        self.reading_with(work, self._show_reading, lambda error: self.say_trouble(str(error)))

    def _show_reading(self, reading: ColourReading) -> None:
        self._reading = reading
        self.view.show_reading(reading)
        self.take_button.setEnabled(True)

    def _take_over(self) -> None:
        if self._reading is not None:
            self.measured.emit(self._reading)
            self.accept()
