"""Backups, the whole stockroom, and a scan, from the window."""

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from bindery_stock.desktop.app import build
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.exchange.backups_dialog import BackupsDialog, backup_words
from bindery_stock.desktop.exchange.labels_dialog import LabelsDialog
from bindery_stock.desktop.exchange.records_desk import RecordsDesk
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.window import Window
from bindery_stock.shape import Outline
from bindery_stock.stock import NewAdhesiveLot, NewBookSet, NewPiece, NewRepair, Stockroom
from bindery_stock.stock.keeping.restore import Backup
from bindery_stock.trade import Damage, Harm, Survey
from bindery_stock.trade.vocabulary import Kind

SCRAP = NewPiece(
    kind=Kind.CLOTH, outline=Outline(((0, 0), (58, 0), (58, 228), (0, 228))), pattern="rib"
)

MEASURED = Survey(
    spine_width=31.0,
    rise=5.0,
    joint=6.0,
    board_height=210.0,
    board_width=133.0,
    damage=(Damage(Harm.SPINE_LOST),),
)


@pytest.fixture
def window(qtbot: QtBot, session: Session) -> Iterator[Window]:
    for _ in range(3):
        session.heard(session.stockroom.pieces.shelve(SCRAP))
    paste = NewAdhesiveLot(kind="wheat-starch-paste", name="Paste")
    session.heard(session.stockroom.lots.enter(paste))
    made, _desk = build(session)
    session.opened.emit()
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    qtbot.waitUntil(lambda: not session.jobs.busy)  # the copy of the day has been made
    yield made
    made.close()


def desk_of(window: Window) -> RecordsDesk:
    found = window.findChild(RecordsDesk)
    assert isinstance(found, RecordsDesk)
    return found


def test_a_scan_over_the_shelf_goes_to_its_piece_and_to_its_jar(
    qtbot: QtBot, window: Window
) -> None:
    shelf = window.places[0]
    shelf.setFocus()
    qtbot.keyClicks(shelf, "C-0002")
    qtbot.keyClick(shelf, Qt.Key.Key_Return)
    assert shelf.chosen_piece.code == "C-0002"
    qtbot.keyClicks(shelf, "A-0001")
    qtbot.keyClick(shelf, Qt.Key.Key_Return)
    assert window.place.title == "Adhesives"


def test_a_scan_of_a_volume_goes_to_its_survey_under_books(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    for number in (1, 2):
        new = NewRepair(name=f"Hollin Vale vol. {number}", survey=MEASURED)
        session.heard(session.stockroom.books.add_repair(new))
    shelf = window.places[0]
    shelf.setFocus()
    qtbot.keyClicks(shelf, "V-0002")
    qtbot.keyClick(shelf, Qt.Key.Key_Return)
    assert isinstance(window.place, BooksScreen)
    assert window.place.volume_view.isVisible()
    assert window.place.volume_view.code == "V-0002"


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ("C-0099", "no piece C-0099"),
        ("A-0099", "A-0099"),
        ("V-0099", "no volume V-0099"),
        ("W-0099", "no want W-0099"),
    ],
)
def test_a_scan_of_a_code_that_is_none_says_so(
    qtbot: QtBot, window: Window, session: Session, code: str, words: str
) -> None:
    before = window.place
    with qtbot.waitSignal(session.trouble) as heard:
        qtbot.keyClicks(window.places[0], code)
        qtbot.keyClick(window.places[0], Qt.Key.Key_Return)
    assert words in heard.args[0]
    assert window.place is before


