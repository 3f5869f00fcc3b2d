"""How each dialog comes to a refusal: opened on the small stock, something in it, its button."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QDialog, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.bench.adhesives.shelf_rows import LotRow
from bindery_stock.bench.adhesives.snapshot import ADHESIVES
from bindery_stock.bench.match.line_up import LineUpSheet
from bindery_stock.bench.match.line_up_photo import LineUpPhoto, LineUpScrap
from bindery_stock.bench.match.told_scraps import ToldBy
from bindery_stock.desktop.adhesives.actions import AdhesiveActions
from bindery_stock.desktop.adhesives.lot_dialog import LotDialog, LotStart
from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.adhesives.use_dialog import UseDialog
from bindery_stock.desktop.adhesives.want_dialogs import ReorderDialog, WantDialog
from bindery_stock.desktop.books.actions import BookActions
from bindery_stock.desktop.books.allowance_table import AllowanceTable
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.card_sheet import CardSheet
from bindery_stock.desktop.books.care_dialog import CareDialog
from bindery_stock.desktop.books.damage_dialog import DamageDialog
from bindery_stock.desktop.books.measure_again import MeasureAgain
from bindery_stock.desktop.books.set_facts import SetFacts
from bindery_stock.desktop.books.treatments_dialog import TreatmentsDialog
from bindery_stock.desktop.books.work_note import WorkNote
from bindery_stock.desktop.colours.instrument_dialog import InstrumentDialog
from bindery_stock.desktop.colours.side_by_side import SideBySide
from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet
from bindery_stock.desktop.evidence.lab_dialog import LabDialog, ask_lab_result
from bindery_stock.desktop.evidence.test_dialog import TestDialog, ask_test
from bindery_stock.desktop.exchange.import_dialog import ImportDialog
from bindery_stock.desktop.exchange.merge_desk import Merging
from bindery_stock.desktop.exchange.merge_dialog import MergeDialog
from bindery_stock.desktop.exchange.records_desk import RecordsDesk
from bindery_stock.desktop.forms.ask_words import AskWords
from bindery_stock.desktop.line_up.dialog import LineUpAsked, LineUpDialog
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.actions import ShelfActions
from bindery_stock.desktop.shelf.facts_dialog import FactsDialog
from bindery_stock.desktop.shelf.length_dialog import LengthDialog
from bindery_stock.stock import PartState, StockPiece, Stockroom
from bindery_stock.stock.exchange.comparison import MergeChoice
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.damages import PlacedDamage
from tests.bench.small_stock import SmallStock
from tests.desktop.charts import CLOTH_AT, OTHER_AT, photograph_target
from tests.desktop.test_side_by_side import load, mark_both


@dataclass(frozen=True, slots=True)
class Bench:
    """A session on the small stock, and a widget to ask over."""

    qtbot: QtBot
    session: Session
    over: QWidget
    stock: SmallStock
    scratch: Path

    @property
    def clean(self) -> StockPiece:
        return self.session.piece(self.stock.codes["clean"])

    @property
    def books(self) -> BookActions:
        return BookActions(BenchBooks(self.session), Previews(self.session), lambda: self.over)

    @property
    def lots(self) -> AdhesiveActions:
        return AdhesiveActions(self.session, self.over)

    @property
    def shelf(self) -> ShelfActions:
        return ShelfActions(self.session, self.over)


@dataclass(frozen=True, slots=True)
class Ready:
    """A dialog that only wants its button pressed."""

    dialog: QDialog
    button: QPushButton
    verb: str
    """What will be refused: a verb of the stockroom, with its group."""
    said: Callable[[], QLabel] | None = None
    """Where the refusal is said, if not in ``wrong``."""


Row = Callable[[Bench], Ready]
ROWS: dict[str, tuple[type[QDialog], Row]] = {}


def row(kind: type[QDialog]) -> Callable[[Row], Row]:
    """Enter a row for a dialog of this class."""

    def enter(function: Row) -> Row:
        ROWS[function.__name__] = (kind, function)
        return function

    return enter


# Shelf


@row(AskWords)
def discard(bench: Bench) -> Ready:
    deeds = bench.shelf
    deeds.discard(bench.clean)
    assert isinstance(deeds.dialog, AskWords)
    deeds.dialog.entry.setCurrentText("eaten by mice")
    return Ready(deeds.dialog, deeds.dialog.go, "pieces.discard")


@row(AskWords)
def move(bench: Bench) -> Ready:
    deeds = bench.shelf
    deeds.move([bench.clean])
    assert isinstance(deeds.dialog, AskWords)
    deeds.dialog.entry.setCurrentText("drawer 9")
    return Ready(deeds.dialog, deeds.dialog.go, "pieces.move")


@row(FactsDialog)
def facts(bench: Bench) -> Ready:
    deeds = bench.shelf
    deeds.edit(bench.clean)
    assert isinstance(deeds.dialog, FactsDialog)
    deeds.dialog.price.setText("3.50")
    return Ready(deeds.dialog, deeds.dialog.keep_button, "pieces.correct")


@row(LengthDialog)
def length(bench: Bench) -> Ready:
    deeds = bench.shelf
    deeds.cut_length(bench.clean)
    assert isinstance(deeds.dialog, LengthDialog)
    return Ready(deeds.dialog, deeds.dialog.go, "pieces.cut_length")


@row(InstrumentDialog)
def instrument(bench: Bench) -> Ready:
    deeds = bench.shelf
    deeds.add_reading(bench.clean)
    assert isinstance(deeds.dialog, InstrumentDialog)
    deeds.dialog.entry.line.setText("40 20 10")
    return Ready(deeds.dialog, deeds.dialog.keep_button, "pieces.correct")


@row(SideBySide)
def side_by_side(bench: Bench) -> Ready:
    deeds = bench.shelf
    deeds.hold_beside(bench.clean)
    dialog = deeds.dialog
    assert isinstance(dialog, SideBySide)
    bench.qtbot.waitExposed(dialog)
    load(bench.qtbot, dialog, photograph_target(bench.scratch / "both.png"))
    mark_both(bench.qtbot, dialog)
    dialog.light.setCurrentText("overcast window")
    dialog.purpose.setText("spine strip, vol. 4")
    return Ready(dialog, dialog.record_button, "pieces.confirm", lambda: dialog.view.said)


@row(LineUpDialog)
def line_up(bench: Bench) -> Ready:
    photo = photograph_target(bench.scratch / "line-up.png")
    book = LineUpScrap(ring=CLOTH_AT, is_book=True)
    scrap = LineUpScrap(ring=OTHER_AT, code=bench.clean.code, by=ToldBy.HAND)
    seen = LineUpPhoto(photo=photo, name=photo.name, size=(560, 480), scraps=(book, scrap))
    asked = LineUpAsked(lambda _after: LineUpSheet((), ""), "spine strip, vol. 4", ())
    dialog = LineUpDialog(bench.session, Previews(bench.session), asked, bench.over)
    dialog.open()
    bench.qtbot.waitExposed(dialog)
    dialog.look.looked.emit(seen)
    bench.qtbot.waitUntil(lambda: dialog.told.answer is not None)
    dialog.light_line.light.setCurrentText("overcast window")
    return Ready(dialog, dialog.go, "pieces.confirm")


# Evidence


@row(LabDialog)
def laboratory_result(bench: Bench) -> Ready:
    dialog = ask_lab_result(bench.clean, bench.session, bench.over)
    dialog.substance.setCurrentText("arsenic")
    dialog.outcome.choose(True)
    return Ready(dialog, dialog.go, "tests.add_lab_result")


@row(TestDialog)
def test_of_a_piece(bench: Bench) -> Ready:
    dialog = ask_test(bench.clean, bench.session, bench.over)
    typed = next(n for n, one in enumerate(dialog.questions) if one.answers)
    dialog.question.setCurrentIndex(typed)
    dialog.choice.setCurrentIndex(0)
    dialog.evidence.setCurrentIndex(dialog.evidence.count() - 1)
    return Ready(dialog, dialog.go, "tests.record")


# Adhesives


def _lot_row(bench: Bench) -> LotRow:
    screen = AdhesivesScreen(bench.session)
    bench.qtbot.addWidget(screen)
    screen.stock_opened()
    code = bench.stock.codes["fresh"]
    return next(row for row in screen.model.rows if row.lot.code == code)


@row(LotDialog)
def lot(bench: Bench) -> Ready:
    deeds = bench.lots
    deeds.enter(LotStart.BOUGHT)
    dialog = deeds.dialog
    assert isinstance(dialog, LotDialog)
    dialog.kind.choose("wheat-starch-paste")
    dialog.amount.setCurrentText("5")
    dialog.ph.setText("7")
    return Ready(dialog, dialog.go, "lots.enter")


@row(UseDialog)
def use(bench: Bench) -> Ready:
    deeds = bench.lots
    deeds.use(_lot_row(bench))
    dialog = deeds.dialog
    assert isinstance(dialog, UseDialog)
    dialog.piece.setText(bench.stock.codes["clean"])
    dialog.amount.setCurrentText("20")
    return Ready(dialog, dialog.go, "lots.use")


@row(AskWords)
def finish(bench: Bench) -> Ready:
    deeds = bench.lots
    view = bench.session.snapshot(ADHESIVES).view
    deeds.finish(next(lot for lot in view.lots if lot.code == bench.stock.codes["fresh"]))
    assert isinstance(deeds.dialog, AskWords)
    deeds.dialog.entry.setCurrentText("given away")
    return Ready(deeds.dialog, deeds.dialog.go, "lots.finish")


@row(WantDialog)
def want(bench: Bench) -> Ready:
    deeds = bench.lots
    deeds.want()
    assert isinstance(deeds.dialog, WantDialog)
    return Ready(deeds.dialog, deeds.dialog.go, "wants.add")


@row(AskWords)
def close_want(bench: Bench) -> Ready:
    deeds = bench.lots
    deeds.close_want(bench.stock.codes["want"])
    assert isinstance(deeds.dialog, AskWords)
    deeds.dialog.entry.setCurrentText("found")
    return Ready(deeds.dialog, deeds.dialog.go, "wants.close")


@row(ReorderDialog)
def reorder_point(bench: Bench) -> Ready:
    deeds = bench.lots
    deeds.set_reorder_point()
    assert isinstance(deeds.dialog, ReorderDialog)
    return Ready(deeds.dialog, deeds.dialog.go, "wants.set_reorder_point")


# Books


@row(SetFacts)
def new_set(bench: Bench) -> Ready:
    deeds = bench.books
    deeds.new_set()
    assert isinstance(deeds.dialog, SetFacts)
    return Ready(deeds.dialog, deeds.dialog.keep_button, "books.add_set")


@row(CareDialog)
def examination(bench: Bench) -> Ready:
    deeds = bench.books
    deeds.examine(bench.stock.codes["vol. 1"])
    assert isinstance(deeds.dialog, CareDialog)
    deeds.dialog.examiner.setText("I. Fell")
    return Ready(deeds.dialog, deeds.dialog.keep_button, "books.correct_repair")


@row(DamageDialog)
def damage(bench: Bench) -> Ready:
    deeds = bench.books
    deeds.place_damage(bench.stock.codes["vol. 1"])
    assert isinstance(deeds.dialog, DamageDialog)
    deeds.dialog.damages.append(PlacedDamage(kind="hollow-lost", place=BookPlace.BLOCK_SPINE))
    return Ready(deeds.dialog, deeds.dialog.keep_button, "books.correct_repair")


@row(TreatmentsDialog)
def treatments(bench: Bench) -> Ready:
    deeds = bench.books
    deeds.choose_treatments(bench.stock.codes["vol. 1"])
    assert isinstance(deeds.dialog, TreatmentsDialog)
    count = len(deeds.dialog.keys)
    deeds.dialog.keys[:] = ["leave"] * count
    deeds.dialog.reasons[:] = ["Its owner would keep it as it is."] * count
    return Ready(deeds.dialog, deeds.dialog.keep_button, "books.correct_repair")


@row(AllowanceTable)
def allowances(bench: Bench) -> Ready:
    deeds = bench.books
    deeds.set_allowances(bench.stock.codes["set"])
    assert isinstance(deeds.dialog, AllowanceTable)
    return Ready(deeds.dialog, deeds.dialog.keep_button, "books.set_allowances")


@row(MeasureAgain)
def measure_again(bench: Bench) -> Ready:
    deeds = bench.books
    deeds.measure_again(bench.stock.codes["vol. 1"])
    assert isinstance(deeds.dialog, MeasureAgain)
    return Ready(deeds.dialog, deeds.dialog.take_button, "books.correct_repair")


@row(WorkNote)
def work(bench: Bench) -> Ready:
    deeds = bench.books
    deeds.note_work(bench.stock.codes["vol. 1"], None)
    assert isinstance(deeds.dialog, WorkNote)
    return Ready(deeds.dialog, deeds.dialog.note_button, "books.record_treatment")


@row(CutSheet)
def cut(bench: Bench) -> Ready:
    deeds = bench.books
    part = next(p for p in bench.session.stockroom.books.parts() if p.state is PartState.RESERVED)
    deeds.cut(part.id)
    dialog = deeds.dialog
    assert isinstance(dialog, CutSheet)
    return Ready(dialog, dialog.cut_button, "books.cut_part", lambda: dialog.state)


@row(CardSheet)
def cards(bench: Bench) -> Ready:
    deeds = bench.books
    deeds.show_card(bench.stock.parts["reback-inside 1"])
    dialog = deeds.dialog
    assert isinstance(dialog, CardSheet)
    return Ready(dialog, dialog.list_button, "wants.add")


# Exchange


@row(ImportDialog)
def a_table_comes_in(bench: Bench) -> Ready:
    table = bench.scratch / "old list.csv"
    table.write_text("kind,width,height\nmull,300,400\nmull,200,100\n", encoding="utf-8")
    desk = RecordsDesk(bench.session, lambda _folder: None, list, lambda _photos: None)
    desk.setParent(bench.over)
    desk.window = bench.over
    desk.take_in_from(table)
    dialog = desk.dialog
    assert isinstance(dialog, ImportDialog)
    bench.qtbot.waitUntil(dialog.take.isEnabled)
    return Ready(dialog, dialog.take, "exchange.bring_in", lambda: dialog.said)


@row(MergeDialog)
def another_stockroom_comes_in(bench: Bench) -> Ready:
    room = bench.session.stockroom
    theirs = bench.scratch / "theirs"
    with Stockroom.create(theirs) as other:
        other.exchange.merge(room.exchange, {})
        other.pieces.move([bench.stock.codes["clean"]], "drawer 9")
    merging = Merging(bench.session, bench.over)
    merging.window = bench.over
    merging.look_at(theirs / "stock.sqlite")
    bench.qtbot.waitUntil(lambda: merging.dialog is not None)
    dialog = merging.dialog
    assert dialog is not None
    both = dialog.buttons[MergeChoice.BOTH]
    both.click()
    assert dialog.take.isEnabled()
    return Ready(dialog, dialog.take, "exchange.merge")
