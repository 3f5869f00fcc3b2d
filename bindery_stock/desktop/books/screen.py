"""The Books place: sets and volumes, and what is done with them."""

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from bindery_stock.bench.books.keep_survey import copy_survey, correct_survey, survey
from bindery_stock.bench.books.reserve_parts import accept_plan
from bindery_stock.bench.books.share_out import Shared
from bindery_stock.bench.books.survey import next_name
from bindery_stock.desktop.books.actions import BookActions
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.commands import book_commands
from bindery_stock.desktop.books.set_view import NO_SET, SetView
from bindery_stock.desktop.books.share_view import ShareView
from bindery_stock.desktop.books.survey_form import SurveyForm
from bindery_stock.desktop.books.volume_view import VolumeView
from bindery_stock.desktop.commands import Command
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import EitherOr, EmptyState, Screen, next_button, quiet_button
from bindery_stock.desktop.session import Session
from bindery_stock.stock import BookPart, Changes, NewRepair, PartState

_FIELDS = (
    "name", "survey", "title", "author", "owner", "volume", "pattern", "tolerance",
    "hours_estimated", "condition", "colour_family", "dated", "lab_results", "description",
    "photos", "targets",
)  # fmt: skip


class BooksScreen(Screen):
    """Volumes and sets on the bench, from the survey to the last part in the book."""

    title = "Books"
    icon = "books"

    def __init__(self, session: Session, previews: Previews) -> None:
        """Build every view of the place."""
        super().__init__(session)
        self.books = BenchBooks(session)
        self.tasks = BookActions(self.books, previews, self.window)
        self.set_view = SetView(self.books, previews)
        self.volume_view = VolumeView(self.books, previews)
        self.survey_form = SurveyForm(self.books, previews)
        self.share_view = ShareView(self.books, previews)
        self.first_button = next_button("Survey a volume")
        self.first_set_button = quiet_button("Enter a set of volumes")
        self.empty = EmptyState(
            "No book on the bench yet",
            "Survey a volume: measure it, tick what is wrong, read the colour its new cloth is to "
            "match. The parts to cut follow, and the shelf can be shared out over a whole set.",
            [self.first_button, self.first_set_button],
        )
        self.body = EitherOr(
            self.empty, self.set_view, self.volume_view, self.survey_form, self.share_view
        )
        self._front: QWidget = self.empty
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.body)
        self._listen()

    def _listen(self) -> None:
        deeds = self.tasks
        deeds.set_added.connect(self._show_set)
        self.session.volume_wanted.connect(self.show_volume)
        self.books.changed.connect(self._refresh)
        self.first_button.clicked.connect(self.survey_new)
        self.first_set_button.clicked.connect(self.tasks.new_set)
        one_set = self.set_view
        one_set.chosen.connect(self._show_set)
        one_set.volume_wanted.connect(self.show_volume)
        one_set.survey_wanted.connect(self.survey_new)
        one_set.share_wanted.connect(lambda: self.share_out([]))
        one_set.replan_wanted.connect(self.share_out)
        one_set.set_wanted.connect(lambda: deeds.edit_set(one_set.code))
        one_set.new_set_wanted.connect(self.tasks.new_set)
        one_set.allowances_wanted.connect(lambda: deeds.set_allowances(one_set.code))
        self._listen_to_the_volume()
        self.survey_form.saved.connect(self._save)
        self.survey_form.left.connect(self._leave_survey)
        self.share_view.left.connect(lambda: self._show_set(self.set_view.code))
        self.share_view.accepted.connect(self._accept)
        self.share_view.cards_wanted.connect(deeds.show_cards)

    def _listen_to_the_volume(self) -> None:
        deeds, volume = self.tasks, self.volume_view
        volume.back_wanted.connect(lambda: self._show_set(self._set_of(volume.code)))
        volume.next_wanted.connect(self._step)
        volume.survey_wanted.connect(self._edit_survey)
        volume.copy_wanted.connect(self._copy)
        volume.allowances_wanted.connect(deeds.volume_allowances)
        volume.care_wanted.connect(deeds.examine)
        volume.damage_wanted.connect(deeds.place_damage)
        volume.treatments_wanted.connect(deeds.choose_treatments)
        volume.remeasure_wanted.connect(deeds.measure_again)
        volume.work_wanted.connect(lambda code: deeds.note_work(code, None))
        volume.done_wanted.connect(deeds.mark_done)
        parts = volume.parts
        parts.match_wanted.connect(self.find_cloth)
        parts.cut_wanted.connect(deeds.cut)
        parts.fitted_wanted.connect(deeds.fit)
        parts.release_wanted.connect(deeds.release)
        parts.out_wanted.connect(deeds.leave_out)
        parts.in_wanted.connect(deeds.want_again)
        parts.split_wanted.connect(deeds.split)
        parts.card_wanted.connect(deeds.show_card)

    def commands(self) -> list[Command]:
        """What can be done with sets, volumes and parts."""
        return book_commands(self)

    @property
    def shows_a_set(self) -> bool:
        """Whether a set is in front."""
        return self._front is self.set_view

    def may_change(self) -> bool:
        """Whether the stockroom can be changed."""
        return self.session.is_open and not self.session.stockroom.read_only

    def chosen_part(self) -> BookPart | None:
        """The part in hand, where a volume is shown."""
        return self.volume_view.parts.part() if self._front is self.volume_view else None

    def chosen_in(self, state: PartState) -> bool:
        """Whether the part in hand stands so."""
        part = self.chosen_part()
        return part is not None and part.state is state

    def with_part(self, deed: Callable[[int], None]) -> None:
        """Do something with the part in hand."""
        part = self.chosen_part()
        if part is not None:
            deed(part.id)

    def unserved(self) -> list[BookPart]:
        """The parts of the set shown that nothing serves."""
        parts = self.books.set_parts(self.set_view.code)
        return [part for part in parts if part.state is PartState.NOTHING_SERVES]

    def all_cards(self) -> None:
        """Show the looking-for cards of the set."""
        self.tasks.show_cards(self.unserved())

    # What is shown

    def stock_opened(self) -> None:
        """Show the first set of the other stockroom, in the unit now chosen."""
        lengths = self.session.settings.lengths
        self.survey_form.measures.restyle(lengths)
        self._front = self.empty
        sets = self.books.sets
        self._show_set(sets[0].code if sets else None)

    def stock_changed(self, changes: Changes) -> None:
        """Read again what a step touched."""
        self.books.heard(changes)

    def came_forward(self) -> None:
        """Put the hand on what is shown."""
        if self._front is self.set_view:
            self.set_view.board.setFocus()
        elif self._front is self.volume_view:
            self.volume_view.parts.list.setFocus()

    def _show_only(self, widget: QWidget) -> None:
        self._front = widget
        self.body.show_only(widget)
        self.came_forward()

    def _refresh(self) -> None:
        """The books changed: show what is in front as it is now."""
        if (
            self._front is self.volume_view
            and not self.volume_view.show_volume(self.volume_view.code)
        ) or self._front in (self.set_view, self.empty):
            self._show_set(self.set_view.code)

    def _show_set(self, code: str | None) -> None:
        if not self.books.repairs and not self.books.sets:
            self._show_only(self.empty)
            return
        if code is None and not self.books.volumes(None) and self.books.sets:
            code = self.books.sets[0].code
        elif code is not None and self.books.book_set(code) is None:
            code = None
        self.set_view.show_set(code)
        self._show_only(self.set_view)

    def show_volume(self, code: str) -> None:
        """Show one volume."""
        if self.volume_view.show_volume(code):
            self._show_only(self.volume_view)

    def _set_of(self, code: str) -> str | None:
        repair = self.books.repair(code)
        return repair.book_set if repair else self.set_view.code

    def _step(self, by: int) -> None:
        repair = self.books.repair(self.volume_view.code)
        if repair is not None:
            codes = [one.code for one in self.books.volumes(repair.book_set)]
            self.show_volume(codes[(codes.index(repair.code) + by) % len(codes)])

    # Surveying

    def survey_new(self) -> None:
        """Begin a survey, of the set that is shown."""
        book_set = self.set_view.code if self._front is self.set_view else None
        self.survey_form.begin(book_set)
        self._show_only(self.survey_form)

    def _edit_survey(self, code: str) -> None:
        repair = self.books.repair(code)
        if repair is not None:
            self.survey_form.edit(repair)
            self._show_only(self.survey_form)

    def _leave_survey(self) -> None:
        editing = self.survey_form.editing
        if editing is not None:
            self.show_volume(editing.code)
        else:
            self._show_set(self.set_view.code)

    def _save(self, new: NewRepair) -> None:
        editing = self.survey_form.editing
        if editing is None:
            self.session.do(
                lambda room: survey(room, new=new),
                done=lambda changes: self._saved(changes.born[0]),
                failed=self.survey_form.refused,
            )
            return
        changed = {
            name: getattr(new, name)
            for name in _FIELDS
            if getattr(new, name) != getattr(editing, name)
        }
        if not changed:
            self.show_volume(editing.code)
            return
        code = editing.code

        self.session.do(
            lambda room: correct_survey(room, volume=code, fields=changed),
            done=lambda _changes: self._saved(code),
            failed=self.survey_form.refused,
        )

    def _saved(self, code: str) -> None:
        self._front = self.volume_view
        self.show_volume(code)

    def _copy(self, code: str) -> None:
        repair = self.books.repair(code)
        if repair is None:
            return
        name = next_name(repair.name, repair.volume)

        def copied(changes: Changes) -> None:
            born = changes.born[0]
            self.show_volume(born)
            self._edit_survey(born)

        self.session.do(lambda room: copy_survey(room, volume=code, names=[name]), done=copied)

    def find_cloth(self, part_id: int) -> None:
        """Seek cloth for a part at the Match place."""
        part = self.books.part(part_id)
        if part is not None:
            self.session.part_wanted.emit(part)

    # Sharing out

    def share_out(self, again: list[int]) -> None:
        """Share out over the set that is shown, or only over parts to be planned anew."""
        code = self.set_view.code
        book_set = self.books.book_set(code)
        title = book_set.title if book_set else NO_SET
        parts = self.books.parts_in_work(code)
        if again:  # only what a change touched; all else stays where it lies
            parts = [part for part in parts if part.id in again]
        self._show_only(self.share_view)
        self.share_view.begin(f"Share out: {title}", code, parts, again)

    def _accept(self, shared: Shared) -> None:
        placements, unserved = shared.placements(), shared.unserved()
        reason = shared.asked.reason

        def kept(_changes: Changes) -> None:
            self._show_set(self.set_view.code)

        self.session.do(
            lambda room: accept_plan(room, placements=placements, unserved=unserved, reason=reason),
            done=kept,
        )
