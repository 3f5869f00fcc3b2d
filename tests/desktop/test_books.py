"""Volumes on the bench, by mouse and keys: surveyed, planned, shared out, cut, in the book."""

from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QIcon
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from bindery_stock.bench.books.keep_survey import survey as bench_survey
from bindery_stock.colour import ReadBy
from bindery_stock.desktop.books import share_view
from bindery_stock.desktop.books.allowance_table import AllowanceTable
from bindery_stock.desktop.books.card_sheet import CardSheet
from bindery_stock.desktop.books.measure_again import MeasureAgain
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.books.set_facts import SetFacts
from bindery_stock.desktop.books.share_model import ShareColumn
from bindery_stock.desktop.books.weights_dialog import WeightsDialog
from bindery_stock.desktop.books.work_note import WorkNote
from bindery_stock.desktop.cut_sheet.cut_sheet import CutSheet
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.matching import Prices
from bindery_stock.stock import (
    BookPart,
    BookSpot,
    Colour,
    ColourSought,
    NewBookSet,
    NewRepair,
    PartState,
    RepairState,
)
from bindery_stock.trade import Damage, Harm, Survey
from bindery_stock.trade.vocabulary import Backing
from bindery_stock.units import LengthStyle, Unit
from tests.desktop.shelving import box, shelve_cloth

RED = (33.0, 38.0, 24.0)
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def books(
    qtbot: QtBot, session: Session, previews: Previews, monkeypatch: pytest.MonkeyPatch
) -> BooksScreen:
    monkeypatch.setattr(share_view, "SECONDS", 2.0)
    place = BooksScreen(session, previews)
    qtbot.addWidget(place)
    place.resize(1104, 740)
    place.stock_opened()
    place.show()
    return place


def settle(qtbot: QtBot, books: BooksScreen) -> None:
    qtbot.waitUntil(lambda: not books.session.jobs.busy)


def type_in(qtbot: QtBot, entry: object, text: str) -> None:
    entry.setFocus()  # type: ignore[attr-defined]
    entry.selectAll()  # type: ignore[attr-defined]
    qtbot.keyClicks(entry, text)


def survey(chord: float = 33.0, *damage: Damage) -> Survey:
    return Survey(
        spine_width=chord,
        rise=5.0,
        joint=6.0,
        board_height=210.0,
        board_width=133.0,
        damage=damage or (Damage(Harm.SPINE_LOST),),
        old_spine=False,
    )


def enter(
    qtbot: QtBot,
    books: BooksScreen,
    name: str,
    one: Survey,
    *,
    book_set: str | None = None,
    volume: int = 1,
) -> str:
    """Enter a volume without the form; its parts are planned as by the form."""
    codes: list[str] = []
    new = NewRepair(
        name=name,
        survey=one,
        pattern="rib",
        book_set=book_set,
        volume=volume,
        targets=(ColourSought(BookSpot.SPINE, Colour(RED, u=1.0)),),
    )
    books.session.do(
        lambda room: bench_survey(room, new=new),
        done=lambda changes: codes.append(changes.born[0]),
    )
    settle(qtbot, books)
    return codes[0]


def entered_set(qtbot: QtBot, books: BooksScreen) -> str:
    """Two volumes that want a spine strip each; the second is too broad for the second piece."""
    changes = books.session.stockroom.books.add_set(NewBookSet(title="Hollin Vale", pattern="rib"))
    books.session.heard(changes)
    code = changes.born[0]
    enter(qtbot, books, "vol. 1", survey(29.0), book_set=code, volume=1)
    enter(qtbot, books, "vol. 2", survey(36.0), book_set=code, volume=2)
    books._show_set(code)
    settle(qtbot, books)
    return code


def strip(books: BooksScreen, volume: str) -> BookPart:
    return next(
        p for p in books.session.stockroom.books.parts(volume=volume) if p.name == "reback strip"
    )


def test_an_empty_bench_says_what_to_do_first(books: BooksScreen) -> None:
    assert books.empty.isVisible()
    assert "Survey a volume" in books.empty.words.text()
    assert books.first_button.isVisible()


