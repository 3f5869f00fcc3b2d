"""The colour readings of each face, each with its band and how it was obtained."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from bindery_stock.bench.shelf.piece_words import face_words, trust_words
from bindery_stock.colour import ColourMap, colour_name, family
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.swatch import Swatch, lab_text
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import Colour, StockPiece

_SWATCH = QSize(64, 56)
_LAB_TIP, _NAME_TIP = "CIELAB, D50, 2° observer", "After the ISCC–NBS names, level 3"


class Readings(QWidget):
    """One row a reading: swatch, face, figures, trust."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GRID * 2)

    @property
    def words(self) -> str:
        """All that is said of the readings."""
        labels = (w for w in self.findChildren(QLabel) if not w.isHidden())
        return "\n".join(label.text() for label in labels)

    def show_piece(self, piece: StockPiece, seen: ColourMap | None = None) -> None:
        """Show a piece's readings, or that there is none, and by its map how even it is."""
        while (item := self._column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for colour in piece.colours:
            self._column.addWidget(_row(colour))
        if seen is not None:
            even = QLabel(f"Over the whole piece: spread ΔE00 {seen.spread:.1f}")
            even.setTextFormat(Qt.TextFormat.PlainText)
            even.setProperty("role", "muted")
            even.setWordWrap(True)
            self._column.addWidget(even)
        if not piece.colours:
            none = QLabel("No colour was read. Mark a patch on its photograph at the photo table.")
            none.setProperty("role", "muted")
            none.setWordWrap(True)
            self._column.addWidget(none)


def _row(colour: Colour) -> QWidget:
    row = QWidget()
    grid = QGridLayout(row)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(GRID * 3)
    grid.setVerticalSpacing(0)
    swatch = Swatch(_SWATCH)
    swatch.show_colours(colour.lab)
    grid.addWidget(swatch, 0, 0, 4, 1, Qt.AlignmentFlag.AlignTop)
    figures = lab_text(colour.lab) if colour.read_by.is_measured else ""
    lines = (
        (f"{face_words(colour.face)}: {family(colour.lab)}", "", ""),
        (figures, _LAB_TIP, ""),
        (colour_name(colour.lab), _NAME_TIP, ""),
        (trust_words(colour), "", "muted"),
    )
    for number, (text, tip, role) in enumerate(line for line in lines if line[0]):
        label = QLabel(text)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        label.setWordWrap(True)
        label.setToolTip(plain_tip(tip))
        if role:
            label.setProperty("role", role)
        grid.addWidget(label, number, 1)
    grid.setColumnStretch(1, 1)
    return row
