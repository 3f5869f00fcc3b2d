"""The sheet of the chosen lot: its time, its uses, its facts, what was taken from it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.adhesives.lot_words import life_lines, lot_facts, use_words
from bindery_stock.bench.adhesives.shelf_rows import LotRow
from bindery_stock.bench.adhesives.snapshot import LotStory, story
from bindery_stock.bench.shelf.cautions import cautions
from bindery_stock.clock import local_date
from bindery_stock.desktop.column import plain_label, section_head
from bindery_stock.desktop.evidence.caution_list import CautionList
from bindery_stock.desktop.evidence.evidence_list import EvidenceList
from bindery_stock.desktop.evidence.fact_list import FactList
from bindery_stock.desktop.evidence.verdict_list import VerdictList
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button, weigh
from bindery_stock.desktop.session import Session
from bindery_stock.trade.day_counts import written

_LEAST_WIDTH = 360


class LotSheet(EitherOr):
    """Shows one lot.

    Emits ``use_wanted()``, ``open_wanted()``, ``edit_wanted()``, ``test_wanted()``,
    ``mix_wanted()`` and ``finish_wanted()`` for the buttons.
    """

    use_wanted = Signal()
    open_wanted = Signal()
    edit_wanted = Signal()
    test_wanted = Signal()
    mix_wanted = Signal()
    finish_wanted = Signal()

    def __init__(self, session: Session) -> None:
        """Begin with no lot."""
        nothing = EmptyState("No lot chosen", "Choose a tin or jar to see all about it here.", [])
        scroll = QScrollArea()
        super().__init__(nothing, scroll)
        self._session = session
        self._row: LotRow | None = None
        self._job: Job | None = None
        self._told = ""
        """The lot of which it is told what happened."""
        self._stale = False
        self.nothing, self.area = nothing, scroll
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumWidth(_LEAST_WIDTH)
        self._build()

    def _build(self) -> None:
        self.name = plain_label()
        sized(self.name, TypeSize.TITLE, bold=True)
        self.what = plain_label(muted=True)
        self.life = plain_label()
        sized(self.life, TypeSize.HEAD)
        self.caution_list = CautionList()
        self.counts = plain_label()
        self.verdicts = VerdictList()
        self.fact_list = FactList()
        self.tests = EvidenceList(self._session)
        self.uses = plain_label()
        self.history = plain_label(muted=True)
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(GRID * 4, GRID * 3, GRID * 4, GRID * 4)
        column.setSpacing(GRID * 2)
        for widget in (self.name, self.what, self.life):
            column.addWidget(widget)
        column.addLayout(self._buttons())
        column.addWidget(self.caution_list)
        for heading, section in (
            ("Fit for", self.verdicts),
            ("How long it keeps", self.counts),
            ("Facts", self.fact_list),
            ("Tested", self.tests),
            ("Taken from it", self.uses),
            ("History", self.history),
        ):
            column.addWidget(section_head(heading))
            column.addWidget(section)
        column.addStretch(1)
        self.area.setWidget(body)

    def _buttons(self) -> QVBoxLayout:
        self.use_button = next_button("Use some…")
        self.open_button = QPushButton("Opened today")
        self.edit_button = QPushButton("Edit…")
        self.test_button = QPushButton("Record a test…")
        self.mix_button = QPushButton("Mix or dilute…")
        self.finish_button = QPushButton("Finish…")
        for button, signal in (
            (self.use_button, self.use_wanted),
            (self.open_button, self.open_wanted),
            (self.edit_button, self.edit_wanted),
            (self.test_button, self.test_wanted),
            (self.mix_button, self.mix_wanted),
            (self.finish_button, self.finish_wanted),
        ):
            button.clicked.connect(lambda _checked=False, signal=signal: signal.emit())
        column = QVBoxLayout()
        column.setSpacing(GRID)
        column.addWidget(self.use_button)
        for buttons in (
            (self.open_button, self.edit_button, self.finish_button),
            (self.test_button, self.mix_button),
        ):
            row = QHBoxLayout()
            row.setSpacing(GRID * 2)
            for button in buttons:
                row.addWidget(button)
            row.addStretch(1)
            column.addLayout(row)
        return column

    @property
    def row(self) -> LotRow | None:
        """The lot shown."""
        return self._row

    def show_row(self, row: LotRow | None) -> None:
        """Show all that is known of a lot, or that none is chosen."""
        before, self._row = self._row, row
        if row is None:
            self.show_only(self.nothing)
            return
        if before is None or before.lot.id != row.lot.id:
            self.verdicts.forget_open()
            self.area.verticalScrollBar().setValue(0)
        rules, lot = self._session.rules, row.lot
        self.name.setText(lot.name)
        self.what.setText(f"{lot.code}, {row.class_name}")
        self.life.setText(row.life.words)
        self.caution_list.show_cautions(cautions(lot, rules))
        self.verdicts.show_fitness(row.fitness)
        self.counts.setText("\n\n".join(life_lines(row)))
        self.fact_list.show_facts(lot_facts(row, rules))
        self.tests.show_records(lot.properties, rules.properties)
        self._show_story_of(lot.code)
        self._set_buttons(row)
        self.show_only(self.area)

    def _show_story_of(self, code: str) -> None:
        """Tell what happened with the lot, once it is read; what stood there stays meanwhile."""
        if code == self._told and not self._stale:
            return
        if self._job is not None:
            self._job.stop()
        if code != self._told:
            self.uses.clear()
            self.history.clear()
        self._told, self._stale = code, False
        stockroom = self._session.stockroom
        self._job = self._session.jobs.run(
            lambda _job: story(stockroom, code), owner=self, done=self._show_story
        )

    def _show_story(self, found: LotStory) -> None:
        self._job = None
        self.uses.setText("\n".join(use_words(use) for use in found.uses) or "Nothing yet.")
        told = [
            f"{written(local_date(step.at))}  {step.name}"
            + ("" if step.standing else " (taken back)")
            for step in found.steps
        ]
        self.history.setText("\n".join(told))

    def heard(self) -> None:
        """Something was done with the lots: what happened is read again when a lot is shown."""
        self._stale = True

    def _set_buttons(self, row: LotRow) -> None:
        here = not row.lot.finished and not self._session.stockroom.read_only
        for button in (
            self.use_button,
            self.edit_button,
            self.test_button,
            self.mix_button,
            self.finish_button,
        ):
            button.setEnabled(here)
        self.open_button.setEnabled(here and row.lot.opened is None)
        # What is barred for everything is to leave the shelf: using it asks for a reason.
        weigh(self.use_button, next_action=not row.barred_everywhere)
        weigh(self.finish_button, next_action=row.barred_everywhere)
