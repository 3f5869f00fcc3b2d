"""A reading of a colour instrument, typed or pasted."""

import re

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from bindery_stock.colour import InstrumentReading, parse_reading
from bindery_stock.desktop.entries import Entry
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.swatch import lab_text

_WHITES = ("D50/2", "D65/10", "D65/2", "D50/10", "C/2", "C/10", "A/2", "A/10", "F11/10")
"""Illuminant and observer that instruments are set to, the commonest first."""
_STATED = re.compile(r"\b[A-F]\d*\s*/\s*(2|10)\b", re.IGNORECASE)


class ReadingLine(Entry):
    """The line itself: L*, a*, b*, and the illuminant where the instrument writes it."""

    def __init__(self, field: str) -> None:
        """Say how a reading is written."""
        super().__init__(field)
        self.white = _WHITES[0]
        self.setPlaceholderText("L* 43.1 a* 22.0 b* 11.4")

    def value(self) -> float | None:
        """The lightness read, or None where nothing is typed. Raises ``ColourError``."""
        reading = self.reading()
        return reading.lab[0] if reading else None

    def reading(self) -> InstrumentReading | None:
        """The reading brought to D50 and 2°, or None where nothing is typed.

        What the text says of illuminant and observer goes before the choice beside it. Raises
        ``ColourError``.
        """
        text = self.text().strip()
        if not text:
            return None
        return parse_reading(text if _STATED.search(text) else f"{text}  {self.white}")


class InstrumentEntry(QWidget):
    """A line for the reading and a choice of illuminant and observer, with what was understood.

    Emits ``changed()`` when the reading is another, or can no longer be understood.
    """

    changed = Signal()

    def __init__(self, field: str = "Instrument reading") -> None:
        """Begin empty, at D50 and 2°."""
        super().__init__()
        self.line = ReadingLine(field)
        self.white = QComboBox()
        self.white.setAccessibleName("Illuminant and observer")
        self.white.setToolTip("Illuminant and observer the instrument was set to")
        for white in _WHITES:
            self.white.addItem(f"{white}°", white)
        self.told = QLabel()
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setWordWrap(True)
        self.told.setProperty("role", "muted")
        self.told.hide()
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.line, 1)
        row.addWidget(self.white)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addLayout(row)
        column.addWidget(self.told)
        self.setFocusProxy(self.line)
        self.line.textChanged.connect(lambda _text: self._tell())
        self.white.activated.connect(lambda _index: self._white_chosen())

    @property
    def reading(self) -> InstrumentReading | None:
        """What was understood, or nothing."""
        return None if self.line.check() else self.line.reading()

    def clear(self) -> None:
        """Forget what was typed, without telling."""
        self.line.blockSignals(True)
        self.line.clear()
        self.line.blockSignals(False)
        self.line.check()
        self.told.hide()

    def _white_chosen(self) -> None:
        self.line.white = str(self.white.currentData())
        self._tell()

    def _tell(self) -> None:
        wrong = self.line.check()
        reading = None if wrong else self.line.reading()
        if wrong is not None:
            self.told.setText(f"△ {wrong}")
        elif reading is not None:
            self.told.setText(f"{lab_text(reading.lab)}, ± {reading.u:.1f} ΔE00: {reading.method}.")
        self.told.setVisible(wrong is not None or reading is not None)
        self.changed.emit()