def test_from_survey_to_the_cut_by_mouse_and_keys(
    qtbot: QtBot, session: Session, books: BooksScreen, photo_of_cloth: Path
) -> None:
    piece = shelve_cloth(session, outline=box(200, 260), lab=RED)
    qtbot.mouseClick(books.first_button, LEFT)
    form = books.survey_form
    assert form.isVisible()
    type_in(qtbot, form.name, "Nine Weirs")
    for name, text in (
        ("board_height", "210"),
        ("board_width", "133"),
        ("spine_width", "33"),
        ("rise", "5"),
        ("joint", "6"),
    ):
        type_in(qtbot, form.measures.entries[name], text)
    assert form.case.case is not None
    tick = form.ticks.lines[Harm.SPINE_LOST].tick
    tick.setFocus()
    qtbot.keyClick(tick, Qt.Key.Key_Space)
    assert "2 parts to cut" in form.outcome.text()
    form.photos.add([photo_of_cloth])
    qtbot.waitUntil(lambda: len(form.photos.shots()) == 1)
    settle(qtbot, books)
    qtbot.mouseClick(form.photos.colour_button, LEFT)
    picker = form.targets.picker
    assert picker is not None
    settle(qtbot, books)
    start, end = (picker.canvas.to_widget(p).toPoint() for p in ((300, 300), (600, 700)))
    qtbot.mousePress(picker.canvas, LEFT, pos=start)
    qtbot.mouseMove(picker.canvas, end)
    qtbot.mouseRelease(picker.canvas, LEFT, pos=end)
    qtbot.waitUntil(picker.take_button.isEnabled)
    qtbot.mouseClick(picker.take_button, LEFT)
    (target,) = form.targets.targets()
    assert target.spot is BookSpot.SPINE
    assert target.colour.patch
    assert target.colour.read_by is ReadBy.SEEN
    # By a bare photograph nothing can be shared out; an instrument gives figures.
    form.targets.spot.setCurrentText(str(BookSpot.SPINE))
    for entry, figure in zip(form.targets.entries, RED, strict=True):
        type_in(qtbot, entry, f"{figure:g}")
    form.targets.take_typed()
    (target,) = form.targets.targets()
    assert target.colour.read_by is ReadBy.INSTRUMENT
    qtbot.mouseClick(form.save_button, LEFT)
    qtbot.waitUntil(books.volume_view.isVisible)
    settle(qtbot, books)
    (repair,) = session.stockroom.books.repairs()
    assert repair.name == "Nine Weirs"
    assert repair.photos[0].photo.name == photo_of_cloth.name
    part = strip(books, repair.code)
    assert part.lab == target.colour.lab
    assert "U 8" in books.volume_view.parts.sums.text()
    assert "Laid with PVA with methyl cellulose, " in books.volume_view.parts.lines.text()
    icon = books.volume_view.parts.list.item(0).icon()
    size = books.volume_view.parts.list.iconSize()
    chosen, plain = (icon.pixmap(size, mode) for mode in (QIcon.Mode.Selected, QIcon.Mode.Normal))
    assert chosen.toImage() == plain.toImage()  # cloth keeps its colour where it is chosen

    qtbot.mouseClick(books.volume_view.back_button, LEFT)
    qtbot.waitUntil(books.set_view.share_button.isEnabled)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    qtbot.waitUntil(books.share_view.accept_button.isEnabled)
    settle(qtbot, books)
    qtbot.mouseClick(books.share_view.accept_button, LEFT)
    qtbot.waitUntil(books.set_view.isVisible)
    settle(qtbot, books)
    assert strip(books, repair.code).state is PartState.RESERVED
    assert strip(books, repair.code).piece == piece

    books.set_view.board.setFocus()
    qtbot.keyClick(books.set_view.board, Qt.Key.Key_Return)
    qtbot.waitUntil(books.volume_view.isVisible)
    assert books.volume_view.parts.part() == strip(books, repair.code)
    qtbot.mouseClick(books.volume_view.parts.cut_button, LEFT)
    sheet = books.tasks.dialog
    assert isinstance(sheet, CutSheet)
    qtbot.waitUntil(sheet.cut_button.isEnabled)
    qtbot.mouseClick(sheet.cut_button, LEFT)
    settle(qtbot, books)
    assert strip(books, repair.code).state is PartState.CUT
    assert all(one.parent == piece for one in session.pieces)

    qtbot.mouseClick(books.volume_view.parts.fit_button, LEFT)
    note = books.tasks.dialog
    assert isinstance(note, WorkNote)
    type_in(qtbot, note.hours, "1.5")
    type_in(qtbot, note.undo, "lifted with a damp poultice")
    qtbot.mouseClick(note.note_button, LEFT)
    settle(qtbot, books)
    assert strip(books, repair.code).state is PartState.FITTED
    assert session.stockroom.books.repair(repair.code).hours_spent == 1.5
    assert "1.5 h" in books.volume_view.record.text()
    (line,) = session.stockroom.books.treatments(repair.code)
    assert (line.piece, line.undo) == (piece, "lifted with a damp poultice")


