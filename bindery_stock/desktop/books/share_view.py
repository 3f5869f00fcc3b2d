"""Sharing out: the plan against closest-first, side by side, before anything is reserved."""

from collections.abc import Callable

from PySide6.QtCore import QModelIndex, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.share_out import Asked, ShareChoice, Shared, ask, share
from bindery_stock.bench.books.share_words import (
    doing_words,
    proved_words,
    seek_words,
    uncoloured_words,
    unreasoned_words,
)
from bindery_stock.bench.books.shelf_order import SetOnShelf, rows
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.share_delegate import ShareDelegate
from bindery_stock.desktop.books.share_figures import ShareFigures
from bindery_stock.desktop.books.share_model import ShareModel
from bindery_stock.desktop.books.share_reason import ShareReason
from bindery_stock.desktop.books.share_table import share_table
from bindery_stock.desktop.column import hair_line, plain_label
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button, quiet_button
from bindery_stock.stock import BookPart

SECONDS = 120.0
"""The search goes on for as long as the binder lets it; by itself it ends after this."""


class ShareView(QWidget):
    """Emits ``left()`` when it is put away, ``accepted(object)`` with the ``Shared`` to keep and
    ``cards_wanted(list)`` with the parts that nothing serves.
    """

    left = Signal()
    accepted = Signal(object)
    cards_wanted = Signal(list)

    def __init__(self, books: BenchBooks, previews: Previews) -> None:
        """Begin with nothing shared out."""
        super().__init__()
        self._books = books
        self._parts: list[BookPart] = []
        self._again: list[int] = []
        self._job: Job | None = None
        self._ending = False
        self.shared: Shared | None = None
        self.pins: dict[int, str] = {}
        self.heading = plain_label(size=TypeSize.TITLE)
        self.figures = ShareFigures(books)
        self._set: str | None = None
        self.doing = plain_label()
        self.doing.setProperty("role", "muted")
        self.doing.setAccessibleName("How far the sharing-out is")
        self.stop_button = QPushButton("Stop: take the best so far")
        self.again_button = QPushButton("Share out again")
        self.model = ShareModel(self)
        self.table = share_table(self.model, ShareDelegate(books, previews, self))
        self.table.selectionModel().currentRowChanged.connect(self._row_changed)
        previews.ready.connect(self._picture_ready)
        self.empty = EmptyState(
            "Nothing waits for cloth",
            "Every part of these volumes is reserved, cut or left out. Release some of their "
            "cloth to share it out anew.",
            [],
        )
        self.body = EitherOr(self.empty, self.table)
        self.body.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.reason = ShareReason(books.session)
        self.override = QLineEdit()
        self.override.setPlaceholderText(
            "Why cloth that was left out is used all the same; then share out again"
        )
        self.override.setAccessibleName("Reason for using cloth that was left out")
        self.override.returnPressed.connect(self.run)
        self.leave_button = QPushButton("Leave all as it is")
        self.cards_button = quiet_button("Looking-for cards…")
        self.accept_button = next_button("Reserve all of this plan")
        self._lay_out()
        self._listen()

    def _picture_ready(self, _code: str) -> None:
        self.table.viewport().update()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(GRID * 3)
        top.addWidget(self.heading, 1)
        top.addWidget(self.again_button)
        top.addWidget(self.stop_button)
        buttons = QHBoxLayout()
        buttons.addWidget(self.leave_button)
        buttons.addWidget(self.cards_button)
        buttons.addStretch(1)
        buttons.addWidget(self.accept_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 3)
        column.setSpacing(GRID * 3)
        column.addLayout(top)
        column.addWidget(self.figures)
        column.addWidget(self.doing)
        column.addWidget(self.override)
        column.addWidget(self.body, 1)
        column.addWidget(self.reason)
        column.addWidget(hair_line())
        column.addLayout(buttons)

    def _listen(self) -> None:
        self.stop_button.clicked.connect(self.stop)
        self.again_button.clicked.connect(self.run)
        self.figures.weighed.connect(self.run)
        self.reason.pinned.connect(self._pin)
        self.reason.unpinned.connect(self._unpin)
        self.leave_button.clicked.connect(self._leave)
        self.cards_button.clicked.connect(lambda: self.cards_wanted.emit(self._wanting()))
        self.accept_button.clicked.connect(self._accept)

    def begin(
        self, title: str, book_set: str | None, parts: list[BookPart], again: list[int]
    ) -> None:
        """Share out over these parts of a set; those in ``again`` although they are reserved."""
        self.heading.setText(title)
        self._set, self._parts, self._again = book_set, parts, again
        self.figures.begin(book_set)
        self.pins = {}
        self.model.pins = self.pins
        self.override.clear()
        self._show(None)
        self.run()

    def run(self) -> None:
        """Share out with what is pinned: a plan at once, then better ones, off the GUI thread."""
        self._halt()
        self._ending = False
        self.doing.setText("Laying the parts out…")
        self._search(0.0, self._begun)

    def _search(self, seconds: float, done: Callable[[Shared | Asked], None]) -> None:
        session = self._books.session
        room = session.stockroom
        pieces, held = session.pieces, self._books.view.reservations
        parts, again, pins = self._parts, self._again, dict(self.pins)
        reason, weights = self.override.text().strip(), self.figures.weights
        standing = rows(self._books.volumes(self._set)) if self._set else ()
        shelf = SetOnShelf(standing, weights.to_come, weights.spare)

        def work(job: Job) -> Shared | Asked:
            asked = ask(
                parts,
                pieces,
                held,
                today=room.today,
                rules=room.rules,
                again=again,
                reason=reason,
                shelf=shelf,
            )
            if not asked.parts:
                return asked
            return share(
                asked,
                pins=pins,
                seconds=seconds,
                prices=weights.prices,
                maps=session.maps,
                stop=lambda: self._ending or job.stopped,
                progress=lambda *told: job.report(0.0, doing_words(*told)),
            )

        self._set_running(running=True)
        self._job = session.jobs.run(
            work, owner=self, done=done, failed=self._failed, progress=self._told
        )

    def _begun(self, found: Shared | Asked) -> None:
        """The first plan is there: show it, and look for a better one."""
        if self._ending or isinstance(found, Asked):
            self._done(found)
            return
        self._show(found)
        self.doing.setText("Searching for a better one…")
        self._search(SECONDS, self._done)

    def stop(self) -> None:
        """Take the best plan found so far."""
        self._ending = True
        self.doing.setText("Stopping…")

    def _halt(self) -> None:
        if self._job is not None:
            self._job.stop()
            self._job = None
        self.reason.stop()

    def _told(self, _share: float, words: str) -> None:
        if not self._ending:
            self.doing.setText(words)

    def _failed(self, error: Exception) -> None:
        self._job = None
        self._set_running(running=False)
        self.doing.setText(str(error))
        self._books.session.tell(error)

    def _done(self, found: Shared | Asked) -> None:
        self._job = None
        self._set_running(running=False)
        if isinstance(found, Shared):
            self._show(found)
            return
        self._show(None)
        self.body.show_only(self.empty)
        told = (uncoloured_words(found), unreasoned_words(found))
        self.doing.setText("\n".join(line for line in told if line))
        self.override.setVisible(bool(found.unreasoned or found.reason))

    def _set_running(self, *, running: bool) -> None:
        self.stop_button.setVisible(running)
        self.again_button.setVisible(not running)
        writable = not self._books.session.stockroom.read_only
        self.accept_button.setEnabled(not running and self.shared is not None and writable)
        self.cards_button.setVisible(not running and bool(self._wanting()))

    def _wanting(self) -> list[BookPart]:
        """The parts that nothing in the hoard serves."""
        choices = self.shared.choices if self.shared is not None else ()
        return [choice.part for choice in choices if choice.wanted]

    def _show(self, shared: Shared | None) -> None:
        self.shared = shared
        kept = self._chosen()
        self.model.show(shared, self._books.session.settings.lengths)
        self.body.show_only(self.table)
        self.figures.show_shared(shared)
        self._set_running(running=self._job is not None)
        self.reason.show_nothing()
        asked = shared.asked if shared is not None else None
        self.override.setVisible(asked is not None and bool(asked.unreasoned or asked.reason))
        if shared is None:
            return
        told = (proved_words(shared), seek_words(shared))
        self.doing.setText("\n".join(words for words in told if words))
        row = max(self.model.row_of(kept.part.id), 0) if kept else 0
        self.table.selectRow(row)

    # The chosen part

    def _chosen(self) -> ShareChoice | None:
        return self.model.choice(self.table.currentIndex().row())

    def _row_changed(self, _now: QModelIndex, _before: QModelIndex) -> None:
        choice = self._chosen()
        if choice is None or self.shared is None:
            self.reason.show_nothing()
        else:
            self.reason.show_choice(self.shared, choice, self.pins.get(choice.part.id, ""))

    def _pin(self, part: int, code: str) -> None:
        self.pins[part] = code
        self.run()

    def _unpin(self, part: int) -> None:
        if self.pins.pop(part, None) is not None:
            self.run()

    # The end

    def _leave(self) -> None:
        self._ending = True
        self._halt()
        self.left.emit()

    def _accept(self) -> None:
        if self.shared is not None:
            self.accepted.emit(self.shared)
