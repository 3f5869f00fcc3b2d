"""Surveying a volume: measured, ticked, photographed; what it comes to is drawn as it is filled."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.survey import (
    SURVEY_CAUTION,
    outcome_words,
    survey_from,
    worked_out,
)
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.case_view import CaseView
from bindery_stock.desktop.books.covering_form import CoveringForm
from bindery_stock.desktop.books.damage_ticks import DamageTicks
from bindery_stock.desktop.books.description_form import DescriptionForm
from bindery_stock.desktop.books.form_rows import (
    few_lines,
    outcome_column,
    paired,
    say,
    two_columns,
    whole,
)
from bindery_stock.desktop.books.measures_form import MeasuresForm
from bindery_stock.desktop.books.photo_strip import PhotoStrip
from bindery_stock.desktop.books.target_list import TargetList
from bindery_stock.desktop.column import plain_label, scrolled
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.unkept import LEAVE_AGAIN, Unkept, all_entered
from bindery_stock.errors import BinderyError
from bindery_stock.matching import ANOTHER_COLOUR
from bindery_stock.stock import NewBookSet, NewRepair, Repair, RepairState
from bindery_stock.trade import Survey, hazards
from bindery_stock.trade.care import NOTHING_AGREED
from bindery_stock.trade.vocabulary import PATTERNS


class SurveyForm(QWidget):
    """One volume to be filled in. Emits ``saved(object)`` with the ``NewRepair`` and
    ``left()`` when it is put away.
    """

    saved = Signal(object)
    left = Signal()

    def __init__(self, books: BenchBooks, previews: Previews) -> None:
        """Begin empty."""
        super().__init__()
        self._books = books
        session = books.session
        self._repair: Repair | None = None
        self._set: str | None = None
        self.heading = plain_label(size=TypeSize.TITLE)
        self.name = QLineEdit(placeholderText="Hollin Vale vol. 4")
        self.title, self.author, self.owner = QLineEdit(), QLineEdit(), QLineEdit()
        self.volume = NumberEntry("Volume", 0, 9999)
        self.pattern = QComboBox()
        self.pattern.setEditable(True)
        self.pattern.addItems(["", *PATTERNS])
        self.tolerance = NumberEntry("Up to ΔE00", 0, 100)
        self.tolerance.setPlaceholderText(f"the closest, within {ANOTHER_COLOUR:g}")
        self.hours = NumberEntry("Hours", 0, 1000)
        self.condition = few_lines("Condition as found")
        self.covering = CoveringForm(session)
        self.description = DescriptionForm()
        self.measures = MeasuresForm(session.settings.lengths)
        self.ticks = DamageTicks(session.settings.lengths)
        self.photos = PhotoStrip(session)
        self.targets = TargetList(session)
        self.case = CaseView(previews, session.settings.lengths)
        self.outcome = plain_label()
        self.outcome.setAccessibleName("What the survey comes to")
        self.save_button = next_button("Keep the survey")
        self.leave_button = QPushButton("Leave it")
        right = outcome_column(
            self.case, self.outcome, SURVEY_CAUTION, self.leave_button, self.save_button
        )
        self.setLayout(two_columns(self.heading, self._left(), right))
        shots, targets = self.photos.shots, self.targets.targets
        self._unkept = Unkept(lambda: (all_entered(self), shots(), targets()))
        self._listen()

    def _left(self) -> QScrollArea:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(GRID * 4, GRID * 2, GRID * 4, GRID * 4)
        column.setSpacing(GRID * 3)
        column.addLayout(self._facts())
        for words, widget in (
            ("Covering", self.covering),
            ("The copy and its binding", self.description),
            ("Measurements", self.measures),
            ("What is wrong", self.ticks),
            ("Photographs", self.photos),
            ("Colours sought", self.targets),
        ):
            column.addWidget(plain_label(words, size=TypeSize.HEAD))
            column.addWidget(widget)
        self.entries_view = scrolled(left)
        self.entries_view.setMinimumWidth(GRID * 132)
        return self.entries_view

    def _facts(self) -> QFormLayout:
        form = QFormLayout()
        form.setHorizontalSpacing(GRID * 3)
        form.setVerticalSpacing(GRID + 2)
        form.addRow("&Name", self.name)
        form.addRow("&Title", self.title)
        form.addRow("&Author", self.author)
        form.addRow("&Belongs to", self.owner)
        volume, tolerance = paired(
            (self.volume, "Grain pattern", self.pattern), (self.tolerance, "Hours", self.hours)
        )
        form.addRow("Volume", volume)
        form.addRow("Up to ΔE00", tolerance)
        form.addRow("&Condition", self.condition)
        return form

    def _listen(self) -> None:
        for part in (self.covering, self.measures, self.ticks, self.targets, self.photos):
            part.changed.connect(self.refresh)
        self.pattern.currentTextChanged.connect(lambda _text: self.refresh())
        self.photos.colour_wanted.connect(self.targets.read_on)
        self.save_button.clicked.connect(self.save)
        self.leave_button.clicked.connect(self.leave)

    def begin(self, book_set: str | None) -> None:
        """A new volume, with what its set hands on."""
        self._repair, self._set = None, book_set
        known = self._books.book_set(book_set)
        the_set = known or NewBookSet(title="")
        number = max((v.volume or 0 for v in self._books.volumes(book_set)), default=0) + 1
        self.heading.setText(f"A volume of {the_set.title}" if known else "A volume")
        self.name.setText(f"{the_set.title} vol. {number}" if known else "")
        for entry in (self.title, self.tolerance, self.hours, self.condition):
            entry.clear()
        self.author.setText(the_set.author)
        self.owner.setText(the_set.owner)
        self.volume.setText(str(number) if known else "")
        self.pattern.setCurrentText(the_set.pattern)
        self.covering.show_covering(the_set.colour_family, the_set.dated)
        self.description.show_description(the_set.description)
        self.measures.begin(dict(the_set.shared))
        self.ticks.show_damage(())
        self.photos.show_shots(())
        self.targets.show_targets(())
        self._begun(self.name)

    def edit(self, repair: Repair) -> None:
        """Put an existing survey right."""
        self._repair, self._set = repair, repair.book_set
        self.heading.setText(f"Survey of {repair.name}")
        self.name.setText(repair.name)
        self.title.setText(repair.title)
        self.author.setText(repair.author)
        self.owner.setText(repair.owner)
        self.volume.setText("" if repair.volume is None else str(repair.volume))
        self.pattern.setCurrentText(repair.pattern)
        self.tolerance.show_number(repair.tolerance)
        self.hours.show_number(repair.hours_estimated)
        self.condition.setPlainText(repair.condition)
        self.covering.show_covering(repair.colour_family, repair.dated, repair.lab_results)
        self.description.show_description(repair.description)
        self.measures.show_survey(repair.survey)
        self.ticks.show_damage(repair.survey.damage, placed=bool(repair.care.damages))
        self.photos.show_shots(repair.photos)
        self.targets.show_targets(repair.targets)
        self._begun(self.measures.entries["board_height"])

    def _begun(self, first: QWidget) -> None:
        self.refresh()
        self._unkept.begin()
        self.entries_view.verticalScrollBar().setValue(0)
        first.setFocus()

    def leave(self) -> None:
        """Put it away; where something was entered, when asked a second time."""
        if self._unkept.may_leave():
            self.left.emit()
        else:
            say(self.outcome, LEAVE_AGAIN, trouble=True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leaves as the button does."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
            return
        super().keyPressEvent(event)

    def repair(self) -> NewRepair:
        """The volume as it is filled in. Raises ``EntryError``."""
        was = self._repair
        return NewRepair(
            name=self.name.text().strip(),
            survey=self._survey(),
            title=self.title.text().strip(),
            author=self.author.text().strip(),
            owner=self.owner.text().strip(),
            book_set=self._set,
            volume=whole(self.volume.value()),
            pattern=self.pattern.currentText().strip(),
            tolerance=self.tolerance.value(),
            hours_estimated=self.hours.value(),
            state=was.state if was else RepairState.SURVEYED,
            condition=self.condition.toPlainText().strip(),
            colour_family=self.covering.colour_family(),
            dated=self.covering.dated.text().strip(),
            lab_results=self.covering.lab_results(),
            description=self.description.description(),
            care=was.care if was else NOTHING_AGREED,
            note=was.note if was else "",
            photos=self.photos.shots(),
            targets=self.targets.targets(),
        )

    def _survey(self) -> Survey:
        values = self.measures.values()
        if self._repair is not None:
            values["like_volume"] = self._repair.survey.like_volume
        return survey_from(values, self.ticks.damage())

    def refresh(self) -> None:
        """Work out what the survey comes to as it stands."""
        room = self._books.session.stockroom
        code = self._repair.code if self._repair else None
        overrides = self._books.view.overrides.of(code, self._set)
        allowances = allowances_for(overrides, room.rules)
        cloth = self.covering.cloth(self.targets.targets())
        self.covering.show_cautions(hazards(cloth, rules=room.rules))
        try:
            repair = self.repair()
        except BinderyError as error:
            self.case.show_volume(None, [], allowances, room.rules, {})
            say(self.outcome, str(error), trouble=True)
            return
        found = worked_out(repair, allowances, room.rules)
        self.case.show_volume(repair, list(found.parts), allowances, room.rules, {})
        if found.trouble:
            say(self.outcome, found.trouble, trouble=True)
            return
        say(self.outcome, outcome_words(found), trouble=False)

    def save(self) -> None:
        """Hand the volume on, or say what is wanting; colours typed and not set count."""
        try:
            self.targets.take_typed()
        except BinderyError as error:
            self.targets.show_wrong(error)
            say(self.outcome, str(error), trouble=True)
            wrong = self.targets.wrong  # seen whole only once it has its place in the column
            QTimer.singleShot(0, wrong, lambda: self.entries_view.ensureWidgetVisible(wrong))
            return
        try:
            self.saved.emit(self.repair())
        except BinderyError as error:
            self.refused(error)

    def refused(self, error: Exception) -> None:
        """Say what was refused, and go to the entry it is about; everything typed stays."""
        self._books.session.tell(error)
        if not isinstance(error, BinderyError):
            return
        say(self.outcome, str(error), trouble=True)
        entry = self._entry_of(error.field)
        if entry is not None:
            self.entries_view.ensureWidgetVisible(entry)
            entry.setFocus()

    def _entry_of(self, field: str) -> QWidget | None:
        """The entry an error is about, or None."""
        named = {
            "Name": self.name, "Title": self.title, "Author": self.author, "Owner": self.owner,
            "Volume": self.volume, "Pattern": self.pattern, "Tolerance": self.tolerance,
            "Up to ΔE00": self.tolerance, "Hours": self.hours, "Condition": self.condition,
            "Dated": self.covering.dated, "Imprint": self.description.imprint,
        }  # fmt: skip
        measured = {entry.field: entry for entry in self.measures.entries.values()}
        return (measured | named).get(field)

    @property
    def editing(self) -> Repair | None:
        """The volume that is being put right; None while a new one is filled in."""
        return self._repair
