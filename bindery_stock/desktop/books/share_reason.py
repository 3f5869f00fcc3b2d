"""Why a part got its cloth in a sharing-out, and giving it other cloth by hand."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from bindery_stock.bench.books.share_out import ShareChoice, Shared
from bindery_stock.bench.books.share_words import option_words
from bindery_stock.bench.match.candidates import as_matched
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.matching import rank

_PIN_CHOICES = 12

Told = tuple[str, list[tuple[str, str]]]
"""The reason, and the pieces that hold the part: codes with their words."""


class ShareReason(QWidget):
    """Tells of one part. Emits ``pinned(part_id, code)`` and ``unpinned(part_id)``."""

    pinned = Signal(int, str)
    unpinned = Signal(int)

    def __init__(self, session: Session) -> None:
        """Begin with no part."""
        super().__init__()
        self._session = session
        self._job: Job | None = None
        self._part: int | None = None
        self.why = plain_label()
        self.why.setAccessibleName("Why this choice")
        self.pin_box = QComboBox()
        self.pin_box.setAccessibleName("Pieces that hold this part")
        self.pin_button = QPushButton("Pin this piece")
        self.unpin_button = quiet_button("Unpin")
        label = QLabel("Give it by hand:")
        label.setBuddy(self.pin_box)
        pins = QHBoxLayout()
        pins.setSpacing(GRID * 2)
        pins.addWidget(label)
        pins.addWidget(self.pin_box, 1)
        pins.addWidget(self.pin_button)
        pins.addWidget(self.unpin_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 3)
        column.addWidget(self.why)
        column.addLayout(pins)
        self.pin_button.clicked.connect(self._pin)
        self.unpin_button.clicked.connect(self._unpin)

    def stop(self) -> None:
        """Wait no longer for what was asked."""
        if self._job is not None:
            self._job.stop()
            self._job = None

    def show_nothing(self) -> None:
        """No part is in hand."""
        self.stop()
        self._part = None
        self.why.setText("")
        self._offer([], "")
        self.unpin_button.hide()

    def show_choice(self, shared: Shared, choice: ShareChoice, pinned: str) -> None:
        """Ask why a part got its cloth; ``pinned`` is the code it was given by hand, or empty."""
        self.stop()
        part, pieces = choice.part, shared.asked.pieces
        self._part = part.id
        self.why.setText("…")
        self._offer([], "")
        self.unpin_button.setVisible(bool(pinned))

        def work(job: Job) -> Told:
            sentence = shared.why(part)
            job.check()
            ranking = rank(
                shared.asked.as_matched(part),
                [as_matched(piece) for piece in pieces],
                limit=_PIN_CHOICES,
                near=0,
                stop=lambda: job.stopped,
            )
            told = [
                (m.code, option_words(m.code, m.delta_e, m.u, m.words)) for m in ranking.matches
            ]
            return sentence, told

        def done(told: Told) -> None:
            self._job = None
            self.why.setText(told[0])
            self._offer(told[1], pinned or (choice.placed.code if choice.placed else ""))

        self._job = self._session.jobs.run(work, owner=self, done=done)

    def _offer(self, options: list[tuple[str, str]], now: str) -> None:
        self.pin_box.clear()
        for code, words in options:
            self.pin_box.addItem(words, code)
        self.pin_box.setCurrentIndex(max(0, self.pin_box.findData(now)))
        self.pin_button.setEnabled(bool(options))

    def _pin(self) -> None:
        code = self.pin_box.currentData()
        if self._part is not None and isinstance(code, str):
            self.pinned.emit(self._part, code)

    def _unpin(self) -> None:
        if self._part is not None:
            self.unpinned.emit(self._part)
