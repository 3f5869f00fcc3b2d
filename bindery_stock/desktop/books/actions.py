"""What is done with sets, volumes and parts from the Books place, and the dialogs it takes."""

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QDialog, QWidget

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.enter_set import correct_set, enter_set
from bindery_stock.bench.books.examine import examine
from bindery_stock.bench.books.keep_survey import move_volume
from bindery_stock.bench.books.measure_again import measure_again
from bindery_stock.bench.books.note_work import fit, note_work
from bindery_stock.bench.books.part_list import as_matched, use_of
from bindery_stock.bench.books.plan import split_part
from bindery_stock.bench.books.reserve_parts import leave_out, release_parts, want_again
from bindery_stock.bench.books.set_allowances import set_allowances
from bindery_stock.bench.books.spoken_for import placement_of
from bindery_stock.bench.books.volume_treatments import (
    choose_treatments,
    open_choice,
    place_damage,
)
from bindery_stock.bench.books.want_cards import want_cards
from bindery_stock.bench.match.cut import cut_part
from bindery_stock.desktop.books.allowance_table import AllowanceTable
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.card_sheet import CardSheet
from bindery_stock.desktop.books.care_dialog import CareDialog
from bindery_stock.desktop.books.damage_dialog import DamageDialog
from bindery_stock.desktop.books.measure_again import MeasureAgain
from bindery_stock.desktop.books.set_facts import SetFacts
from bindery_stock.desktop.books.treatments_dialog import TreatmentsDialog
from bindery_stock.desktop.books.work_note import WorkNote
from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet
from bindery_stock.desktop.previews import Previews
from bindery_stock.errors import BinderyError
from bindery_stock.stock import (
    BookPart,
    Changes,
    Cutting,
    NewBookSet,
    NewTreatment,
    NewWanted,
    Repair,
    RepairState,
    Stockroom,
)
from bindery_stock.trade.care import CarePlan