def test_labels_begin_with_what_is_chosen_on_the_shelf(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    session.show_code("C-0003")
    window.refresh_commands()
    window.action("records.labels").trigger()
    dialog = desk_of(window).dialog
    assert isinstance(dialog, LabelsDialog)
    assert [one.code for one in dialog.labels()] == ["C-0003"]
    dialog.accept()


def test_going_back_takes_three_clicks_and_shows_what_changes(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    session.stockroom.keeping.backup("asked")
    session.heard(session.stockroom.pieces.discard("C-0003", "lost"))
    window.refresh_commands()
    window.action("records.backups").trigger()  # one
    dialog = desk_of(window).dialog
    assert isinstance(dialog, BackupsDialog)
    first = dialog.list.visualItemRect(dialog.list.item(0)).center()
    qtbot.mouseClick(dialog.list.viewport(), Qt.MouseButton.LeftButton, pos=first)  # two
    assert "Now: 2 pieces on the shelf" in dialog.told.text()
    assert "Then: 3 pieces on the shelf" in dialog.told.text()
    assert "• Discarded C-0003: lost" in dialog.told.text()
    with qtbot.waitSignal(session.opened):
        qtbot.mouseClick(dialog.go_back, Qt.MouseButton.LeftButton)  # three
    assert [piece.code for piece in session.pieces] == ["C-0001", "C-0002", "C-0003"]
    assert window.foot.isVisible()


def test_no_screen_is_shown_until_the_copy_gone_back_to_has_been_read(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    added = session.stockroom.books.add_set(NewBookSet(title="Hollin Vale"))
    session.heard(added)
    new = NewRepair(name="vol. 1", survey=MEASURED, book_set=added.born[0], volume=1)
    session.heard(session.stockroom.books.add_repair(new))
    session.stockroom.keeping.backup("asked")
    books = next(place for place in window.places if isinstance(place, BooksScreen))
    window.go_to(books)
    window.action("records.backups").trigger()
    dialog = desk_of(window).dialog
    assert isinstance(dialog, BackupsDialog)
    with qtbot.waitSignal(session.opened):
        qtbot.mouseClick(dialog.go_back, Qt.MouseButton.LeftButton)
        assert not session.is_open
        window.grab()  # what is painted asks nothing of a stockroom that is closed
        assert not books.isVisible()
        assert window.reading.isVisible()
        assert not window.side.isEnabled()
        live = [c.name for c, a, place in window._actions if place is not None and a.isEnabled()]
        assert live == [], "nothing can be done in a place"
    assert books.isVisible()
    assert window.side.isEnabled()
    assert window.foot.words.startswith("Went back to the copy of")
    assert not window.foot.undo_button.isVisible()
    assert window.focusWidget() is not None
    assert books.isAncestorOf(window.focusWidget()), "the keys go on where they were"


def test_a_copy_is_made_when_asked(qtbot: QtBot, window: Window) -> None:
    window.action("records.backups").trigger()
    dialog = desk_of(window).dialog
    assert isinstance(dialog, BackupsDialog)
    before = dialog.list.count()
    qtbot.mouseClick(dialog.make, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: dialog.list.count() == before + 1)
    dialog.reject()


def test_a_copy_is_made_beside_those_there_are(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    session.stockroom.keeping.backup("asked")
    session.stockroom.keeping.backup("Before the fair")
    window.action("records.backups").trigger()
    dialog = desk_of(window).dialog
    assert isinstance(dialog, BackupsDialog)
    qtbot.mouseClick(dialog.make, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: dialog.list.count() == 4)  # with that of the day
    assert dialog.list.currentRow() == 0, "the newest is in hand"
    assert "Then: 3 pieces on the shelf" in dialog.told.text()
    dialog.reject()


@pytest.mark.parametrize("where", ["list", "go_back", "make"])
def test_enter_never_goes_back_to_a_copy(
    qtbot: QtBot, window: Window, session: Session, where: str
) -> None:
    session.stockroom.keeping.backup("asked")
    session.heard(session.stockroom.pieces.discard("C-0003", "lost"))
    window.action("records.backups").trigger()
    dialog = desk_of(window).dialog
    assert isinstance(dialog, BackupsDialog)
    qtbot.waitExposed(dialog)
    before = sorted((session.stockroom.folder / "backups").iterdir())
    held = getattr(dialog, where)
    held.setFocus()
    qtbot.keyClick(held, Qt.Key.Key_Return)
    assert [piece.code for piece in session.pieces] == ["C-0001", "C-0002"]
    assert sorted((session.stockroom.folder / "backups").iterdir()) == before, "nor makes one"
    assert not dialog.isVisible(), "it leaves all as it was"


def test_the_whole_stockroom_goes_out_and_comes_in(
    qtbot: QtBot, window: Window, session: Session, tmp_path: Path
) -> None:
    desk = desk_of(window)
    whole = session.stockroom.exchange.whole()
    with qtbot.waitSignal(session.said) as heard:
        desk.pack_to(tmp_path / "mine.bindery.zip")
    assert "3 pieces" in heard.args[0]
    with qtbot.waitSignal(session.opened):
        desk.unpack_to(tmp_path / "mine.bindery.zip", tmp_path / "copy")
    assert session.stockroom.folder == tmp_path / "copy"
    assert session.stockroom.exchange.whole() == whole


def test_a_file_that_is_no_archive_is_told(
    qtbot: QtBot, window: Window, session: Session, tmp_path: Path
) -> None:
    (tmp_path / "odd.zip").write_bytes(b"odd")
    with qtbot.waitSignal(session.trouble) as heard:
        desk_of(window).unpack_to(tmp_path / "odd.zip", tmp_path / "copy")
    assert "no archive" in heard.args[0]


def test_a_damaged_stockroom_is_saved_and_gone_back_to(
    qtbot: QtBot, window: Window, session: Session
) -> None:
    folder = session.stockroom.folder
    session.close_stockroom()
    database = folder / "stock.sqlite"
    pages = bytearray(database.read_bytes())
    at = pages.rindex(b"C-0003")
    pages[at // 4096 * 4096 : (at // 4096 + 1) * 4096] = bytes(4096)
    database.write_bytes(pages)
    desk = desk_of(window)
    desk.backups()
    dialog = desk.dialog
    assert isinstance(dialog, BackupsDialog)
    qtbot.mouseClick(dialog.save, Qt.MouseButton.LeftButton)
    assert "Go back to this copy" in dialog.told.text()
    with qtbot.waitSignal(session.opened):
        qtbot.mouseClick(dialog.go_back, Qt.MouseButton.LeftButton)
    assert isinstance(session.stockroom, Stockroom)
    assert session.stockroom.keeping.check().faults == ()


def test_a_copy_is_told_by_its_day_in_words_and_by_what_made_it() -> None:
    at = datetime(2026, 11, 25, 9, 4).astimezone()
    copy = Backup(Path("copy.sqlite"), at, "daily", 109, 4096)
    assert backup_words(copy) == "25 Nov 2026, 09:04  made of itself, after step 109"
