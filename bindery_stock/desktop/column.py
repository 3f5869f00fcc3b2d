"""What the columns of the screens are made of: words, hair lines, section heads, a scrolling."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QComboBox, QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from bindery_stock.desktop.look import GRID, TypeSize, sized


def plain_label(
    text: str = "",
    size: TypeSize = TypeSize.BODY,
    *,
    muted: bool = False,
    bold: bool = False,
) -> QLabel:
    """Words that wrap, are shown as they are typed, and can be copied from."""
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    if size is not TypeSize.BODY or bold:
        sized(label, size, bold=bold)
    if muted:
        label.setProperty("role", "muted")
    return label


def entry_name(words: str) -> QLabel:
    """What stands before an entry: one line, as written."""
    label = QLabel(words)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label


def hair_line(*, upright: bool = False) -> QFrame:
    """A line one pixel thick between two parts of the window."""
    rule = QFrame()
    rule.setProperty("role", "upright-rule" if upright else "rule")
    return rule


def section_head(text: str) -> QWidget:
    """The name of a section of a sheet, under a hair line."""
    block = QWidget()
    column = QVBoxLayout(block)
    column.setContentsMargins(0, GRID * 2, 0, 0)
    column.setSpacing(GRID)
    label = entry_name(text)
    sized(label, TypeSize.HEAD)
    column.addWidget(hair_line())
    column.addWidget(label)
    return block


def scrolled(inside: QWidget) -> QScrollArea:
    """A column that scrolls up and down where it is taller than its room.

    It only carries the widgets in it, so Tab does not stop at it. The wheel scrolls it over the
    lists in it too, and chooses nothing there.
    """
    area = QScrollArea()
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    past = _WheelPast(area)
    for box in inside.findChildren(QComboBox):
        box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        box.installEventFilter(past)
    return area


class _WheelPast(QObject):
    """Lets the wheel go on to the column: who scrolls past a list has chosen nothing in it."""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the wheel from the list; Qt hands what is ignored to the parent."""
        if event.type() is QEvent.Type.Wheel:
            event.ignore()
            return True
        return super().eventFilter(watched, event)
