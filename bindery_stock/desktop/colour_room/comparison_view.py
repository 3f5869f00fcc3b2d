"""What two cloths in one photograph came to."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from bindery_stock.bench.closeness import threshold_words
from bindery_stock.colour import Comparison, colour_name
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.swatch import Swatch, lab_text


class ComparisonView(QWidget):
    """The two colours touching, their difference with its band, its words and its parts."""

    def __init__(self) -> None:
        """Begin with nothing compared."""
        super().__init__()
        self.swatch = Swatch(QSize(GRID * 62, GRID * 24))
        self.figure = _line(TypeSize.TITLE)
        self.words = _line(TypeSize.BODY)
        self.words.setToolTip(threshold_words())
        self.parts = _line(TypeSize.BODY)
        self.colours = _line(TypeSize.BODY, muted=True)
        self.said = _line(TypeSize.BODY, muted=True)
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
        first, second, step = comparison.first, comparison.second, comparison.step
        self.swatch.show_colours(first.lab, second.lab)
        self.figure.setText(f"ΔE00 {comparison.delta_e:.1f} ± {comparison.u:.1f}")
        told = comparison.words
        self.words.setText(f"{told[:1].upper()}{told[1:]}.")
        parts = f"ΔL* {step.lightness:+.1f}   ΔC* {step.chroma:+.1f}   ΔH* {step.hue:+.1f}"
        self.parts.setText(parts.replace("-", "−"))
        self.parts.setToolTip("From the book to the scrap: lighter, more vivid, turned in hue")
        self.colours.setText(
            f"Book: {colour_name(first.lab)}, {lab_text(first.lab)}\n"
            f"Scrap: {colour_name(second.lab)}, {lab_text(second.lab)}"
        )
        said = dict.fromkeys((*first.warnings, *second.warnings))
        method = f"{first.method[:1].upper()}{first.method[1:]}."
        self.said.setText("\n".join((method, *said)))
        self.swatch.show()
        for label in (self.figure, self.words, self.parts, self.colours, self.said):
            label.show()


def _line(size: TypeSize, *, muted: bool = False) -> QLabel:
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    sized(label, size)
    if muted:
        label.setProperty("role", "muted")
    return label