def test_the_plan_stands_beside_closest_first_and_one_undo_takes_it_back(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    best = shelve_cloth(session, outline=box(75, 252), lab=RED)
    other = shelve_cloth(session, outline=box(69, 252), lab=(35.0, 38.0, 24.0))
    code = entered_set(qtbot, books)
    assert books.set_view.supply_line.text() == "Red rib: 2 spines wanted, cloth for all."
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    assert "1 more shown part is served" in view.figures.gain.text()
    rows = {
        view.model.index(row, ShareColumn.PART).data().split(",")[1].split("\n")[0].strip(): row
        for row in range(view.model.rowCount())
        if view.model.index(row, ShareColumn.PART).data().startswith("reback")
    }
    told = {
        (volume, column): view.model.index(row, column).data().split("\n")[0]
        for volume, row in rows.items()
        for column in (ShareColumn.PLAN, ShareColumn.CLOSEST)
    }
    assert told["vol. 1", ShareColumn.PLAN].startswith(other)
    assert told["vol. 2", ShareColumn.PLAN].startswith(best)
    assert told["vol. 1", ShareColumn.CLOSEST].startswith(best)
    assert told["vol. 2", ShareColumn.CLOSEST] == "goes without"
    view.table.selectRow(rows["vol. 1"])
    settle(qtbot, books)
    assert best in view.reason.why.text()
    steps = len(session.stockroom.ledger.steps())
    qtbot.mouseClick(view.accept_button, LEFT)
    settle(qtbot, books)
    assert len(session.stockroom.ledger.steps()) == steps + 1
    strips = [p for p in books.books.set_parts(code) if p.name == "reback strip"]
    assert [part.piece for part in strips] == [other, best]
    session.undo()
    settle(qtbot, books)
    strips = [p for p in books.books.set_parts(code) if p.name == "reback strip"]
    assert {part.state for part in strips} == {PartState.WANTED}


def test_the_binder_sees_what_each_price_does_and_changes_it(
    qtbot: QtBot, session: Session, books: BooksScreen, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(share_view, "SECONDS", 0.3)
    shelve_cloth(session, outline=box(75, 252), lab=RED)
    shelve_cloth(session, outline=box(75, 252), lab=(36.0, 38.0, 24.0))
    entered_set(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    assert "Greatest jump on the shelf: vol. 1 | vol. 2, ΔE00" in view.figures.plan.text()
    assert "Whole cloth kept: 0 of 2 large pieces" in view.figures.plan.text()
    qtbot.mouseClick(view.figures.weights_button, LEFT)
    dialog = view.figures.dialog
    assert isinstance(dialog, WeightsDialog)
    said = "\n".join(label.text() for label in dialog.findChildren(QLabel))
    assert "Higher: neighbours nearer to each other" in said
    assert "In this plan: 1 jump between neighbours on the shelf" in said
    type_in(qtbot, dialog.entries["jump"], "2000")
    qtbot.mouseClick(dialog.go, LEFT)
    assert dialog.isVisible()
    assert "A jump on the shelf: write a number from 0 to 1000" in dialog.wrong.text()
    type_in(qtbot, dialog.entries["jump"], "2,5")
    type_in(qtbot, dialog.to_come, "1")
    qtbot.mouseClick(dialog.go, LEFT)
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    assert view.shared.prices.jump == 2.5
    assert view.figures.kept_for.text().startswith("Cloth is kept free for 0 of 1 strip")
    assert "2.5 for each ΔE00 between neighbours" in view.figures.plan.toolTip()
    # They stand there again the next time, and our own are a press away.
    qtbot.mouseClick(view.leave_button, LEFT)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    assert (view.figures.weights.prices.jump, view.figures.weights.to_come) == (2.5, 1)
    qtbot.mouseClick(view.figures.weights_button, LEFT)
    again = view.figures.dialog
    assert isinstance(again, WeightsDialog)
    assert again.entries["jump"].text() == "2.5"
    qtbot.mouseClick(again.own_button, LEFT)
    assert again.entries["jump"].text() == "0.25"
    qtbot.mouseClick(again.go, LEFT)
    settle(qtbot, books)
    assert view.shared.prices == Prices()


def test_the_row_of_a_part_that_waits_says_what_its_cloth_went_to(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    best = shelve_cloth(session, outline=box(75, 252), lab=RED)
    entered_set(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    told = [
        view.model.index(row, ShareColumn.PLAN).data().split("\n")
        for row in range(view.model.rowCount())
    ]
    (without,) = [lines for lines in told if lines[0] == "goes without"]
    assert without[1].startswith(f"{best} goes to reback strip")


def test_a_choice_pinned_by_hand_is_kept(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    best = shelve_cloth(session, outline=box(75, 252), lab=RED)
    shelve_cloth(session, outline=box(69, 252), lab=(35.0, 38.0, 24.0))
    code = entered_set(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    first = next(p for p in books.books.set_parts(code) if p.name == "reback strip")
    view.table.selectRow(view.model.row_of(first.id))
    settle(qtbot, books)
    view.reason.pin_box.setCurrentIndex(view.reason.pin_box.findData(best))
    qtbot.mouseClick(view.reason.pin_button, LEFT)
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    words = view.model.index(view.model.row_of(first.id), ShareColumn.PLAN).data()
    assert words.startswith(f"{best}, pinned")
    assert view.reason.unpin_button.isVisible()
    qtbot.mouseClick(view.reason.unpin_button, LEFT)
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    assert "pinned" not in view.model.index(view.model.row_of(first.id), ShareColumn.PLAN).data()


def test_the_first_plan_is_shown_while_a_better_one_is_sought(
    qtbot: QtBot, session: Session, books: BooksScreen, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[float] = []
    share = share_view.share

    def watched(*given, seconds: float, **more):
        asked.append(seconds)
        return share(*given, seconds=seconds, **more)

    monkeypatch.setattr(share_view, "share", watched)
    for width in (75, 72):
        shelve_cloth(session, outline=box(width, 252), lab=(33.0 + width % 5, 38.0, 24.0))
    entered_set(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(lambda: view.shared is not None)
    assert view.model.rowCount() > 0
    qtbot.waitUntil(view.accept_button.isEnabled)
    settle(qtbot, books)
    assert asked == [0.0, share_view.SECONDS]


def test_a_volume_that_is_done_takes_no_cloth_in_sharing_out(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    shelve_cloth(session, outline=box(75, 252), lab=(34.0, 38.0, 24.0))
    entered_set(qtbot, books)
    first = next(one for one in session.stockroom.books.repairs() if one.name == "vol. 1")
    session.heard(session.stockroom.books.correct_repair(first.code, state=RepairState.DONE))
    settle(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(view.accept_button.isEnabled)
    assert view.shared is not None
    assert {part.repair for part in view.shared.asked.parts} == {
        one.code for one in session.stockroom.books.repairs() if one.name == "vol. 2"
    }


def test_stopping_takes_the_best_so_far(
    qtbot: QtBot, session: Session, books: BooksScreen, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(share_view, "SECONDS", 600.0)
    for width in (75, 72, 69, 68):
        shelve_cloth(session, outline=box(width, 252), lab=(33.0 + width % 5, 38.0, 24.0))
    entered_set(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(lambda: "counts" in view.doing.text() or view.shared is not None)
    if view.stop_button.isVisible():
        qtbot.mouseClick(view.stop_button, LEFT)
    qtbot.waitUntil(view.accept_button.isEnabled)
    assert view.shared is not None
    assert view.shared.placements()
    qtbot.mouseClick(view.leave_button, LEFT)
    settle(qtbot, books)
    assert session.stockroom.pieces.reservations() == []


def test_only_what_changed_is_planned_anew(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    best = shelve_cloth(session, outline=box(75, 252), lab=RED)
    other = shelve_cloth(session, outline=box(69, 252), lab=(35.0, 38.0, 24.0))
    third = shelve_cloth(session, outline=box(69, 252), lab=(37.0, 38.0, 24.0))
    code = entered_set(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    qtbot.waitUntil(books.share_view.accept_button.isEnabled)
    settle(qtbot, books)
    qtbot.mouseClick(books.share_view.accept_button, LEFT)
    settle(qtbot, books)
    assert not books.set_view.replan_button.isVisible()
    worse = (Colour((48.0, 20.0, 24.0), u=1.0, method="by daylight"),)
    session.do(lambda room: room.pieces.correct(other, colours=worse))
    qtbot.waitUntil(books.set_view.replan_button.isVisible)
    assert other in books.set_view.stale_line.text()
    settle(qtbot, books)
    qtbot.mouseClick(books.set_view.replan_button, LEFT)
    qtbot.waitUntil(books.share_view.accept_button.isEnabled)
    settle(qtbot, books)
    assert books.share_view.model.rowCount() == 1
    qtbot.mouseClick(books.share_view.accept_button, LEFT)
    settle(qtbot, books)
    strips = [p for p in books.books.set_parts(code) if p.name == "reback strip"]
    assert [part.piece for part in strips] == [third, best]


def test_a_part_is_sent_to_match_with_all_its_values_and_cut_from_there(
    qtbot: QtBot, session: Session, previews: Previews, books: BooksScreen
) -> None:
    match = MatchScreen(session, previews)
    qtbot.addWidget(match)
    match.show()
    piece = shelve_cloth(session, outline=box(120, 252), lab=RED)
    code = enter(qtbot, books, "Nine Weirs", survey())
    books.show_volume(code)
    qtbot.mouseClick(books.volume_view.parts.match_button, LEFT)
    part = strip(books, code)
    assert match.errand.part == part
    assert match.form.across.value() == pytest.approx(part.width)
    assert match.form.along.value() == pytest.approx(part.height)
    assert match.target.lab() == pytest.approx(RED)
    assert match.form.purpose.text() == "reback strip, Nine Weirs"
    qtbot.waitUntil(lambda: match.model.rowCount() > 0)
    settle(qtbot, books)
    assert "No other part" in match.errand.cost.text()
    match.list.setFocus()
    qtbot.keyClick(match.list, Qt.Key.Key_Return)
    settle(qtbot, books)
    assert strip(books, code).state is PartState.RESERVED
    assert strip(books, code).piece == piece
    assert strip(books, code).delta_e == pytest.approx(0.0, abs=0.5)
    assert match.errand.part == part, "the errand goes on to the cut"
    assert match.chosen() is not None
    assert match.chosen().piece.code == piece
    qtbot.mouseClick(match.cut_button, LEFT)
    sheet = match.cutter.sheet
    assert sheet is not None
    assert sheet.piece.code == piece
    qtbot.mouseClick(sheet.cut_button, LEFT)
    settle(qtbot, books)
    assert strip(books, code).state is PartState.CUT
    assert match.errand.part is None
    assert match.form.purpose.text() == "", "its words go with the part"
    match.close()


def sought_again(qtbot: QtBot, match: MatchScreen) -> None:
    """Wait until the shelf has been sought through again."""
    qtbot.waitUntil(lambda: not match._settle.isActive() and not match.session.jobs.busy)


def test_a_cut_taken_back_brings_its_errand_back_and_reserving_fills_the_part(
    qtbot: QtBot, session: Session, previews: Previews, books: BooksScreen
) -> None:
    match = MatchScreen(session, previews)
    qtbot.addWidget(match)
    match.show()
    piece = shelve_cloth(session, outline=box(120, 252), lab=RED)
    code = enter(qtbot, books, "Nine Weirs", survey())
    books.show_volume(code)
    qtbot.mouseClick(books.volume_view.parts.match_button, LEFT)
    qtbot.waitUntil(lambda: match.model.rowCount() > 0)
    settle(qtbot, books)
    qtbot.mouseClick(match.cut_button, LEFT)
    sheet = match.cutter.sheet
    assert sheet is not None
    qtbot.mouseClick(sheet.cut_button, LEFT)
    sought_again(qtbot, match)
    assert match.errand.part is None
    with qtbot.waitSignal(session.changed):
        session.undo()
    sought_again(qtbot, match)
    assert match.may_use()
    assert match.errand.part == strip(books, code)
    assert match.errand.isVisible()
    assert match.form.purpose.text() == "reback strip, Nine Weirs"
    assert not match.form.purpose.isVisible()
    qtbot.mouseClick(match.reserve_button, LEFT)
    settle(qtbot, books)
    assert (strip(books, code).state, strip(books, code).piece) == (PartState.RESERVED, piece)
    match.close()


def test_an_errand_does_not_come_back_over_another_part_and_leaves_no_words_behind(
    qtbot: QtBot, session: Session, previews: Previews, books: BooksScreen
) -> None:
    match = MatchScreen(session, previews)
    qtbot.addWidget(match)
    match.show()
    shelve_cloth(session, outline=box(120, 252), lab=RED)
    code = enter(qtbot, books, "Nine Weirs", survey())
    books.show_volume(code)
    qtbot.mouseClick(books.volume_view.parts.match_button, LEFT)
    qtbot.waitUntil(lambda: match.model.rowCount() > 0)
    settle(qtbot, books)
    qtbot.mouseClick(match.cut_button, LEFT)
    sheet = match.cutter.sheet
    assert sheet is not None
    qtbot.mouseClick(sheet.cut_button, LEFT)
    settle(qtbot, books)
    type_in(qtbot, match.form.along, "100")
    settle(qtbot, books)
    session.undo()
    qtbot.waitUntil(lambda: strip(books, code).state is PartState.WANTED)
    settle(qtbot, books)
    assert match.errand.part is None
    books.show_volume(code)
    qtbot.mouseClick(books.volume_view.parts.match_button, LEFT)
    assert match.form.purpose.text() == "reback strip, Nine Weirs"
    qtbot.mouseClick(match.errand.drop_button, LEFT)
    assert match.form.purpose.isVisible()
    assert match.form.purpose.text() == ""
    settle(qtbot, books)
    match.close()


def test_an_errand_does_not_go_on_in_another_stockroom(
    qtbot: QtBot, session: Session, previews: Previews, books: BooksScreen
) -> None:
    match = MatchScreen(session, previews)
    qtbot.addWidget(match)
    match.show()
    code = enter(qtbot, books, "Nine Weirs", survey())
    books.show_volume(code)
    qtbot.mouseClick(books.volume_view.parts.match_button, LEFT)
    assert match.errand.part is not None
    match.stock_opened()
    assert match.errand.part is None
    assert match.form.purpose.text() == ""
    settle(qtbot, books)
    match.close()


def test_cloth_taken_in_with_a_reason_shows_its_ruling_in_the_plan(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    unfit = shelve_cloth(session, outline=box(75, 252), lab=RED)
    session.heard(session.stockroom.pieces.correct(unfit, backing=Backing.PYROXYLIN))
    entered_set(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    view = books.share_view
    qtbot.waitUntil(lambda: not session.jobs.busy)
    qtbot.keyClicks(view.override, "The owner asks for it.")
    qtbot.keyClick(view.override, Qt.Key.Key_Return)
    settle(qtbot, books)
    assert view.shared is not None
    given = next(c for c in view.shared.choices if c.placed and c.placed.code == unfit)
    row = view.model.row_of(given.part.id)
    cell = view.model.index(row, ShareColumn.PLAN)
    assert cell.data().startswith(f"△ {unfit}, needs a written reason")
    ruling = f"{unfit}: cloth to board: not for conservation"
    assert ruling in cell.data(Qt.ItemDataRole.ToolTipRole)
    view.table.selectRow(row)
    settle(qtbot, books)
    assert ruling in view.reason.why.text()


def test_a_set_of_volumes_is_entered_and_a_survey_copied_to_the_next(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    qtbot.mouseClick(books.first_set_button, LEFT)
    facts = books.tasks.dialog
    assert isinstance(facts, SetFacts)
    qtbot.mouseClick(facts.keep_button, LEFT)
    assert facts.wrong.text() == "Title: must not be empty."
    type_in(qtbot, facts.title, "Hollin Vale")
    type_in(qtbot, facts.entries["board_height"], "8 1/4 in")
    qtbot.mouseClick(facts.keep_button, LEFT)
    settle(qtbot, books)
    (book_set,) = session.stockroom.books.book_sets()
    assert book_set.shared["board_height"] == pytest.approx(209.55)
    qtbot.mouseClick(books.set_view.first_button, LEFT)
    form = books.survey_form
    assert form.name.text() == "Hollin Vale vol. 1"
    assert form.measures.entries["board_height"].value() == pytest.approx(209.55)
    type_in(qtbot, form.measures.entries["spine_width"], "31")
    form.ticks.lines[Harm.SPINE_LOST].tick.setChecked(True)
    qtbot.mouseClick(form.save_button, LEFT)
    qtbot.waitUntil(books.volume_view.isVisible)
    settle(qtbot, books)
    qtbot.mouseClick(books.volume_view.copy_button, LEFT)
    qtbot.waitUntil(form.isVisible)
    settle(qtbot, books)
    assert [one.name for one in session.stockroom.books.repairs()] == [
        "Hollin Vale vol. 1",
        "Hollin Vale vol. 2",
    ]
    assert form.name.text() == "Hollin Vale vol. 2"
    assert form.ticks.lines[Harm.SPINE_LOST].tick.isChecked()


def test_a_survey_that_cannot_be_says_what_to_measure_and_loses_nothing(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    qtbot.mouseClick(books.first_button, LEFT)
    form = books.survey_form
    type_in(qtbot, form.name, "Nine Weirs")
    type_in(qtbot, form.measures.entries["spine_width"], "33")
    assert "Height" in form.outcome.text()
    type_in(qtbot, form.measures.entries["board_height"], "tall")
    assert form.measures.entries["board_height"].property("wrong") is True
    with qtbot.waitSignal(session.trouble) as told:
        qtbot.mouseClick(form.save_button, LEFT)
    assert "Height of the boards" in told.args[0]
    type_in(qtbot, form.measures.entries["board_height"], "210")
    type_in(qtbot, form.measures.entries["rise"], "20")
    assert "more than half" in form.outcome.text()
    type_in(qtbot, form.measures.entries["rise"], "5")
    type_in(qtbot, form.measures.entries["arc"], "30")
    assert "shorter than the straight width" in form.outcome.text()
    line = form.ticks.lines[Harm.CORNERS_BARE]
    line.tick.setChecked(True)
    assert "measure how far the corners are worn" in form.outcome.text()
    assert line.extent is not None
    type_in(qtbot, line.extent, "8")
    assert "1 part to cut" in form.outcome.text()
    assert form.name.text() == "Nine Weirs"


def test_two_holes_of_different_sizes_are_not_lost_when_a_survey_is_put_right(
    qtbot: QtBot, books: BooksScreen
) -> None:
    holes = (Damage(Harm.HOLE, 1, 20.0, 10.0), Damage(Harm.HOLE, 1, 5.0, 4.0))
    code = enter(qtbot, books, "Nine Weirs", survey(33.0, *holes))
    repair = books.books.repair(code)
    assert repair is not None
    books.survey_form.edit(repair)
    assert books.survey_form.repair().survey.damage == holes


def test_photographs_of_the_book_are_dropped_on_the_survey(
    qtbot: QtBot, session: Session, books: BooksScreen, photo_of_cloth: Path
) -> None:
    qtbot.mouseClick(books.first_button, LEFT)
    strip_of = books.survey_form.photos
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(photo_of_cloth))])
    action, none = Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
    enter_event = QDragEnterEvent(QPoint(5, 5), action, data, LEFT, none)
    strip_of.dragEnterEvent(enter_event)
    assert enter_event.isAccepted()
    strip_of.dropEvent(QDropEvent(QPointF(5, 5), action, data, LEFT, none))
    qtbot.waitUntil(lambda: len(strip_of.shots()) == 1)
    settle(qtbot, books)
    assert strip_of.shots()[0].photo.name == photo_of_cloth.name


def test_the_linings_are_on_and_the_reserved_cloth_is_checked_again(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    piece = shelve_cloth(session, outline=box(75, 252), lab=RED)
    one = replace(survey(), damage=(Damage(Harm.SPINE_LOST), Damage(Harm.MULL_FAILED)))
    code = enter(qtbot, books, "Nine Weirs", one)
    books._show_set(None)
    settle(qtbot, books)
    qtbot.mouseClick(books.set_view.share_button, LEFT)
    qtbot.waitUntil(books.share_view.accept_button.isEnabled)
    settle(qtbot, books)
    qtbot.mouseClick(books.share_view.accept_button, LEFT)
    settle(qtbot, books)
    books.show_volume(code)
    before = strip(books, code)
    assert before.estimated
    assert books.volume_view.remeasure_button.isVisible()
    qtbot.mouseClick(books.volume_view.remeasure_button, LEFT)
    again = books.tasks.dialog
    assert isinstance(again, MeasureAgain)
    type_in(qtbot, again.arc, "36")
    assert f"still fits in {piece}" in again.told.toPlainText()
    qtbot.mouseClick(again.take_button, LEFT)
    settle(qtbot, books)
    after = strip(books, code)
    assert (after.state, after.piece, after.estimated) == (PartState.RESERVED, piece, False)
    assert after.width != before.width
    assert session.stockroom.books.repair(code).survey.arc == 36.0
    assert not books.volume_view.remeasure_button.isVisible()


def test_an_allowance_set_for_a_volume_changes_its_sizes(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = enter(qtbot, books, "Nine Weirs", survey())
    books.show_volume(code)
    before = strip(books, code)
    qtbot.mouseClick(books.volume_view.allowances_button, LEFT)
    table = books.tasks.dialog
    assert isinstance(table, AllowanceTable)
    type_in(qtbot, table.entries["underlap"], "10")
    qtbot.mouseClick(table.keep_button, LEFT)
    settle(qtbot, books)
    after = strip(books, code)
    assert after.width == pytest.approx(before.width + 4.0)
    assert any("this volume" in line for line in after.sum_lines)
    assert session.stockroom.books.overrides(volume=code).volume == {"underlap": 10.0}


def test_the_habit_of_cutting_corners_as_triangles_is_chosen_in_words(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    one = replace(survey(), damage=(Damage(Harm.CORNERS_BARE, 2, 8.0),))
    code = enter(qtbot, books, "Nine Weirs", one)
    books.show_volume(code)
    qtbot.mouseClick(books.volume_view.allowances_button, LEFT)
    table = books.tasks.dialog
    assert isinstance(table, AllowanceTable)
    habit = table.habits["corner-cut"]
    habit.setCurrentText("right-angled triangle")
    qtbot.mouseClick(table.keep_button, LEFT)
    settle(qtbot, books)
    patches = [p for p in session.stockroom.books.parts(volume=code) if p.name == "corner patch"]
    assert [part.role for part in patches] == ["corner-triangle"] * 2
    assert books.volume_view.case.centre_of(patches[0].key) is not None


def test_an_underlap_of_a_set_is_one_step_for_all_its_volumes_and_one_undo(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = entered_set(qtbot, books)
    room = session.stockroom
    before, steps = room.books.parts(book_set=code), len(room.ledger.steps())
    qtbot.mouseClick(books.set_view.allowances_button, LEFT)
    table = books.tasks.dialog
    assert isinstance(table, AllowanceTable)
    type_in(qtbot, table.entries["underlap"], "10")
    qtbot.mouseClick(table.keep_button, LEFT)
    settle(qtbot, books)
    assert len(room.ledger.steps()) == steps + 1
    strips = [part for part in room.books.parts(book_set=code) if part.name == "reback strip"]
    assert all(any("this set" in line for line in part.sum_lines) for part in strips)
    session.undo()
    settle(qtbot, books)
    assert room.books.parts(book_set=code) == before
    assert room.books.overrides(book_set=code).book_set == {}


def test_a_strip_is_cut_from_two_cloths_and_says_what_that_saves(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    one = replace(survey(), damage=(Damage(Harm.JOINTS_SPLIT),), old_spine=True)
    code = enter(qtbot, books, "Nine Weirs", one)
    books.show_volume(code)
    panel = books.volume_view.parts
    assert "of the right cloth is saved" in panel.state.text()
    qtbot.mouseClick(panel.split_button, LEFT)
    settle(qtbot, books)
    layers = [part.layer for part in session.stockroom.books.parts(volume=code) if part.layer]
    assert layers == ["band"] * 4 + ["beneath"]


def test_a_part_clicked_on_the_case_opens_its_sum(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    one = replace(survey(), damage=(Damage(Harm.SPINE_LOST), Damage(Harm.CORNERS_BARE, 4, 8.0)))
    code = enter(qtbot, books, "Nine Weirs", one)
    books.show_volume(code)
    view = books.volume_view
    corner = next(p for p in session.stockroom.books.parts(volume=code) if p.name == "corner patch")
    spot = view.case.centre_of(corner.key)
    assert spot is not None
    qtbot.mouseClick(view.case, LEFT, pos=spot.toPoint())
    assert view.parts.part() == corner
    assert view.parts.name.text().startswith("Corner patch 1 of 4")
    assert "wear" in view.parts.lines.text()


def test_a_part_is_left_out_and_wanted_again(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = enter(qtbot, books, "Nine Weirs", survey())
    books.show_volume(code)
    panel = books.volume_view.parts
    qtbot.mouseClick(panel.out_button, LEFT)
    settle(qtbot, books)
    assert strip(books, code).state is PartState.LEFT_OUT
    qtbot.mouseClick(panel.in_button, LEFT)
    settle(qtbot, books)
    assert strip(books, code).state is PartState.WANTED


def test_the_board_is_a_sound_model_and_tells_each_state_in_words(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    tester = QAbstractItemModelTester(
        books.set_view.model, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    shelve_cloth(session, outline=box(75, 252), lab=RED)
    code = entered_set(qtbot, books)
    model = books.set_view.model
    assert tester.model() is model
    assert model.columns[0] == "Reback strip"
    assert model.cell(0, 0).words == "waiting"
    part = strip(books, books.books.volumes(code)[0].code)
    session.do(lambda room: room.books.accept_plan([], unserved=[part.id]))
    settle(qtbot, books)
    assert model.cell(0, 0).words == "nothing serves"
    spoken = model.index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "vol. 1, Reback strip: nothing serves"


def test_in_inches_the_same_lengths_are_shown(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = enter(qtbot, books, "Nine Weirs", survey())
    session.settings.unit = Unit.INCH
    books.stock_opened()
    books.show_volume(code)
    part = strip(books, code)
    size = LengthStyle(Unit.INCH).pair(part.width, part.height)
    assert size in books.volume_view.parts.name.text()


def test_a_volume_whose_survey_is_taken_back_leaves_the_screen(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    code = enter(qtbot, books, "Nine Weirs", survey())
    books.show_volume(code)
    session.undo()  # its parts go with its entry
    settle(qtbot, books)
    assert session.stockroom.books.repairs() == []
    assert books.empty.isVisible()


def test_a_part_that_nothing_serves_gets_its_card_and_a_line_of_the_wanted_list(
    qtbot: QtBot, session: Session, books: BooksScreen, tmp_path: Path
) -> None:
    code = enter(qtbot, books, "Nine Weirs", survey())
    books.show_volume(code)
    qtbot.mouseClick(books.volume_view.parts.card_button, LEFT)
    sheet = books.tasks.dialog
    assert isinstance(sheet, CardSheet)
    sheet.paper.save(tmp_path / "card.pdf")
    (page,) = PdfReader(tmp_path / "card.pdf").pages
    assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(105.0, abs=0.5)
    assert "reback strip, Nine Weirs" in page.extract_text()
    qtbot.mouseClick(sheet.list_button, LEFT)
    settle(qtbot, books)
    (want,) = session.stockroom.wants.listed()
    part = strip(books, code)
    assert (want.width, want.height) == (part.width + 2, part.height + 2)


def test_every_command_of_the_place_runs_where_it_is_enabled(
    qtbot: QtBot, session: Session, books: BooksScreen
) -> None:
    commands = {command.name: command for command in books.commands()}
    assert not commands["books.cut"].enabled()
    assert not commands["books.share_out"].enabled()
    code = enter(qtbot, books, "Nine Weirs", survey())
    assert commands["books.share_out"].enabled()
    books.show_volume(code)
    assert commands["books.find_cloth"].enabled()
    with qtbot.waitSignal(session.part_wanted) as asked:
        commands["books.find_cloth"].run()
    assert asked.args[0] == strip(books, code)
    commands["books.survey"].run()
    assert books.survey_form.isVisible()
