"""Text broken into a few lines where it is painted."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics


def wrapped(text: str, metrics: QFontMetrics, room: int, most: int) -> list[str]:
    """Broken between words into at most ``most`` lines of ``room`` px; the last is cut short."""
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and len(lines) < most and metrics.horizontalAdvance(longer) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    cut = Qt.TextElideMode.ElideRight
    # A line that fills its room to the pixel is whole, whatever eliding makes of the rounding.
    return [
        line if metrics.horizontalAdvance(line) <= room else metrics.elidedText(line, cut, room)
        for line in lines
    ]
