"""What was read from the patches of one face, and the choice where a patch holds two colours."""

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from bindery_stock.bench.photo_table.found import reading_words, trust_words
from bindery_stock.bench.photo_table.marks import TypedColour
from bindery_stock.colour import Cluster, ColourReading, colour_name
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.swatch import Swatch, lab_text

_SWATCH = QSize(72, 56)
_CHOICE = QSize(40, 32)


class ReadingView(QWidget):
    """Shows a reading. Emits ``meant(Lab)`` when one of a patch's two colours is chosen."""

    meant = Signal(object)

    def __init__(self) -> None:
        """Begin with no reading."""
        super().__init__()
        self.swatch = Swatch(_SWATCH)
        self.reading = plain_label(muted=True)
        self.reading.setProperty("role", "")
        self.trust = plain_label(muted=True)
        top = QHBoxLayout()
        top.setSpacing(GRID * 2)
        top.addWidget(self.swatch)
        top.addWidget(self.reading, 1)
        self.choice = QWidget()
        self._choices = QVBoxLayout(self.choice)
        self._choices.setContentsMargins(0, 0, 0, 0)
        self._choices.setSpacing(GRID)
        self._clusters: tuple[Cluster, ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 2)
        column.addLayout(top)
        column.addWidget(self.choice)
        column.addWidget(self.trust)
        self.choice.hide()

    def show_reading(self, reading: ColourReading, before: str = "") -> None:
        """Show a reading; ``before`` stands before its words."""
        self.swatch.show_colours(reading.lab)
        self.reading.setText(f"{before}{reading_words(reading)}\n{colour_name(reading.lab)}")
        lines = (trust_words(reading), *reading.warnings, *reading.advice)
        self.trust.setText("\n".join(lines))
        self._offer(reading.clusters if len(reading.clusters) > 1 else ())

    def show_typed(self, typed: TypedColour) -> None:
        """Show what an instrument said."""
        self.swatch.show_colours(typed.lab)
        self.reading.setText(f"{lab_text(typed.lab)}, ±{typed.u:.0f}\n{colour_name(typed.lab)}")
        self.trust.setText(f"{typed.method[:1].upper()}{typed.method[1:]}.")
        self._offer(())

    def say(self, words: str, why: str = "") -> None:
        """Show that there is no reading, and why."""
        self.swatch.show_colours()
        self.reading.setText(words)
        self.trust.setText(why)
        self._offer(())

    def _offer(self, clusters: tuple[Cluster, ...]) -> None:
        if clusters == self._clusters:
            return
        self._clusters = clusters
        while (item := self._choices.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for cluster in clusters:
            self._choices.addWidget(self._row(cluster))
        self.choice.setVisible(bool(clusters))

    def _row(self, cluster: Cluster) -> QWidget:
        made = QWidget()
        swatch = Swatch(_CHOICE)
        swatch.show_colours(cluster.lab)
        button = QPushButton(f"Read only the {colour_name(cluster.lab)}, {cluster.share:.0%}")
        button.clicked.connect(lambda: self.meant.emit(cluster.lab))
        row = QHBoxLayout(made)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID * 2)
        row.addWidget(swatch)
        row.addWidget(button, 1)
        return made
