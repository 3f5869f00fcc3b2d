"""The colour sought: typed as CIELAB, or read from a patch on a photograph of the book."""

from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QFileDialog,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
)

from bindery_stock.bench.colour_room.archive_photos import readable_name
from bindery_stock.colour import ColourReading, ReadBy, colour_name, family
from bindery_stock.desktop.colours.instrument_entry import InstrumentEntry
from bindery_stock.desktop.colours.patch_picker import PatchPicker
from bindery_stock.desktop.drops import PHOTO_FILTERS, TakesPhotos
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.swatch import Swatch
from bindery_stock.stock import Lab, StockPiece

_SEEN = "Seen, not measured: its colour family is sought, and no figure ranks what serves."


class SoughtPanel(TakesPhotos, QFrame):
    """Holds the colour sought. Emits ``changed()``.

    A photograph of the book may be dropped on it.
    """

    changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin without a colour."""
        super().__init__()
        self._session = session
        self._u = 0.0
        self._read_by = ReadBy.STATED
        self._picker: PatchPicker | None = None
        self.setAcceptDrops(True)
        self.swatch = Swatch(QSize(GRID * 16, GRID * 14))
        self.lightness = NumberEntry("L*", 0, 100)
        self.a = NumberEntry("a*", -128, 128)
        self.b = NumberEntry("b*", -128, 128)
        for entry in (self.lightness, self.a, self.b):
            entry.understood.connect(self._typed)
        self.instrument = InstrumentEntry()
        self.instrument.changed.connect(self._instrument_typed)
        self.name = QLabel()
        self.name.setTextFormat(Qt.TextFormat.PlainText)
        self.name.setWordWrap(True)
        self.name.setToolTip("After the ISCC–NBS names, level 3 (K. L. Kelly, 1958)")
        self.name.hide()
        self.origin = QLabel("Type the colour, or read it from a photograph of the book.")
        self.origin.setTextFormat(Qt.TextFormat.PlainText)
        self.origin.setProperty("role", "muted")
        self.origin.setWordWrap(True)
        self.from_photo = QPushButton("From a photo of the book…")
        self.from_photo.clicked.connect(self.ask_for_photo)
        self._lay_out()

    def _lay_out(self) -> None:
        heading = QLabel("Colour sought")
        sized(heading, TypeSize.HEAD)
        figures = QHBoxLayout()
        figures.setSpacing(GRID)
        for entry in (self.lightness, self.a, self.b):
            label = QLabel(entry.field)
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setBuddy(entry)
            entry.setMinimumWidth(GRID * 10)
            figures.addWidget(label)
            figures.addWidget(entry, 1)
        beside = QVBoxLayout()
        beside.setSpacing(GRID)
        beside.addLayout(figures)
        beside.addWidget(self.name)
        row_box = QHBoxLayout()
        row_box.setSpacing(GRID * 2)
        row_box.addWidget(self.swatch)
        row_box.addLayout(beside, 1)
        instrument = QFormLayout()
        instrument.addRow("&Instrument", self.instrument)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(heading)
        column.addLayout(row_box)
        column.addWidget(self.from_photo)
        column.addLayout(instrument)
        column.addWidget(self.origin)

    @property
    def u(self) -> float:
        """The 95 % uncertainty of the colour as ΔE00; zero where it was typed."""
        return self._u

    @property
    def read_by(self) -> ReadBy:
        """How the colour became known."""
        return self._read_by

    def lab(self) -> Lab | None:
        """The colour, or None while it is not complete. Raises ``EntryError``."""
        values = [entry.value() for entry in (self.lightness, self.a, self.b)]
        if None in values:
            return None
        lightness, a, b = (float(v) for v in values if v is not None)
        return (lightness, a, b)

    def show_reading(self, reading: ColourReading, where: str) -> None:
        """Take a colour read from a photograph."""
        self._u, self._read_by = reading.u or 0.0, reading.read_by
        self.instrument.clear()
        good = f"Good to ± {reading.u:.1f} ΔE00 (95 %)." if reading.u is not None else _SEEN
        told = [f"From {where}: {reading.method}.", good]
        self._put(reading.lab, " ".join((*told, *reading.warnings)))

    def show_sought(self, lab: Lab, u: float, read_by: ReadBy, origin: str) -> None:
        """Take a colour that was read elsewhere, with its uncertainty."""
        self._u, self._read_by = u, read_by
        if not read_by.is_measured:
            origin = f"{origin} {_SEEN}"
        self.instrument.clear()
        self._put(lab, origin)

    def show_piece(self, piece: StockPiece) -> None:
        """Take the colour of a piece on the shelf."""
        if piece.colour is None:
            return
        colour = piece.colour
        self.show_sought(
            colour.lab, colour.u or 0.0, colour.read_by, f"The colour of {piece.code}."
        )

    def _put(self, lab: Lab, origin: str) -> None:
        for entry, value in zip((self.lightness, self.a, self.b), lab, strict=True):
            entry.show_number(value)
        self.origin.setText(origin)
        self._show_colour(lab)
        self.changed.emit()

    def _show_colour(self, lab: Lab) -> None:
        self.swatch.show_colours(lab)
        self.name.setText(colour_name(lab).capitalize())
        self.name.show()

    def _instrument_typed(self) -> None:
        reading = self.instrument.reading
        if reading is not None:
            self._u, self._read_by = reading.u, reading.read_by
            told = f"{reading.method[:1].upper()}{reading.method[1:]}."
            self._put(reading.lab, f"{told} Good to ± {reading.u:.1f} ΔE00 (95 %).")

    def _typed(self) -> None:
        self._u = 0.0
        self._read_by = ReadBy.STATED
        self.instrument.clear()
        if all(entry.check() is None for entry in (self.lightness, self.a, self.b)):
            lab = self.lab()
            if lab is not None:
                self.origin.setText(f"Typed: {family(lab)}. CIELAB, D50, 2° observer.")
                self._show_colour(lab)
        self.changed.emit()

    def ask_for_photo(self) -> None:
        """Choose a photograph of the book."""
        dialog = QFileDialog(self, "A photograph of the book")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters(PHOTO_FILTERS)
        dialog.fileSelected.connect(lambda path: self.pick_from(Path(path)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def pick_from(self, photo: Path) -> None:
        """Mark the patch on this photograph."""
        picker = PatchPicker(self._session, photo, self.window())
        name = readable_name(photo.name)
        picker.measured.connect(lambda reading: self.show_reading(reading, name))
        picker.finished.connect(self._picker_closed)
        self._picker = picker
        picker.open()

    def _picker_closed(self) -> None:
        if self._picker is not None:
            self._picker.deleteLater()
        self._picker = None

    def photos_dropped(self, paths: list[Path]) -> None:
        """Mark the patch on the photograph dropped here."""
        self.pick_from(paths[0])
