"""A place in the window: what every screen down the side list has in common."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QStackedLayout, QVBoxLayout, QWidget

from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.session import Session
from bindery_stock.stock import Changes


@dataclass(frozen=True, slots=True)
class MarkTurns:
    """What Undo and Redo do while something is being marked: nothing to the stock."""

    undo: str
    """What would be taken back; empty where there is nothing."""
    take_back: Callable[[], None]
    redo: str = ""
    """What would be done again; empty where there is nothing."""
    do_again: Callable[[], None] | None = None


class Screen(QWidget):
    """One screen. Knows the session; is told when the stockroom is opened or changed."""

    title = ""
    """As the side list shows it."""
    icon = ""
    """Name of its line icon in resources/icons."""

    def __init__(self, session: Session) -> None:
        """Listen to the session's news."""
        super().__init__()
        self.session = session
        self.setObjectName(type(self).__name__)
        self.setAccessibleName(self.title)
        session.opened.connect(self.stock_opened)
        session.changed.connect(self.stock_changed)

    def commands(self) -> list[Command]:
        """What can be done here; enabled only while the place is in front."""
        return []

    def stock_opened(self) -> None:
        """Another stockroom is in use: show it from the start."""

    def stock_changed(self, changes: Changes) -> None:
        """A step was made: repaint only what it touched."""

    def came_forward(self) -> None:
        """The place is in front now: take the focus where the hand expects it."""

    def marks(self) -> MarkTurns | None:
        """What Undo and Redo are about while something is being marked here."""
        return None

    def may_leave(self) -> bool:
        """Whether the window may be closed without asking about this place."""
        return True


_READ_WIDTH = GRID * 145
"""A line of more words than this is read badly."""


class EmptyState(QWidget):
    """What an empty place says: what it is for, and the first step."""

    def __init__(self, heading: str, words: str, buttons: list[QPushButton]) -> None:
        """Stand in the middle, with the first step as the one next action."""
        super().__init__()
        column = QVBoxLayout(self)
        column.setSpacing(GRID * 3)
        column.addStretch(2)
        self.heading = QLabel(heading)
        self.heading.setTextFormat(Qt.TextFormat.PlainText)
        sized(self.heading, TypeSize.TITLE)
        self.heading.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.words = QLabel(words)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setProperty("role", "muted")
        self.words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.words.setWordWrap(True)
        self.words.setMaximumWidth(_READ_WIDTH)
        middle = QHBoxLayout()
        middle.addStretch(1)
        middle.addWidget(self.words, 100)  # as wide as is well read, where there is room
        middle.addStretch(1)
        column.addWidget(self.heading)
        column.addLayout(middle)
        for button in buttons:
            column.addWidget(button, alignment=Qt.AlignmentFlag.AlignCenter)
        column.addStretch(3)

    def say(self, heading: str, words: str) -> None:
        """Say something else."""
        self.heading.setText(heading)
        self.words.setText(words)


def next_button(text: str) -> QPushButton:
    """The button of the one next action."""
    button = QPushButton(text)
    button.setProperty("role", "next")
    return button


def weigh(button: QPushButton, *, next_action: bool) -> None:
    """Give a button the weight of the one next action, or take it away."""
    role = "next" if next_action else ""
    if (button.property("role") or "") != role:
        button.setProperty("role", role)
        button.style().unpolish(button)
        button.style().polish(button)


def quiet_button(text: str) -> QPushButton:
    """A button that does not ask to be pressed."""
    button = QPushButton(text)
    button.setProperty("role", "quiet")
    return button


def line_button(text: str) -> QPushButton:
    """A quiet button whose words begin where the lines above and below it do."""
    button = QPushButton(text)
    button.setProperty("role", "line")
    return button


class EitherOr(QWidget):
    """Shows one of several widgets at a time."""

    def __init__(self, *widgets: QWidget) -> None:
        """Show the first to begin with."""
        super().__init__()
        self._stack = QStackedLayout(self)
        for widget in widgets:
            self._stack.addWidget(widget)

    def show_only(self, widget: QWidget) -> None:
        """Bring one of the widgets forward."""
        self._stack.setCurrentWidget(widget)

    @property
    def shown(self) -> QWidget | None:
        """The one that is in front."""
        return self._stack.currentWidget()
