"""Files that were refused, each with its sentence, until they are read and closed."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel

from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.tips import plain_tip

_SHOWN = 4
"""More than this many sentences are counted instead."""


class Refusals(QFrame):
    """A strip above the waiting photographs; hidden while the foot of the window says enough."""

    def __init__(self) -> None:
        """Begin with none."""
        super().__init__()
        self.setProperty("role", "panel")
        self.setAccessibleName("Files that were refused")
        self.sentences: list[str] = []
        self._words = QLabel()
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setWordWrap(True)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.close_button = quiet_button("Close")
        self.close_button.clicked.connect(self.clear)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 2, GRID * 3, GRID * 2)
        row.addWidget(self._words, 1)
        row.addWidget(self.close_button, alignment=Qt.AlignmentFlag.AlignTop)
        self.hide()

    @property
    def is_empty(self) -> bool:
        """Whether nothing was refused."""
        return not self.sentences

    @property
    def words(self) -> str:
        """What it says."""
        return self._words.text()

    def add(self, sentence: str) -> None:
        """Say one more."""
        self.sentences.append(sentence)
        shown = [f"△ {sentence}" for sentence in self.sentences[-_SHOWN:]]
        more = len(self.sentences) - len(shown)
        if more:
            shown.append(f"and {more} more before these")
        self._words.setText("\n".join(shown))
        self._words.setToolTip(plain_tip("\n".join(self.sentences) if more else ""))
        # The foot of the window shows one sentence; the strip is for when there are more.
        self.setVisible(len(self.sentences) > 1)

    def clear(self) -> None:
        """They have been read."""
        self.sentences.clear()
        self.hide()
