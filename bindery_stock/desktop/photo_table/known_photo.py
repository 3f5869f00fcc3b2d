"""A photograph that was shelved before: said, and asked about, before it is shelved again."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton

from bindery_stock.bench.colour_room.archive_photos import known_words, shown_by
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.session import Session


class KnownPhoto(QFrame):
    """A strip under the photograph. Emits ``go_on_wanted()`` and ``aside_wanted()``."""

    go_on_wanted = Signal()
    aside_wanted = Signal()

    def __init__(self) -> None:
        """Begin hidden."""
        super().__init__()
        self._draft: ScrapDraft | None = None
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

    def look_up(self, draft: ScrapDraft, session: Session) -> None:
        """Say it early where the photograph was shelved before: marking takes its time."""
        self.show_draft(draft)
        if draft.shown is not None or draft.go_on or not session.is_open:
            return
        stockroom = session.stockroom

        def told(codes: tuple[str, ...]) -> None:
            draft.shown = codes
            if self._draft is draft:
                self.show_draft(draft)

        session.jobs.run(
            lambda _job: shown_by(stockroom, draft.path, draft.name), owner=self, done=told
        )

    def show_draft(self, draft: ScrapDraft | None) -> None:
        """Ask about this photograph, where it shows a piece already and nobody has answered."""
        self._draft = draft
        asked = draft is not None and bool(draft.shown) and not draft.go_on
        if draft is not None and asked:
            self.words.setText(f"△ {known_words(draft.name, draft.shown or ())}")
        self.setVisible(asked)

    def ask(self) -> None:
        """Bring the answer into the hand: shelving waits for it."""
        self.aside_button.setFocus()
