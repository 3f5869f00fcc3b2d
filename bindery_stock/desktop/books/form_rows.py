"""Small pieces of a form."""

from PySide6.QtGui import QFont
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLayout,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.column import entry_name, hair_line, plain_label
from bindery_stock.desktop.look import GRID


def few_lines(name: str) -> QPlainTextEdit:
    """An entry of three lines that Tab leaves."""
    entry = QPlainTextEdit()
    entry.setTabChangesFocus(True)
    entry.setFixedHeight(entry.fontMetrics().height() * 3)
    entry.setAccessibleName(name)
    return entry


def say(line: QLabel, words: str, *, trouble: bool) -> None:
    """Say something in a line of a form, strongly where it is trouble."""
    line.setText(words)
    font = QFont(line.font())
    font.setBold(trouble)
    line.setFont(font)


def whole(number: float | None) -> int | None:
    """The number of a volume."""
    return None if number is None else round(number)


def paired(*rows: tuple[QWidget, str, QWidget]) -> list[QHBoxLayout]:
    """Rows of two entries each, the second with its name, standing exactly under each other."""
    labels = [entry_name(words) for _first, words, _second in rows]
    widest = max(label.sizeHint().width() for label in labels)
    made = []
    for label, (first, _words, second) in zip(labels, rows, strict=True):
        label.setBuddy(second)
        label.setFixedWidth(widest)
        row = QHBoxLayout()
        row.setSpacing(GRID * 3)
        row.addWidget(first, 1)
        row.addWidget(label)
        row.addWidget(second, 1)
        made.append(row)
    return made


def two_columns(heading: QWidget, left: QWidget, right: QLayout) -> QVBoxLayout:
    """A form under its heading: the entries at the left, what they come to at the right."""
    row = QHBoxLayout()
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(0)
    row.addWidget(left, 5)
    row.addWidget(hair_line(upright=True))
    row.addLayout(right, 4)
    title = QHBoxLayout()
    title.setContentsMargins(GRID * 4, 0, GRID * 4, 0)
    title.addWidget(heading)
    column = QVBoxLayout()
    column.setContentsMargins(0, GRID * 4, 0, 0)
    column.setSpacing(GRID * 2)
    column.addLayout(title)
    column.addLayout(row, 1)
    return column


def outcome_column(
    drawing: QWidget, outcome: QWidget, caution: str, leave: QPushButton, keep: QPushButton
) -> QVBoxLayout:
    """The right side of such a form: what is drawn of it, what it comes to, and the two words."""
    buttons = QHBoxLayout()
    buttons.addWidget(leave)
    buttons.addStretch(1)
    buttons.addWidget(keep)
    column = QVBoxLayout()
    column.setContentsMargins(GRID * 4, GRID * 2, GRID * 4, GRID * 3)
    column.setSpacing(GRID * 3)
    column.addWidget(drawing, 1)
    column.addWidget(outcome)
    column.addWidget(plain_label(caution, muted=True))
    column.addLayout(buttons)
    return column
