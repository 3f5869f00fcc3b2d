"""One volume: the opened case to scale, its parts, its hours and what was done to it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from bindery_stock.bench.books.case import unseen
from bindery_stock.bench.books.cost import Cost, cost_of
from bindery_stock.bench.books.description_entries import binding_words
from bindery_stock.bench.books.gate_beforehand import wet_line
from bindery_stock.bench.books.survey import hours_words
from bindery_stock.bench.books.volume_treatments import as_found
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.case_view import CaseView
from bindery_stock.desktop.books.part_panel import PartPanel
from bindery_stock.desktop.column import hair_line, plain_label
from bindery_stock.desktop.elided import ElidedLabel
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import line_button, quiet_button
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import BookPart, Repair, StockPiece

_PANEL = GRID * 88


class VolumeView(QWidget):
    """One volume. Emits ``back_wanted()``, ``survey_wanted(str)``, ``remeasure_wanted(str)``,
    ``work_wanted(str)``, ``copy_wanted(str)``, ``allowances_wanted(str)``, ``care_wanted(str)``,
    ``damage_wanted(str)``, ``treatments_wanted(str)``,
    ``done_wanted(str)``, and ``next_wanted(int)`` with the step to another volume of the set.
    """

    back_wanted = Signal()
    survey_wanted = Signal(str)
    remeasure_wanted = Signal(str)
    work_wanted = Signal(str)
    copy_wanted = Signal(str)
    allowances_wanted = Signal(str)
    care_wanted = Signal(str)
    damage_wanted = Signal(str)
    treatments_wanted = Signal(str)
    done_wanted = Signal(str)
    next_wanted = Signal(int)

    def __init__(self, books: BenchBooks, previews: Previews) -> None:
        """Begin with no volume."""
        super().__init__()
        self._books = books
        self.code = ""
        self.heading = ElidedLabel()
        sized(self.heading, TypeSize.TITLE)
        self.title = ElidedLabel()
        self.title.setProperty("role", "muted")
        self.case = CaseView(previews, books.session.settings.lengths)
        self.parts = PartPanel(books, previews)
        self.covering = plain_label()
        self.covering.setAccessibleName("What the rules stop on the covering")
        self.condition = plain_label()
        self.record = plain_label()
        self.record.setProperty("role", "muted")
        self.back_button = line_button("‹ The set")
        self.before_button = quiet_button("‹")
        self.before_button.setAccessibleName("The volume before")
        self.after_button = quiet_button("›")
        self.after_button.setAccessibleName("The volume after")
        self.survey_button = QPushButton("Survey…")
        self.copy_button = QPushButton("Copy to the next volume")
        self.allowances_button = quiet_button("Allowances…")
        self.care_button = QPushButton("Examination and proposal…")
        self.damage_button = QPushButton("Damage…")
        self.treatments_button = QPushButton("Treatments…")
        self.remeasure_button = QPushButton("Linings are on: measure again…")
        self.work_button = QPushButton("Note work and hours…")
        self.done_button = QPushButton("Volume done")
        self._lay_out()
        self._listen()

    def _lay_out(self) -> None:
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self.heading)
        names.addWidget(self.title)
        top = QHBoxLayout()
        top.setSpacing(GRID)
        top.addWidget(self.back_button)
        top.addWidget(self.before_button)
        top.addWidget(self.after_button)
        top.addLayout(names, 1)
        top.addWidget(self.allowances_button)
        top.addWidget(self.copy_button)
        top.addWidget(self.survey_button)
        top.addWidget(self.care_button)
        doings = QHBoxLayout()
        doings.setSpacing(GRID * 2)
        doings.addWidget(self.record, 1)
        doings.addWidget(self.remeasure_button)
        doings.addWidget(self.work_button)
        doings.addWidget(self.done_button)
        left = QVBoxLayout()
        left.setSpacing(GRID * 3)
        left.addWidget(self.covering)
        left.addWidget(self.case, 1)
        left.addLayout(self._condition_row())
        left.addLayout(doings)
        self.parts.setFixedWidth(_PANEL)
        body = QHBoxLayout()
        body.setSpacing(GRID * 4)
        body.addLayout(left, 1)
        body.addWidget(hair_line(upright=True))
        body.addWidget(self.parts)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 3)
        column.setSpacing(GRID * 3)
        column.addLayout(top)
        column.addLayout(body, 1)

    def _condition_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        row.addWidget(self.condition, 1)
        row.addStretch(0)
        row.addWidget(self.damage_button)
        row.addWidget(self.treatments_button)
        return row

    def _listen(self) -> None:
        self.case.part_chosen.connect(self.parts.choose)
        self.parts.chosen.connect(self._part_chosen)
        self.back_button.clicked.connect(self.back_wanted)
        self.before_button.clicked.connect(lambda: self.next_wanted.emit(-1))
        self.after_button.clicked.connect(lambda: self.next_wanted.emit(1))
        for button, signal in (
            (self.survey_button, self.survey_wanted),
            (self.copy_button, self.copy_wanted),
            (self.allowances_button, self.allowances_wanted),
            (self.care_button, self.care_wanted),
            (self.damage_button, self.damage_wanted),
            (self.treatments_button, self.treatments_wanted),
            (self.remeasure_button, self.remeasure_wanted),
            (self.work_button, self.work_wanted),
            (self.done_button, self.done_wanted),
        ):
            button.clicked.connect(lambda _checked=False, s=signal: s.emit(self.code))

    def _part_chosen(self, part: BookPart | None) -> None:
        self.case.choose(part.key if part is not None else None)

    def show_volume(self, code: str) -> bool:
        """Show a volume; False where it is no longer there."""
        repair = self._books.repair(code)
        if repair is None:
            return False
        self.code = code
        self.heading.setText(repair.name)
        self.title.setText(
            ", ".join(
                part
                for part in (
                    repair.title,
                    repair.author,
                    repair.owner,
                    repair.description.shelfmark,
                )
                if part
            )
        )
        in_set = repair.book_set is not None
        for button in (self.before_button, self.after_button):
            button.setVisible(in_set)
        self.back_button.setText("‹ The set" if in_set else "‹ Single volumes")
        room = self._books.session.stockroom
        parts = self._books.parts(code)
        known = {part.key: self._books.piece(part.piece) for part in parts}
        pieces: dict[tuple[str, str, int], StockPiece] = {k: p for k, p in known.items() if p}
        self.case.lengths = self._books.session.settings.lengths
        self.case.show_volume(
            as_found(repair), list(parts), self._books.allowances(repair), room.rules, pieces
        )
        self.parts.show_parts(parts)
        self._show_words(repair, parts)
        estimated = any(part.estimated for part in parts)
        self.remeasure_button.setVisible(estimated)
        self.done_button.setText("Back on the bench" if repair.state == "done" else "Volume done")
        for button in (
            self.survey_button,
            self.copy_button,
            self.remeasure_button,
            self.work_button,
            self.allowances_button,
            self.care_button,
            self.damage_button,
            self.treatments_button,
            self.done_button,
        ):
            button.setEnabled(not room.read_only)
        return True

    def _show_words(self, repair: Repair, parts: list[BookPart]) -> None:
        against = self._books.said_wet(repair)
        self.covering.setText(wet_line(against))
        self.covering.setToolTip(plain_tip(against.words))
        self.covering.setVisible(not against.is_allowed)
        inside = [damage.harm.value for damage in unseen(as_found(repair).survey)]
        described = binding_words(repair.description, repair.pattern)
        earlier = repair.description.former_repairs
        lines = [f"Binding: {described}."] if described else []
        if repair.condition:
            lines.append(repair.condition)
        if earlier:
            lines.append(f"Former repairs: {earlier}")
        if inside:
            lines.append(f"Not seen from outside: {', '.join(inside)}.")
        self.condition.setText("\n".join(lines))
        self.condition.setVisible(bool(lines))
        about = hours_words(*self._books.estimate(repair))
        cost = self.cost(repair, parts)
        self.record.setText(f"{cost.words} of about {about} h. {str(repair.state).capitalize()}.")
        self.record.setToolTip(
            plain_tip("\n".join(line.words for line in cost.lines) or "Nothing cut yet.")
        )

    def cost(self, repair: Repair, parts: list[BookPart]) -> Cost:
        """What the volume has cost so far."""
        return cost_of(parts, repair.hours_spent, self._books.view.lineage)
