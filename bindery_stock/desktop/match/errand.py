"""The part of a volume for which cloth is sought at the Match place, and what its choice costs."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout

from bindery_stock.bench.books.burden import burden_words
from bindery_stock.bench.books.part_list import use_of
from bindery_stock.bench.books.snapshot import BOOKS
from bindery_stock.bench.match.cut import cut_part
from bindery_stock.bench.match.part_shade import shade_of
from bindery_stock.bench.match.reserve import reserve
from bindery_stock.bench.match.reserve_part import reserve_part
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import line_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.matching import Match, Part
from bindery_stock.stock import (
    BookPart,
    Changes,
    Cutting,
    PartState,
    PlannedPlacement,
    Stockroom,
)
from bindery_stock.trade import Use

_SAME_MM = 0.05
_CUT = (PartState.CUT, PartState.FITTED)


@dataclass(frozen=True, slots=True)
class Reserved:
    """The piece chosen for a part, and where the part lies in it."""

    part: Part
    match: Match
    purpose: str

    def is_for(self, part: Part) -> bool:
        """Whether it was reserved for this very part, whatever it is called."""
        return replace(self.part, name="") == replace(part, name="")


class Errand(QFrame):
    """Names the part, and reserves or cuts for it. Emits ``dropped()`` when it is put aside and
    ``uncut(object)`` with the part where the cut that ended it is taken back.

    Hidden while cloth is sought for no part of a volume.
    """

    dropped = Signal()
    uncut = Signal(object)

    def __init__(self, session: Session) -> None:
        """Begin without a part."""
        super().__init__()
        self._session = session
        self._job: Job | None = None
        self._burdens: dict[str, str] = {}
        self._code = ""
        self.part: BookPart | None = None
        self._done: BookPart | None = None
        """The part that was cut last, until something else is sought."""
        self._books = session.snapshot(BOOKS)
        self.setProperty("role", "panel")
        self.name = QLabel()
        self.name.setTextFormat(Qt.TextFormat.PlainText)
        self.name.setWordWrap(True)
        sized(self.name, TypeSize.BODY, bold=True)
        self.cost = QLabel()
        self.cost.setTextFormat(Qt.TextFormat.PlainText)
        self.cost.setWordWrap(True)
        self.cost.setAccessibleName("What this choice costs the other parts")
        self.drop_button = line_button("Seek for no volume")
        self.drop_button.clicked.connect(self.drop)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 2, GRID * 2, GRID * 2, GRID * 2)
        column.setSpacing(GRID)
        column.addWidget(self.name)
        column.addWidget(self.cost)
        column.addWidget(self.drop_button, alignment=Qt.AlignmentFlag.AlignLeft)
        self.hide()

    def take(self, part: BookPart) -> None:
        """Seek for this part from now on."""
        self.part, self._done = part, None
        self.name.setText(f"For {part.purpose}")
        self._burdens, self._code = {}, ""
        self.cost.setText("")
        self.show()
        self._weigh(part)

    def drop(self) -> None:
        """Seek for no volume any more."""
        self.part = self._done = None
        if self._job is not None:
            self._job.stop()
        self.hide()
        self.dropped.emit()

    def holds(self, sought: Part | None) -> bool:
        """Whether what is sought is still this part; if its size was changed it is put aside."""
        part = self.part
        if part is None or sought is None:
            return False
        same = (
            abs(part.width - sought.width) <= _SAME_MM
            and abs(part.height - sought.height) <= _SAME_MM
        )
        if not same:
            self.drop()
        return same

    def forget_cut(self) -> None:
        """Something else is sought: the part cut last is not gone on with."""
        self._done = None

    def heard(self) -> None:
        """After a step: go on with the part cut last where that was taken back."""
        part = self._books.view.part(self._done.id) if self._done is not None else None
        if part is not None and part.state not in _CUT:
            self.uncut.emit(part)

    def show_cost(self, code: str) -> None:
        """Say what taking this piece would cost the others."""
        self._code = code
        if self.part is not None and self._burdens:
            self.cost.setText(f"{code}: {self._burdens[code]}" if code in self._burdens else "")

    def _weigh(self, part: BookPart) -> None:
        if self._job is not None:
            self._job.stop()
        room, pieces = self._session.stockroom, self._session.pieces
        self._job = self._session.jobs.run(
            lambda _job: burden_words(part, room.books.parts(), pieces),
            owner=self,
            done=self._weighed,
        )

    def _weighed(self, found: dict[str, str]) -> None:
        self._job = None
        self._burdens = found
        self.show_cost(self._code)

    @property
    def use(self) -> Use | None:
        """What the part is for, as the rules know it; None without one."""
        return use_of(self.part.role, self._session.rules) if self.part is not None else None

    def has_kept(self, code: str, purpose: str) -> bool:
        """Whether a piece is reserved for this already; says so, as nothing is changed then."""
        kept = purpose in {o.purpose for o in self._session.stockroom.pieces.reservations(code)}
        if kept:
            self._session.said.emit(
                f"{code} is reserved for {purpose} already; nothing was changed. Cut… goes on "
                "with it."
            )
        return kept

    def reserve(
        self,
        chosen: Reserved,
        reason: str,
        done: Callable[[Changes], None],
        failed: Callable[[Exception], None],
    ) -> None:
        """Keep a piece for what is sought, which goes on being sought until it is cut."""
        match, part = chosen.match, self.part
        if self.holds(chosen.part) and part is not None:
            placement = PlannedPlacement(
                part=part.id,
                code=match.code,
                corners=match.placement.corners,
                shade=shade_of(match),
            )
            self._session.do(
                lambda room: reserve_part(room, placement=placement, reason=reason),
                done=done,
                failed=failed,
            )
            return
        self._session.do(
            lambda room: reserve(
                room,
                piece=match.code,
                purpose=chosen.purpose,
                width=chosen.part.width,
                height=chosen.part.height,
                corners=match.placement.corners,
                reason=reason,
            ),
            done=done,
            failed=failed,
        )

    def cut(self, sheet: StockDialog, cutting: Cutting) -> None:
        """Cut the part from a piece, as the sheet says."""
        part = self.part
        if part is None:
            return

        reason = sheet.written_reason

        def verb(room: Stockroom) -> Changes:
            return cut_part(room, part=part.id, cutting=cutting, reason=reason)

        def done(_changes: Changes) -> None:
            self.drop()
            self._done = part

        sheet.hand(self._session, verb, done)
