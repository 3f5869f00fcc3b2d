"""How many parts of one size are left in the chosen piece."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from bindery_stock.bench.shelf.count_of_size import (
    LAST_PART,
    SizeCounted,
    count,
    count_words,
    first_size,
    kept,
    size_of,
)
from bindery_stock.desktop.entries import LengthEntry
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.session import Session
from bindery_stock.stock import PieceState, StockPiece


class Holds(QWidget):
    """Counts by the size last sought at Match, or by the one typed here."""

    def __init__(self, session: Session) -> None:
        """Begin without a piece."""
        super().__init__()
        self._session = session
        self._piece: StockPiece | None = None
        self._job: Job | None = None
        lengths = session.settings.lengths
        self.across = LengthEntry("Counted across the warp", lengths)
        self.along = LengthEntry("Counted along the warp", lengths)
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.words.setToolTip("Along the warp, 2 mm or the margin last sought, clear of flaws.")
        size = QHBoxLayout()
        size.setSpacing(GRID)
        size.addWidget(QLabel("Parts of"))
        size.addWidget(self.across)
        size.addWidget(QLabel("×"))
        size.addWidget(self.along)
        size.addWidget(QLabel("left in it"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addLayout(size)
        column.addWidget(self.words)
        for entry in (self.across, self.along):
            entry.understood.connect(self._typed)

    @property
    def counted(self) -> SizeCounted:
        """The part that is counted."""
        text = self._session.settings.text(LAST_PART)
        return size_of(text) if text else first_size(self._session.settings.lengths)

    def show_piece(self, piece: StockPiece) -> None:
        """Count in this piece; one that is gone holds nothing."""
        self._piece = piece
        self.setVisible(piece.state is PieceState.ON_SHELF)
        for entry, mm in ((self.across, self.counted.width), (self.along, self.counted.height)):
            if not entry.hasFocus():
                entry.restyle(self._session.settings.lengths)
                entry.show_length(mm)
        self._count()

    def _typed(self) -> None:
        width, height = (entry.value() for entry in (self.across, self.along))
        if width is not None and height is not None:
            typed = SizeCounted(width, height, self.counted.margin)
            self._session.settings.set_text(LAST_PART, kept(typed))
            self._count()

    def _count(self) -> None:
        if self._job is not None:
            self._job.stop()
        piece, size = self._piece, self.counted
        if piece is None or piece.state is not PieceState.ON_SHELF:
            return
        self.words.setText("being counted…")

        def done(number: int) -> None:
            self._job = None
            self.words.setText(count_words(number, size, self._session.settings.lengths))

        self._job = self._session.jobs.run(lambda _job: count(piece, size), owner=self, done=done)