class BookActions(QObject):
    """Changes the bench, each deed one step. Emits ``set_added(str)`` with the code of a set."""

    set_added = Signal(str)

    def __init__(
        self, books: BenchBooks, previews: Previews, window: Callable[[], QWidget]
    ) -> None:
        """Open dialogs over ``window()``."""
        super().__init__(books)
        self._books, self._previews, self._window = books, previews, window
        self._session = books.session
        self.dialog: QDialog | None = None

    def show_cards(self, parts: Sequence[BookPart]) -> None:
        """Show looking-for cards of parts, to be printed or put on the wanted list."""
        if not parts:
            return
        sheet = CardSheet(self._session, parts, self._window())
        sheet.wanted.connect(lambda wants: self._want(sheet, wants))
        self._open(sheet)

    def show_card(self, part_id: int) -> None:
        """Show the looking-for card of one part."""
        part = self._books.part(part_id)
        if part is not None:
            self.show_cards([part])

    def _want(self, sheet: CardSheet, wants: list[NewWanted]) -> None:
        sheet.hand(self._session, lambda room: want_cards(room, wants=wants))

    def release(self, part_id: int) -> None:
        """Give up the cloth of a part."""
        self._session.do(lambda room: release_parts(room, parts=[part_id]))

    def leave_out(self, part_id: int) -> None:
        """Say that a part is not wanted after all."""
        self._session.do(lambda room: leave_out(room, parts=[part_id]))

    def want_again(self, part_id: int) -> None:
        """Say that a part left out is wanted."""
        self._session.do(lambda room: want_again(room, parts=[part_id]))

    def measure_again(self, code: str) -> None:
        """Measure a back again over its linings."""
        repair = self._books.repair(code)
        if repair is None:
            return
        dialog = MeasureAgain(self._books, repair, self._window())
        dialog.taken.connect(lambda arc: self._take_arc(dialog, code, arc))
        self._open(dialog)

    def _take_arc(self, dialog: MeasureAgain, code: str, arc: float) -> None:
        dialog.hand(self._session, lambda room: measure_again(room, volume=code, arc=arc))

    def new_set(self) -> None:
        """Enter a set."""
        dialog = SetFacts(None, self._session.settings.lengths, self._session.rules, self._window())

        def added(changes: Changes) -> None:
            self.set_added.emit(changes.born[0])

        def add(new: NewBookSet) -> None:
            dialog.hand(self._session, lambda room: enter_set(room, new=new), added)

        dialog.kept.connect(add)
        self._open(dialog)

    def edit_set(self, code: str | None) -> None:
        """Put the facts of a set right."""
        book_set = self._books.book_set(code)
        if book_set is None:
            return
        code = book_set.code
        dialog = SetFacts(
            book_set, self._session.settings.lengths, self._session.rules, self._window()
        )

        def keep(new: NewBookSet) -> None:
            fields = {name: getattr(new, name) for name in NewBookSet.__dataclass_fields__}
            dialog.hand(self._session, lambda room: correct_set(room, book_set=code, fields=fields))

        dialog.kept.connect(keep)
        self._open(dialog)

    def examine(self, code: str) -> None:
        """Write examination, options and consent of a volume."""
        repair = self._books.repair(code)
        if repair is None:
            return
        dialog = CareDialog(repair, self._session.stockroom.today, self._window())

        def keep(care: CarePlan) -> None:
            if care != repair.care:
                dialog.hand(self._session, lambda room: examine(room, volume=code, care=care))

        dialog.kept.connect(keep)
        self._open(dialog)

    def place_damage(self, code: str) -> None:
        """Enter the damage of a volume with its places."""
        repair = self._books.repair(code)
        if repair is None:
            return
        dialog = DamageDialog(self._books, repair, self._window())
        dialog.kept.connect(
            lambda damages: dialog.hand(
                self._session, lambda room: place_damage(room, volume=code, damages=damages)
            )
        )
        self._open(dialog)

    def choose_treatments(self, code: str) -> None:
        """Choose a treatment for each damage of a volume."""
        repair = self._books.repair(code)
        if repair is None:
            return
        try:
            choice = open_choice(repair, self._books.allowances(repair), self._session.rules)
        except BinderyError as error:
            self._session.tell(error)
            return
        dialog = TreatmentsDialog(repair, choice, self._session.settings.lengths, self._window())
        dialog.chosen.connect(
            lambda choices: dialog.hand(
                self._session, lambda room: choose_treatments(room, volume=code, choices=choices)
            )
        )
        self._open(dialog)

    def set_allowances(self, code: str | None) -> None:
        """Change the allowances of a set, or of all work."""
        found, rules = self._books.view.overrides.of(None, code), self._session.rules
        whose = "this set" if code is not None else "all work"
        own = found.book_set if code is not None else found.all_work
        lengths = self._session.settings.lengths
        dialog = AllowanceTable(whose, allowances_for(found, rules), own, lengths, self._window())
        dialog.changed.connect(lambda values: self._keep_allowances(dialog, values, book_set=code))
        self._open(dialog)

    def volume_allowances(self, code: str) -> None:
        """Change the allowances of one volume."""
        repair = self._books.repair(code)
        if repair is None:
            return
        own = self._books.view.overrides.of(code, repair.book_set).volume
        dialog = AllowanceTable(
            repair.name,
            self._books.allowances(repair),
            own,
            self._session.settings.lengths,
            self._window(),
        )
        dialog.changed.connect(lambda values: self._keep_allowances(dialog, values, volume=code))
        self._open(dialog)

    def _keep_allowances(
        self,
        dialog: AllowanceTable,
        values: Mapping[str, float | None],
        *,
        book_set: str | None = None,
        volume: str | None = None,
    ) -> None:
        dialog.hand(
            self._session,
            lambda room: set_allowances(room, values=values, book_set=book_set, volume=volume),
        )

    def cut(self, part_id: int) -> None:
        """Cut a part from the piece it is reserved in."""
        part = self._books.part(part_id)
        piece = self._books.piece(part.piece) if part is not None else None
        if part is None or piece is None or not part.corners:
            return
        sheet = CutSheet(
            self._session,
            self._previews,
            piece,
            as_matched(part),
            placement_of(part.corners, part.width, part.height),
            self._window(),
            use=use_of(part.role, self._session.rules),
        )
        sheet.purpose.setReadOnly(True)
        sheet.cut_wanted.connect(lambda cutting: self._cut_as(sheet, part_id, cutting))
        self._open(sheet)

    def _cut_as(self, sheet: CutSheet, part_id: int, cutting: Cutting) -> None:
        reason = sheet.written_reason
        sheet.hand(
            self._session,
            lambda room: cut_part(room, part=part_id, cutting=cutting, reason=reason),
        )

    def fit(self, part_id: int) -> None:
        """Say that a part is in the book, and how it was laid."""
        part = self._books.part(part_id)
        if part is not None:
            self.note_work(part.repair, part)

    def note_work(self, code: str, part: BookPart | None) -> None:
        """Note work on a volume, on one of its parts where it was just laid."""
        repair = self._books.repair(code)
        if repair is None:
            return
        dialog = WorkNote(self._books, repair, part, self._window())
        dialog.noted.connect(lambda treatment: self._noted(dialog, repair, part, treatment))
        self._open(dialog)

    def _noted(
        self, dialog: WorkNote, repair: Repair, part: BookPart | None, treatment: NewTreatment
    ) -> None:
        def verb(room: Stockroom) -> Changes:
            if part is not None:
                return fit(room, parts=[part.id], treatment=treatment)
            return note_work(room, volume=repair.code, treatment=treatment)

        dialog.hand(self._session, verb)

    def mark_done(self, code: str) -> None:
        """Say that a volume is done, or that it is not after all."""
        repair = self._books.repair(code)
        if repair is None:
            return
        done = repair.state is RepairState.DONE
        state = RepairState.ON_BENCH if done else RepairState.DONE
        self._session.do(lambda room: move_volume(room, volume=code, state=state))

    def split(self, part_id: int) -> None:
        """Cut a part from two cloths: bands of the right one on plain cotton."""
        self._session.do(lambda room: split_part(room, part=part_id))

    def _open(self, dialog: QDialog) -> None:
        self.dialog = dialog
        dialog.finished.connect(self._closed)
        dialog.open()

    def _closed(self) -> None:
        if self.dialog is not None:
            self.dialog.deleteLater()
        self.dialog = None
