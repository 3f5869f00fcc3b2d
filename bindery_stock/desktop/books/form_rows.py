"""Small pieces of a form."""

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPlainTextEdit, QWidget

from bindery_stock.desktop.look import GRID


def few_lines(name: str) -> QPlainTextEdit:
    """An entry of three lines that Tab leaves."""
    entry = QPlainTextEdit()
    entry.setTabChangesFocus(True)
    entry.setFixedHeight(entry.fontMetrics().height() * 3)
    entry.setAccessibleName(name)
    return entry


def whole(number: float | None) -> int | None:
    """The number of a volume."""
    return None if number is None else round(number)


def beside(first: QWidget, second: tuple[str, QWidget]) -> QHBoxLayout:
    """Two entries in one row, the second with its name."""
    words, entry = second
    label = QLabel(words)
    label.setBuddy(entry)
    row = QHBoxLayout()
    row.setSpacing(GRID * 3)
    row.addWidget(first, 1)
    row.addWidget(label)
    row.addWidget(entry, 1)
    return row
