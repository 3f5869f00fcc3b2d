"""The foot of the window: what just happened with its way back, or what went wrong."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy

from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.place import quiet_button
from bindery_stock.desktop.tips import plain_tip

_TROUBLE = "△ Not done:"
_MOST = 280
"""Characters told; a longer sentence would take the room of the cloth. The whole is in the tip."""
_LONGEST_WORD = 80
"""Nothing in a longer one can be broken at the end of a line: the name of a file, as a rule."""


class Foot(QFrame):
    """One line. Emits ``undo_wanted()`` when its button is pressed.

    A step is said until the next one; trouble stays until it is read and closed, or a step works.
    """

    undo_wanted = Signal()

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
        self.undo_button.clicked.connect(self.undo_wanted)
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
        self._show("", trouble=False, undo=False)

    def say(self, words: str, *, undo: bool) -> None:
        """Tell what just happened, with the way back beside it."""
        self._show(words, trouble=False, undo=undo)

    def warn(self, words: str) -> None:
        """Tell what went wrong and how to mend it."""
        self._show(words, trouble=True, undo=False)

    def note(self, words: str) -> None:
        """Tell what should be known though nothing went wrong; it stays until it is closed."""
        self._show(words, trouble=True, undo=False)
        self._sign.setText("△ Note:")

    def hint(self, words: str) -> None:
        """A command's one sentence while its menu line is pointed at."""
        self._tip.setText(words)

    def _show(self, words: str, *, trouble: bool, undo: bool) -> None:
        self._sign.setText(_TROUBLE if trouble else "")
        self._sign.setVisible(trouble)
        self._said = words
        told = _fitted(words)
        self._words.setText(told)
        self._words.setToolTip(plain_tip("" if told == words else words))
        self._show_button(self.undo_button, undo)
        self._show_button(self.close_button, trouble)

    def _show_button(self, button: QPushButton, wanted: bool) -> None:
        button.setVisible(wanted)


def _fitted(words: str) -> str:
    """The words with a long middle left out: how to mend trouble stands at the end."""
    return _without_middle(" ".join(_without_middle(w, _LONGEST_WORD) for w in words.split(" ")))


def _without_middle(text: str, most: int = _MOST) -> str:
    if len(text) <= most:
        return text
    half = (most - 1) // 2
    return f"{text[:half]}…{text[-half:]}"
