"""The colours sought for a volume, one for each place to be patched."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.colour_room.archive_photos import readable_name
from bindery_stock.colour import ColourReading, ReadBy, family
from bindery_stock.desktop.colours.patch_picker import PatchPicker
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.drawn_shapes import lab_colour
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.swatch import lab_text
from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.stock import BookSpot, Colour, ColourSought, Photo

_HINT = (
    "New cloth is matched to these. Read each where cloth will be seen: a spine is often sunned "
    "and differs from its boards."
)
_SWATCH = QSize(GRID * 9, GRID * 7)


class TargetList(QWidget):
    """Read on a photograph, or typed. Emits ``changed()``."""

    changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with none."""
        super().__init__()
        self._session = session
        self._targets: dict[BookSpot, ColourSought] = {}
        self._picker: PatchPicker | None = None
        self.list = QListWidget()
        self.list.setIconSize(_SWATCH)
        self.list.setAccessibleName("Colours sought")
        self.list.setFixedHeight(GRID * 30)
        self.hint = plain_label(_HINT, muted=True)
        self.spot = QComboBox()
        self.spot.addItems([str(spot) for spot in BookSpot])
        self.spot.setAccessibleName("Where on the volume")
        bounds = (("L*", 0, 100), ("a*", -128, 128), ("b*", -128, 128))
        self.lightness, self.a, self.b = (NumberEntry(*bound) for bound in bounds)
        self.wrong = plain_label()
        self.wrong.setAccessibleName("What is wrong")
        self.wrong.hide()
        self.add_button = QPushButton("Set")
        self.add_button.clicked.connect(self._typed)
        self.remove_button = quiet_button("Take out")
        self.remove_button.clicked.connect(self._take_out)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.spot)
        for entry in self.entries:
            entry.setPlaceholderText(entry.field)
            entry.setMinimumWidth(GRID * 10)
            entry.setMaximumWidth(GRID * 18)
            row.addWidget(entry)
        row.addWidget(self.add_button)
        row.addStretch(1)
        row.addWidget(self.remove_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addWidget(self.hint)
        column.addWidget(self.list)
        column.addLayout(row)
        column.addWidget(self.wrong)
        self._refresh()

    def targets(self) -> tuple[ColourSought, ...]:
        """The colours, in the order of the places."""
        return tuple(self._targets[spot] for spot in BookSpot if spot in self._targets)

    def show_targets(self, targets: tuple[ColourSought, ...]) -> None:
        """Show these; what was typed for another volume is gone."""
        self._empty_entries()
        self.spot.setCurrentIndex(0)
        self._targets = {target.spot: target for target in reversed(targets)}
        self._refresh()

    def read_on(self, photo: Photo) -> None:
        """Mark a patch on a photograph and take its colour for the place chosen."""
        path = self._session.stockroom.photos.path(photo)
        picker = PatchPicker(self._session, path, self.window())
        picker.setWindowTitle(
            f"The colour of the {self.spot.currentText()}, on {readable_name(photo.name)}"
        )
        picker.measured.connect(lambda reading: self._read(picker, photo, reading))
        picker.finished.connect(self._picker_closed)
        self._picker = picker
        picker.open()

    @property
    def picker(self) -> PatchPicker | None:
        """The photograph that is open for marking, if any."""
        return self._picker

    def _read(self, picker: PatchPicker, photo: Photo, reading: ColourReading) -> None:
        ring = picker.tool.rings[0] if picker.tool.rings else ()
        self._set(
            Colour(
                reading.lab,
                spread=reading.spread,
                u=reading.u,
                method=reading.method,
                photo=photo.sha256,
                patch=ring,
                read_by=reading.read_by,
            )
        )

    def _picker_closed(self) -> None:
        if self._picker is not None:
            self._picker.deleteLater()
        self._picker = None

    def take_typed(self) -> None:
        """Let figures that were typed and not set count. Raises ``EntryError`` for half of them."""
        values = [entry.value() for entry in self.entries]
        typed = [float(value) for value in values if value is not None]
        if not typed:
            return
        if len(typed) < len(values):
            raise EntryError(
                "Colour sought",
                f"Colour sought, {self.spot.currentText()}: type all three of L*, a* and b*, or "
                "empty them.",
            )
        lightness, a, b = typed
        self._set(
            Colour(
                (lightness, a, b), method="typed in from an instrument", read_by=ReadBy.INSTRUMENT
            )
        )

    def _typed(self) -> None:
        try:
            self.take_typed()
        except BinderyError as error:
            self.show_wrong(error)
        else:
            self.wrong.hide()

    def show_wrong(self, error: BinderyError) -> None:
        """Say under the entries what is wrong with what was typed, and go there."""
        self.wrong.setText(str(error))
        self.wrong.show()
        empty = (entry for entry in self.entries if entry.check() or entry.value() is None)
        next(empty, self.lightness).setFocus()

    @property
    def entries(self) -> tuple[NumberEntry, ...]:
        """The three figures of a colour, to be typed."""
        return (self.lightness, self.a, self.b)

    def _empty_entries(self) -> None:
        for entry in self.entries:
            entry.clear()
            entry.check()
        self.wrong.hide()

    def _set(self, colour: Colour) -> None:
        spot = BookSpot(self.spot.currentText())
        self._targets[spot] = ColourSought(spot, colour)
        self._refresh()
        self._empty_entries()
        following = self.spot.currentIndex() + 1
        if following < self.spot.count() - 1:
            self.spot.setCurrentIndex(following)
        self.changed.emit()

    def _take_out(self) -> None:
        item = self.list.currentItem()
        if item is not None:
            del self._targets[BookSpot(item.data(Qt.ItemDataRole.UserRole))]
            self._refresh()
            self.changed.emit()

    def _refresh(self) -> None:
        self.list.clear()
        for target in self.targets():
            colour = target.colour
            trust = f" ± {colour.u:.1f}" if colour.u is not None else ""
            figures = f"{lab_text(colour.lab)}, "
            if not colour.read_by.is_measured:
                trust, figures = f", {colour.read_by}", ""
            words = f"{str(target.spot).capitalize()}: {family(colour.lab)}{trust}"
            item = QListWidgetItem(f"{words}\n{figures}{colour.method}")
            picture = QPixmap(_SWATCH)
            picture.fill(lab_colour(colour.lab))
            item.setIcon(picture)
            item.setData(Qt.ItemDataRole.UserRole, str(target.spot))
            self.list.addItem(item)
        self.list.setVisible(bool(self._targets))
        self.remove_button.setVisible(bool(self._targets))
