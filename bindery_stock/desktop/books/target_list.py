"""The colours sought for a volume, one for each place to be patched."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.archived import readable_name
from bindery_stock.colour import ColourReading, family
from bindery_stock.desktop.drawing import lab_colour
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.match.patch_picker import PatchPicker
from bindery_stock.desktop.place import quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.swatch import lab_text
from bindery_stock.errors import BinderyError
from bindery_stock.stock import Colour, Photo, Spot, Target

_SWATCH = QSize(GRID * 9, GRID * 7)


class TargetList(QWidget):
    """Read on a photograph, or typed. Emits ``changed()``."""

    changed = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with none."""
        super().__init__()
        self._session = session
        self._targets: dict[Spot, Target] = {}
        self._picker: PatchPicker | None = None
        self.list = QListWidget()
        self.list.setIconSize(_SWATCH)
        self.list.setAccessibleName("Colours sought")
        self.list.setFixedHeight(GRID * 30)
        self.hint = QLabel(
            "New cloth is matched to these. Read each where cloth will be seen: a spine is often "
            "sunned and differs from its boards."
        )
        self.hint.setWordWrap(True)
        self.hint.setProperty("role", "muted")
        self.spot = QComboBox()
        self.spot.addItems([str(spot) for spot in Spot])
        self.spot.setAccessibleName("Where on the volume")
        self.lightness = NumberEntry("L*", 0, 100)
        self.a = NumberEntry("a*", -128, 128)
        self.b = NumberEntry("b*", -128, 128)
        self.add_button = QPushButton("Set")
        self.add_button.clicked.connect(self._typed)
        self.remove_button = quiet_button("Take out")
        self.remove_button.clicked.connect(self._take_out)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.spot)
        for entry in (self.lightness, self.a, self.b):
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
        self._refresh()

    def targets(self) -> tuple[Target, ...]:
        """The colours, in the order of the places."""
        return tuple(self._targets[spot] for spot in Spot if spot in self._targets)

    def show_targets(self, targets: tuple[Target, ...]) -> None:
        """Show these."""
        self._targets = {target.spot: target for target in reversed(targets)}
        self._refresh()

    def read_on(self, photo: Photo) -> None:
        """Mark a patch on a photograph and take its colour for the place chosen."""
        path = self._session.stockroom.photo_path(photo.sha256)
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
            )
        )

    def _picker_closed(self) -> None:
        if self._picker is not None:
            self._picker.deleteLater()
        self._picker = None

    def _typed(self) -> None:
        values = []
        for entry in (self.lightness, self.a, self.b):
            if entry.check() is not None:
                return
            values.append(entry.value())
        if None in values:
            self._session.trouble.emit("Colour sought: type L*, a* and b*, then Set.")
            return
        lightness, a, b = (float(value) for value in values if value is not None)
        try:
            self._set(Colour((lightness, a, b), method="typed in from an instrument"))
        except BinderyError as error:
            self._session.tell(error)

    def _set(self, colour: Colour) -> None:
        spot = Spot(self.spot.currentText())
        self._targets[spot] = Target(spot, colour)
        self._refresh()
        for entry in (self.lightness, self.a, self.b):
            entry.clear()
        following = self.spot.currentIndex() + 1
        if following < self.spot.count() - 1:
            self.spot.setCurrentIndex(following)
        self.changed.emit()

    def _take_out(self) -> None:
        item = self.list.currentItem()
        if item is not None:
            del self._targets[Spot(item.data(Qt.ItemDataRole.UserRole))]
            self._refresh()
            self.changed.emit()

    def _refresh(self) -> None:
        self.list.clear()
        for target in self.targets():
            colour = target.colour
            trust = f" ± {colour.u:.1f}" if colour.u is not None else ""
            words = f"{str(target.spot).capitalize()}: {family(colour.lab)}{trust}"
            item = QListWidgetItem(f"{words}\n{lab_text(colour.lab)}, {colour.method}")
            picture = QPixmap(_SWATCH)
            picture.fill(lab_colour(colour.lab))
            item.setIcon(picture)
            item.setData(Qt.ItemDataRole.UserRole, str(target.spot))
            self.list.addItem(item)
        self.list.setVisible(bool(self._targets))
        self.remove_button.setVisible(bool(self._targets))
