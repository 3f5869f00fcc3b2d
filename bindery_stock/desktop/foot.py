"""The foot of the window: what just happened with its way back, or what went wrong."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy

from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import Step

_TROUBLE = "△ Not done:"
_MOST = 280
"""Characters told; a longer sentence would take the room of the cloth. The whole is in the tip."""
_LONGEST_NAME = 48
"""Of a step, on the button."""
_LONGEST_WORD = 80
"""Nothing in a longer one can be broken at the end of a line: the name of a file, as a rule."""


class Foot(QFrame):
    """One line. Emits ``undo_wanted(Step)`` or ``redo_wanted(Step)`` when its button is pressed.

    The button is about the step that the sentence tells of, and is not there beside any other
    sentence. A step is said until the next one; trouble stays until it is read and closed, or a
    step works.
    """

    undo_wanted = Signal(object)
    redo_wanted = Signal(object)

    def __init__(self) -> None:
        """Begin with nothing to say."""
        super().__init__()
        self.setProperty("role", "panel")
        self.setAccessibleName("What just happened")
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 4, GRID, GRID * 4, GRID)
        self._said = ""
        self._sign = QLabel()
        self._sign.setTextFormat(Qt.TextFormat.PlainText)
        self._words = QLabel()
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._words.setWordWrap(True)
        self.undo_button = quiet_button("Undo")
        # Else it would take the focus by itself where what had it goes, and Space would press it.
        # The keys for the same are in the menu.
        self.undo_button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.undo_button.clicked.connect(self._turn)
        self._undo: Step | None = None
        self._redo: Step | None = None
        self.close_button = quiet_button("Close")
        self.close_button.clicked.connect(self.clear)
        self._tip = QLabel()
        self._tip.setTextFormat(Qt.TextFormat.PlainText)
        self._tip.setProperty("role", "muted")
        row.addWidget(self._sign)
        row.addWidget(self._words, 1)
        row.addWidget(self._tip)
        row.addWidget(self.undo_button)
        row.addWidget(self.close_button)
        self.setMinimumHeight(self.undo_button.sizeHint().height() + GRID * 2)
        self.clear()

    @property
    def words(self) -> str:
        """What the foot says now."""
        return self._said

    @property
    def is_trouble(self) -> bool:
        """Whether it tells of trouble."""
        return self._sign.text() == _TROUBLE

    def clear(self) -> None:
        """Say nothing."""
        self._show("", trouble=False)

    def say(self, words: str) -> None:
        """Tell what just happened and is no step: there is nothing to take back of it."""
        self._show(words, trouble=False)

    def say_step(self, words: str, *, undo: Step | None = None, redo: Step | None = None) -> None:
        """Tell of a step, with the step that can be taken back, or done again, beside it."""
        self._show(words, trouble=False, undo=undo, redo=redo)

    def warn(self, words: str) -> None:
        """Tell what went wrong and how to mend it."""
        self._show(words, trouble=True)

    def note(self, words: str) -> None:
        """Tell what should be known though nothing went wrong; it stays until it is closed."""
        self._show(words, trouble=True)
        self._sign.setText("△ Note:")

    def hint(self, words: str) -> None:
        """A command's one sentence while its menu line is pointed at."""
        self._tip.setText(words)

    def unhint(self) -> None:
        """No menu line is pointed at any more."""
        self._tip.clear()

    def _turn(self) -> None:
        if self._undo is not None:
            self.undo_wanted.emit(self._undo)
        elif self._redo is not None:
            self.redo_wanted.emit(self._redo)

    def _show(
        self, words: str, *, trouble: bool, undo: Step | None = None, redo: Step | None = None
    ) -> None:
        self._undo, self._redo = undo, redo
        name = _without_middle(redo.name, _LONGEST_NAME) if redo is not None else ""
        self.undo_button.setText(f"Redo: {name}".replace("&", "&&") if redo else "Undo")
        self.undo_button.setAccessibleName(_named(undo, redo))
        self._sign.setText(_TROUBLE if trouble else "")
        self._sign.setVisible(trouble)
        self._said = words
        told = _fitted(words)
        self._words.setText(told)
        self._words.setToolTip(plain_tip("" if told == words else words))
        self._show_button(self.undo_button, undo is not None or redo is not None)
        self._show_button(self.close_button, trouble)

    def _show_button(self, button: QPushButton, wanted: bool) -> None:
        button.setVisible(wanted)


def _named(undo: Step | None, redo: Step | None) -> str:
    """What the button does, whole, for a reader that cannot see the sentence beside it."""
    if redo is not None:
        return f"Redo: {redo.name}"
    return f"Undo: {undo.name}" if undo is not None else ""


def _fitted(words: str) -> str:
    """The words with a long middle left out: how to mend trouble stands at the end."""
    return _without_middle(" ".join(_without_middle(w, _LONGEST_WORD) for w in words.split(" ")))


def _without_middle(text: str, most: int = _MOST) -> str:
    if len(text) <= most:
        return text
    half = (most - 1) // 2
    return f"{text[:half]}…{text[-half:]}"
