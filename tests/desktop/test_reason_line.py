"""A refusal that needs a written reason is answered where it stands; a stopped one is not."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from bindery_stock.bench.books.allowances import allowances_for
from bindery_stock.bench.books.part_list import parts_of
from bindery_stock.bench.shelf.correct import correct
from bindery_stock.desktop.match.delegate import told_in_lines
from bindery_stock.desktop.match.model import RowKind
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.actions import ShelfActions
from bindery_stock.desktop.shelf.length_dialog import LengthDialog
from bindery_stock.stock import (
    BookPart,
    BookSpot,
    Colour,
    ColourSought,
    NewRepair,
    PartState,
    PieceState,
)
from bindery_stock.trade import Damage, Harm, Survey
from bindery_stock.trade.vocabulary import Backing, Form
from tests.desktop.shelving import box, shelve_cloth
from tests.desktop.test_match import codes, seek, settled

RED = (33.0, 38.0, 24.0)
GREEN = (40.0, -38.0, 28.0)
REASON = "practice piece, stays here"


@pytest.fixture
def match(qtbot: QtBot, session: Session, previews: Previews) -> MatchScreen:
    screen = MatchScreen(session, previews)
    qtbot.addWidget(screen)
    screen.resize(1100, 760)
    screen.show()
    return screen


def pyroxylin(session: Session, **fields: object) -> str:
    """Cloth that is not for conservation."""
    code = shelve_cloth(session, lab=RED)
    known = {"backing": Backing.PYROXYLIN, **fields}
    session.heard(correct(session.stockroom, piece=code, fields=known))
    return code


def click(qtbot: QtBot, widget: QWidget) -> None:
    qtbot.mouseClick(widget, Qt.MouseButton.LeftButton)


def reserved(session: Session) -> list[str]:
    return [one.code for one in session.stockroom.pieces.reservations()]


def test_a_stopped_green_is_a_near_miss_that_can_be_neither_reserved_nor_cut(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    green = shelve_cloth(session, lab=GREEN)
    session.heard(correct(session.stockroom, piece=green, fields={"source_date": "1858"}))
    seek(qtbot, match, lab="40 -38 28")
    assert codes(match, RowKind.MATCH) == []
    assert codes(match, RowKind.NEAR) == [green]
    number, row = next((n, r) for n, r in enumerate(match.model.rows) if r.kind is RowKind.NEAR)
    assert "Large enough, but the rules stop it" in row.told
    assert f"△ Stopped: {green}: not to be cut: arsenical green" in row.told
    assert "What would change this: A laboratory's result for arsenic" in row.told
    drawn = " ".join(line.text for line in told_in_lines(row, 300.0))
    assert drawn.endswith("“new” as its date."), "a ruling is drawn to its end"
    match.list.setCurrentIndex(match.model.index(number))
    assert not match.reserve_button.isEnabled()
    assert not match.cut_button.isEnabled()
    assert match.reason_line.reason == ""


def test_where_a_reason_is_needed_reserve_asks_for_it_beside_the_button_and_keeps_it(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    code = pyroxylin(session)
    seek(qtbot, match)
    row = match.chosen()
    assert row is not None
    assert f"△ Needs a written reason: {code}: " in row.told
    line = match.reason_line
    assert line.entry.isVisible()
    steps = session.stockroom.ledger.steps()
    click(qtbot, match.reserve_button)
    qtbot.waitUntil(line.refusal.isVisible)
    assert "Going on needs a written reason." in line.refusal.text()
    assert "What would change this:" in line.refusal.text()
    assert session.stockroom.ledger.steps() == steps
    qtbot.keyClicks(line.entry, REASON)
    with qtbot.waitSignal(session.changed):
        qtbot.keyClick(line.entry, Qt.Key.Key_Return)
    assert reserved(session) == [code]
    (kept,) = session.stockroom.rulings.listed()
    assert (kept.deed, kept.piece, kept.reason) == ("reserve", code, REASON)
    settled(qtbot, match)


def test_nothing_asks_for_a_reason_where_nothing_speaks_against_the_cloth(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    unfit, fine = pyroxylin(session), shelve_cloth(session, lab=(36.0, 36.0, 22.0))
    seek(qtbot, match)
    assert codes(match, RowKind.MATCH) == [unfit, fine]
    qtbot.keyClicks(match.reason_line.entry, "half a rea")
    match.list.setCurrentIndex(match.model.index(1))
    assert not match.reason_line.entry.isVisible()
    with qtbot.waitSignal(session.changed):
        click(qtbot, match.reserve_button)
    assert reserved(session) == [fine]
    assert session.stockroom.rulings.listed() == []
    settled(qtbot, match)
    match.list.setCurrentIndex(match.model.index(0))
    assert match.reason_line.entry.text() == "half a rea", "what was typed stays with its piece"


def test_the_cut_sheet_says_what_the_rules_say_and_takes_the_reason_where_it_refuses(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    code = pyroxylin(session)
    seek(qtbot, match)
    click(qtbot, match.cut_button)
    sheet = match.cutter.sheet
    assert sheet is not None
    assert sheet.ruling.isVisible()
    assert sheet.ruling.text().startswith(f"△ Needs a written reason: {code}: ")
    entry = sheet.reason_entry
    assert entry is not None
    assert entry.isVisible()
    knife = sheet.knife
    knife.selectAll()
    qtbot.keyClicks(knife, "1")
    click(qtbot, sheet.cut_button)
    qtbot.waitUntil(lambda: "Going on needs a written reason." in sheet.ruling.text())
    assert sheet.isVisible()
    assert sheet.knife.value() == 1.0, "everything typed stays"
    assert session.piece(code).state is PieceState.ON_SHELF
    qtbot.keyClicks(entry, REASON)
    with qtbot.waitSignal(session.changed):
        click(qtbot, sheet.cut_button)
    assert session.piece(code).state is PieceState.CUT_UP
    (kept,) = session.stockroom.rulings.listed()
    assert (kept.deed, kept.reason) == ("cut", REASON)
    settled(qtbot, match)


def test_a_sheet_for_fit_cloth_asks_for_no_reason(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    shelve_cloth(session, lab=RED)
    seek(qtbot, match)
    click(qtbot, match.cut_button)
    sheet = match.cutter.sheet
    assert sheet is not None
    assert sheet.reason_entry is not None
    assert not sheet.reason_entry.isVisible()
    assert not sheet.ruling.isVisible()
    sheet.reject()


def strip_of(session: Session) -> BookPart:
    room = session.stockroom
    survey = Survey(
        spine_width=33.0,
        rise=5.0,
        joint=6.0,
        board_height=210.0,
        board_width=133.0,
        board_thickness=2.4,
        leaf_height=204.0,
        leaf_width=130.0,
        damage=(Damage(Harm.JOINTS_SPLIT),),
        old_spine=True,
    )
    new = NewRepair(
        name="Hollin Vale vol. 4",
        survey=survey,
        pattern="rib",
        targets=(ColourSought(BookSpot.BOARDS, Colour(RED, u=2.0)),),
    )
    changes = room.books.add_repair(new)
    code = changes.born[0]
    allowances = allowances_for(room.books.overrides(volume=code), room.rules)
    room.books.plan_parts(code, parts_of(room.books.repair(code), allowances, room.rules))
    session.heard(changes)
    return next(part for part in room.books.parts(volume=code) if part.role.startswith("reback"))


def test_for_a_volume_match_reserve_and_cut_are_one_errand_with_one_reason(
    qtbot: QtBot, session: Session, match: MatchScreen
) -> None:
    session.heard(
        correct(
            session.stockroom,
            piece=(code := pyroxylin(session)),
            fields={"outline": box(200, 300)},
        )
    )
    part = strip_of(session)
    session.part_wanted.emit(part)
    qtbot.waitUntil(lambda: codes(match, RowKind.MATCH) == [code])
    settled(qtbot, match)
    row = match.chosen()
    assert row is not None
    assert "cloth to board: not for conservation" in row.told
    qtbot.keyClicks(match.reason_line.entry, REASON)
    with qtbot.waitSignal(session.changed):
        click(qtbot, match.reserve_button)
    settled(qtbot, match)
    assert session.stockroom.books.part(part.id).state is PartState.RESERVED
    click(qtbot, match.cut_button)
    sheet = match.cutter.sheet
    assert sheet is not None
    assert sheet.piece.code == code
    assert sheet.written_reason == REASON, "it need not be written twice"
    with qtbot.waitSignal(session.changed):
        click(qtbot, sheet.cut_button)
    assert session.stockroom.books.part(part.id).state is PartState.CUT
    kept = session.stockroom.rulings.listed(volume=part.repair)
    assert [(one.deed, one.reason) for one in kept] == [
        ("reserve_part", REASON),
        ("cut_part", REASON),
    ]
    settled(qtbot, match)


def test_a_length_of_unfit_cloth_is_refused_with_everything_typed_and_a_line_for_the_reason(
    qtbot: QtBot, session: Session
) -> None:
    code = pyroxylin(session, form=Form.ROLL)
    over = QWidget()
    qtbot.addWidget(over)
    over.show()
    actions = ShelfActions(session, over)
    actions.cut_length(session.piece(code))
    dialog = actions.dialog
    assert isinstance(dialog, LengthDialog)
    entry = dialog.reason_entry
    assert entry is not None
    assert not entry.isVisible()
    qtbot.keyClicks(dialog.length, "100")
    qtbot.keyClicks(dialog.purpose, "linings, vol. 4")
    click(qtbot, dialog.go)
    qtbot.waitUntil(entry.isVisible)
    assert "Going on needs a written reason." in dialog.wrong.text()
    assert (dialog.length.value(), dialog.purpose.text()) == (100.0, "linings, vol. 4")
    qtbot.keyClicks(entry, REASON)
    with qtbot.waitSignal(session.changed):
        click(qtbot, dialog.go)
    assert session.piece(code).outline.height == 150.0
    (kept,) = session.stockroom.rulings.listed()
    assert (kept.deed, kept.reason) == ("cut_length", REASON)
