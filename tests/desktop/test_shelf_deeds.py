"""What is done from the sheet of a piece: counted, cut to length, photographed anew."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from bindery_stock.bench.photo_table.marks import KnownLength, Marks, PatchMark, StepName
from bindery_stock.bench.shelf.count_of_size import LAST_PART
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.length_dialog import LengthDialog
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.shape import sheet, triangle
from bindery_stock.stock import NewPiece
from bindery_stock.trade.vocabulary import Form, Kind
from tests.desktop.shelving import shelve_cloth

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def shelf(qtbot: QtBot, session: Session, previews: Previews) -> ShelfScreen:
    place = ShelfScreen(session, previews)
    qtbot.addWidget(place)
    place.resize(1100, 760)
    place.show()
    return place


def shelve_roll(session: Session) -> str:
    changes = session.stockroom.pieces.shelve(
        NewPiece(kind=Kind.CLOTH, form=Form.ROLL, outline=sheet(900, 4000))
    )
    session.heard(changes)
    return changes.born[0]


def test_the_sheet_counts_how_many_of_the_part_last_sought_are_left(
    qtbot: QtBot, session: Session, shelf: ShelfScreen
) -> None:
    """By hand: three strips of 58 go side by side into 200 mm, one above the other none."""
    session.settings.set_text(LAST_PART, "58.0 228.0 2.0")
    code = shelve_cloth(session)
    shelf.show_code(code)
    holds = shelf.sheet.holds
    qtbot.waitUntil(lambda: holds.words.text() == "at least 3 of 58 × 228 mm")
    holds.across.selectAll()
    qtbot.keyClicks(holds.across, "40")
    qtbot.waitUntil(lambda: holds.words.text() == "at least 4 of 40 × 228 mm")
    assert session.settings.text(LAST_PART).startswith("40.0 228.0")
    holds.along.selectAll()
    qtbot.keyClicks(holds.along, "300")
    qtbot.waitUntil(lambda: holds.words.text() == "none of 40 × 300 mm")


def test_the_usable_rectangle_is_measured_once_for_shelf_and_match(
    qtbot: QtBot, session: Session, shelf: ShelfScreen
) -> None:
    code = shelve_cloth(session)
    shelf.show_code(code)
    piece = session.piece(code)
    qtbot.waitUntil(lambda: session.usable.is_known(piece))
    known = session.usable.known(piece)
    assert known is not None
    assert (known.width, known.height) == pytest.approx((200, 250))
    session.heard(session.stockroom.pieces.move([code], "tin 9"))
    assert session.usable.is_known(session.piece(code))


def test_a_length_is_cut_off_a_roll_which_keeps_its_code(
    qtbot: QtBot, session: Session, shelf: ShelfScreen
) -> None:
    code = shelve_roll(session)
    shelf.show_code(code)
    assert shelf.sheet.length_button.isVisible()
    qtbot.mouseClick(shelf.sheet.length_button, LEFT)
    dialog = shelf.tasks.dialog
    assert isinstance(dialog, LengthDialog)
    assert dialog.left.text() == "4000 mm are there now."
    qtbot.keyClicks(dialog.length, "5000")
    assert "Only 4000 mm are left" in dialog.left.text()
    assert not dialog.go.isEnabled()
    dialog.length.selectAll()
    qtbot.keyClicks(dialog.length, "600")
    assert dialog.left.text() == "3400 mm are left."
    assert not dialog.go.isEnabled()  # what for?
    qtbot.keyClicks(dialog.purpose, "linings, vol. 4")
    with qtbot.waitSignal(session.changed):
        qtbot.mouseClick(dialog.go, LEFT)
    assert [piece.code for piece in session.pieces] == [code]
    assert shelf.sheet.fact_list.words_of("Size") == "900 × 3400 mm"
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert session.piece(code).outline.height == 4000


def test_a_ragged_scrap_is_not_cut_to_length(
    qtbot: QtBot, session: Session, shelf: ShelfScreen
) -> None:
    code = shelve_cloth(session, outline=None)
    shelf.show_code(code)
    assert shelf.sheet.length_button.isVisible()  # a plain rectangle may be
    shelf.show_code(shelve_cloth(session, outline=triangle(80, 80)))
    assert not shelf.sheet.length_button.isVisible()


@pytest.fixture
def table(qtbot: QtBot, session: Session) -> PhotoTableScreen:
    made = PhotoTableScreen(session)
    qtbot.addWidget(made)
    made.resize(1280, 740)
    made.show()
    return made


def test_an_offcut_photographed_anew_keeps_its_code_and_parent(
    qtbot: QtBot,
    session: Session,
    shelf: ShelfScreen,
    table: PhotoTableScreen,
    photo_of_cloth: Path,
) -> None:
    code = shelve_cloth(session)
    shelf.show_code(code)
    before = session.piece(code)
    qtbot.mouseClick(shelf.sheet.anew_button, LEFT)
    dialog = shelf.tasks.dialog
    assert isinstance(dialog, QFileDialog)
    assert code in dialog.windowTitle()
    dialog.fileSelected.emit(str(photo_of_cloth))
    dialog.reject()
    qtbot.waitUntil(lambda: table.draft is not None and not session.jobs.busy)
    draft = table.draft
    assert draft is not None
    assert draft.anew == code
    assert draft.facts is not None
    assert (draft.facts.pattern, draft.facts.place) == ("rib", "Tin 3")
    assert table.marking.panel.shelve_button.text() == f"Keep as {code}"
    assert table.marking.bar.name.text().startswith(f"{code} anew:")
    draft.marks = Marks(
        scale=KnownLength(((100.0, 80.0), (900.0, 80.0)), 200.0),
        outline=((100, 80), (880, 80), (880, 1060), (100, 1060)),
        patches=(PatchMark(((200, 200), (400, 200), (400, 400), (200, 400))),),
    )
    table.marking.go_to_step(list(StepName).index(StepName.FACTS))
    with qtbot.waitSignal(session.changed) as heard:
        qtbot.mouseClick(table.marking.panel.shelve_button, LEFT)
    assert heard.args[0].step.name == f"Photographed {code} anew"
    assert [piece.code for piece in session.pieces] == [code]
    now = session.piece(code)
    assert (now.outline.width, now.outline.height) == pytest.approx((195, 245))
    assert len(now.marks) == 1
    assert now.place == "Tin 3"
    with qtbot.waitSignal(session.changed):
        session.undo()
    assert session.piece(code) == before


def test_what_waits_to_be_photographed_anew_is_there_after_a_restart(
    qtbot: QtBot, session: Session, table: PhotoTableScreen, photo_of_cloth: Path
) -> None:
    code = shelve_cloth(session)
    session.anew_offered.emit(code, photo_of_cloth)
    qtbot.waitUntil(lambda: table.draft is not None and not session.jobs.busy)
    table.waiting.keep()
    again = PhotoTableScreen(session)
    qtbot.addWidget(again)
    assert [draft.anew for draft in again.waiting.drafts] == [code]
    qtbot.waitUntil(lambda: not session.jobs.busy)
