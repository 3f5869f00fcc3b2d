"""A photograph that was shelved before: said, and asked about, before it is shelved again."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton

from bindery_stock.bench.colour_room.archive_photos import known_words
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_table.draft import ScrapDraft


class KnownPhoto(QFrame):
    """A strip under the photograph. Emits ``go_on_wanted()`` and ``aside_wanted()``."""

    go_on_wanted = Signal()
    aside_wanted = Signal()

    def __init__(self) -> None:
        """Begin hidden."""
        super().__init__()
        self.setProperty("role", "panel")
        self.setAccessibleName("A photograph shelved before")
        self.words = plain_label()
        self.go_on_button = QPushButton("Yes, mark another scrap")
        self.go_on_button.clicked.connect(self.go_on_wanted)
        self.aside_button = QPushButton("No, set it aside")
        self.aside_button.clicked.connect(self.aside_wanted)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 3, GRID * 2, GRID * 3, GRID * 2)
        row.setSpacing(GRID * 2)
        row.addWidget(self.words, 1)
        for button in (self.aside_button, self.go_on_button):
            row.addWidget(button, alignment=Qt.AlignmentFlag.AlignTop)
        self.hide()

    def show_draft(self, draft: ScrapDraft | None) -> None:
        """Ask about this photograph, where it shows a piece already and nobody has answered."""
        asked = draft is not None and bool(draft.shown) and not draft.go_on
        if draft is not None and asked:
            self.words.setText(f"△ {known_words(draft.name, draft.shown or ())}")
        self.setVisible(asked)

    def ask(self) -> None:
        """Bring the answer into the hand: shelving waits for it."""
        self.aside_button.setFocus()
