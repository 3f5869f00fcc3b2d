"""A set as it stands: what its cloth is good for in a sentence, and the board of its volumes."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.progress import Supply, progress, supplies
from bindery_stock.bench.books.stale_parts import Stale, stale
from bindery_stock.bench.match.part_shade import under_now
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.board_model import BoardModel
from bindery_stock.desktop.books.board_view import BoardView
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.elided import ElidedBox
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button, quiet_button
from bindery_stock.desktop.tips import plain_tip

NO_SET = "Single volumes"


class SetView(QWidget):
    """One set. Emits ``volume_wanted(str)``, ``survey_wanted()``, ``share_wanted()``,
    ``replan_wanted(list)`` with the ids of parts, ``allowances_wanted()``, ``set_wanted()`` for
    its facts, ``new_set_wanted()`` and ``chosen(object)`` with the code of another set, or None.
    """

    volume_wanted = Signal(str)
    survey_wanted = Signal()
    share_wanted = Signal()
    replan_wanted = Signal(list)
    allowances_wanted = Signal()
    set_wanted = Signal()
    new_set_wanted = Signal()
    chosen = Signal(object)

    def __init__(self, books: BenchBooks, previews: Previews) -> None:
        """Begin with no set."""
        super().__init__()
        self._books = books
        self._job: Job | None = None
        self._stale: list[Stale] = []
        self.code: str | None = None
        self.chooser = ElidedBox()
        self.chooser.setAccessibleName("Set")
        sized(self.chooser, TypeSize.HEAD, bold=True)
        self.supply_line = plain_label(size=TypeSize.HEAD)
        self.supply_line.setAccessibleName("How far the cloth goes")
        self.progress_line = plain_label()
        self.progress_line.setProperty("role", "muted")
        self.stale_line = plain_label()
        self.replan_button = QPushButton("Plan these anew")
        self.model = BoardModel(books, self)
        self.board = BoardView(self.model, books, previews)
        self.share_button = next_button("Share out…")
        self.survey_button = QPushButton("Survey a volume")
        self.allowances_button = quiet_button("Allowances…")
        self.edit_button = quiet_button("Facts of the set…")
        self.new_set_button = quiet_button("New set…")
        self.first_button = next_button("Survey the first volume")
        self.empty = EmptyState(
            "No volume of this set yet",
            "Survey a volume: its measurements, what is wrong with it, and the colour its new "
            "cloth is to match. The parts to cut follow from that.",
            [self.first_button],
        )
        self.body = EitherOr(self.empty, self.board)
        self.body.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._lay_out()
        self._listen()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(GRID * 2)
        top.addWidget(self.chooser)
        top.addWidget(self.new_set_button)
        top.addStretch(1)
        top.addWidget(self.edit_button)
        top.addWidget(self.allowances_button)
        top.addWidget(self.survey_button)
        top.addWidget(self.share_button)
        changed = QHBoxLayout()
        changed.setSpacing(GRID * 3)
        changed.addWidget(self.stale_line, 1)
        changed.addWidget(self.replan_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 3)
        column.setSpacing(GRID * 3)
        column.addLayout(top)
        column.addWidget(self.supply_line)
        column.addWidget(self.progress_line)
        column.addLayout(changed)
        column.addWidget(self.body, 1)

    def _listen(self) -> None:
        self.board.volume_wanted.connect(self.volume_wanted)
        self.share_button.clicked.connect(self.share_wanted)
        self.survey_button.clicked.connect(self.survey_wanted)
        self.first_button.clicked.connect(self.survey_wanted)
        self.allowances_button.clicked.connect(self.allowances_wanted)
        self.edit_button.clicked.connect(self.set_wanted)
        self.new_set_button.clicked.connect(self.new_set_wanted)
        self.chooser.activated.connect(lambda _row: self.chosen.emit(self.chooser.currentData()))
        self.replan_button.clicked.connect(self._replan)

    def show_set(self, code: str | None) -> None:
        """Show a set, or the volumes that belong to none."""
        row, column = self.board.currentIndex().row(), self.board.currentIndex().column()
        kept = (row, column) if code == self.code and row >= 0 else (0, 0)
        self.code = code
        self.refresh()
        if self.model.rowCount() and self.model.columnCount():
            at = self.model.index(min(kept[0], self.model.rowCount() - 1), kept[1])
            self.board.setCurrentIndex(at if at.isValid() else self.model.index(0, 0))

    def refresh(self) -> None:
        """Show the set as it is now."""
        book_set = self._books.book_set(self.code)
        volumes = self._books.volumes(self.code)
        self._fill_chooser()
        self.edit_button.setVisible(book_set is not None)
        self.model.show_set(self.code)
        self.body.show_only(self.board if volumes else self.empty)
        parts = self._books.set_parts(self.code)
        hours = [self._books.estimate(repair) for repair in volumes]
        self.progress_line.setText(progress(volumes, parts, hours).words if volumes else "")
        reading_only = self._books.session.stockroom.read_only
        self.share_button.setEnabled(bool(parts) and not reading_only)
        for button in (
            self.survey_button,
            self.first_button,
            self.allowances_button,
            self.new_set_button,
            self.edit_button,
        ):
            button.setEnabled(not reading_only)
        self._show_stale()
        self._count_cloth()

    def _fill_chooser(self) -> None:
        """The sets, and the volumes that belong to none."""
        self.chooser.clear()
        for book_set in self._books.sets:
            self.chooser.addItem(book_set.title, book_set.code)
        if self._books.volumes(None) or not self._books.sets:
            self.chooser.addItem(NO_SET, None)
        self.chooser.setCurrentIndex(max(0, self.chooser.findData(self.code)))

    def _show_stale(self) -> None:
        pieces = {piece.code: piece for piece in self._books.session.pieces}
        session = self._books.session
        self._stale = stale(
            self._books.set_parts(self.code), pieces, under_now(session.maps, session.rules)
        )
        self.stale_line.setVisible(bool(self._stale))
        self.replan_button.setVisible(bool(self._stale))
        if self._stale:
            first = self._stale[0]
            more = "" if len(self._stale) == 1 else f" And {len(self._stale) - 1} more."
            self.stale_line.setText(f"△ Changed: {first.part.purpose}: {first.reason}.{more}")
            self.stale_line.setToolTip(
                plain_tip("\n".join(f"{one.part.purpose}: {one.reason}" for one in self._stale))
            )

    def _replan(self) -> None:
        self.replan_wanted.emit([one.part.id for one in self._stale])

    def _count_cloth(self) -> None:
        """How far the cloth goes, off the GUI thread."""
        if self._job is not None:
            self._job.stop()
            self._job = None
        parts = self._books.set_parts(self.code)
        self.supply_line.setVisible(bool(parts))
        if not parts:
            self.supply_line.setText("")
            return
        session = self._books.session
        room = session.stockroom
        pieces, held = session.pieces, self._books.view.reservations
        if not self.supply_line.text():
            self.supply_line.setText("Counting how far the cloth goes…")

        def work(job: Job) -> list[Supply]:
            job.check()
            return supplies(
                parts,
                pieces,
                held,
                today=room.today,
                rules=room.rules,
                stop=lambda: job.stopped,
            )

        self._job = session.jobs.run(work, owner=self, done=self._show_supplies)

    def _show_supplies(self, found: list[Supply]) -> None:
        self._job = None
        told = "  ".join(supply.words for supply in found)
        self.supply_line.setText(told or "No spine of this set waits for cloth.")
