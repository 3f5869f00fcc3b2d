"""What two cloths in one photograph came to."""

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QVBoxLayout, QWidget

from bindery_stock.bench.match.closeness import threshold_words
from bindery_stock.colour import ColourReading, Comparison, colour_name
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.swatch import Swatch, lab_text, step_text
from bindery_stock.desktop.tips import plain_tip


class ComparisonView(QWidget):
    """The two colours touching, their difference with its band, its words and its parts."""

    def __init__(self) -> None:
        """Begin with nothing compared."""
        super().__init__()
        self.swatch = Swatch(QSize(GRID * 62, GRID * 24))
        self.figure = plain_label(size=TypeSize.TITLE)
        self.words = plain_label()
        self.words.setToolTip(plain_tip(threshold_words()))
        self.parts = plain_label()
        self.colours = plain_label(muted=True)
        self.said = plain_label(muted=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        for widget in (
            self.swatch,
            self.figure,
            self.words,
            self.parts,
            self.colours,
            self.said,
        ):
            column.addWidget(widget)
        self.say("")

    def say(self, words: str) -> None:
        """Nothing is compared: say why, or what is under way."""
        self.swatch.hide()
        for label in (self.figure, self.words, self.parts, self.colours):
            label.hide()
        self.said.setText(words)
        self.said.setVisible(bool(words))

    def show_comparison(self, comparison: Comparison) -> None:
        """Show what was found, from the book to the scrap."""
        first, second = comparison.first, comparison.second
        self.swatch.show_colours(first.lab, second.lab)
        self.figure.setText(f"ΔE00 {comparison.delta_e:.1f} ± {comparison.u:.1f}")
        told = comparison.words
        self.words.setText(f"{told[:1].upper()}{told[1:]}.")
        self.parts.setText(step_text(comparison.step))
        self.parts.setToolTip("From the book to the scrap: lighter, more vivid, turned in hue")
        self.colours.setText(f"Book: {_told(first)}\nScrap: {_told(second)}")
        said = dict.fromkeys((*first.warnings, *second.warnings))
        method = f"{first.method[:1].upper()}{first.method[1:]}."
        self.said.setText("\n".join((method, *said)))
        self.swatch.show()
        for label in (self.figure, self.words, self.parts, self.colours, self.said):
            label.show()


def _told(reading: ColourReading) -> str:
    """Its name, and its figures where it was measured."""
    name = colour_name(reading.lab)
    return f"{name}, {lab_text(reading.lab)}" if reading.read_by.is_measured else name
