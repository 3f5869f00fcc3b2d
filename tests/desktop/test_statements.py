"""What is asked of the tables is fixed: it does not grow with what the stockroom holds."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import QThreadPool
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot

from bindery_stock.bench.match.candidates import hoard_of
from bindery_stock.bench.shelf.snapshot import WORDS
from bindery_stock.desktop.adhesives.lot_dialog import LotStart
from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.app import build
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.colours.archive_picker import ArchivePicker
from bindery_stock.desktop.evidence.lab_dialog import ask_lab_result
from bindery_stock.desktop.exchange.records_desk import RecordsDesk
from bindery_stock.desktop.front_desk import FrontDesk
from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.screen import Screen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import Settings
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.desktop.window import Window
from bindery_stock.matching import Part, rank
from bindery_stock.places import sample
from bindery_stock.shape import is_sheet
from bindery_stock.stock import PartState, Stockroom
from tests.statements import Statements, counted
from tests.tenfold import grow

OPENING = 40
CHANGE_OF_SCREEN = 2
DIALOG = 8
P = TypeVar("P", bound=Screen)


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The shipped sample brought up to the schema of today, and the same grown ten times."""
    over = tmp_path_factory.mktemp("grown")
    as_shipped, tenfold = over / "as shipped", over / "tenfold"
    shutil.copytree(sample(), as_shipped)
    Stockroom.open(as_shipped).close()
    shutil.copytree(as_shipped, tenfold)
    grow(tenfold / "stock.sqlite")
    return as_shipped, tenfold


@dataclass(frozen=True, slots=True)
class Bench:
    """A window on a stockroom, with what it takes to wait for it."""

    qtbot: QtBot
    session: Session
    window: Window
    desk: FrontDesk
    table: Path
    """A table of pieces that may be taken in."""
    theirs: Path
    """The database of another stockroom, of the same size as the one on the bench."""

    def place(self, kind: type[P]) -> P:
        return next(place for place in self.window.places if isinstance(place, kind))

    def count(self, do: Callable[[], object]) -> Statements:
        """Do something, and count what is asked until nothing is under way any more."""
        with counted() as found:
            do()
            self.qtbot.waitUntil(lambda: not self.session.jobs.busy)
        return found


@pytest.fixture
def open_bench(
    qapp: QApplication, qtbot: QtBot, tmp_path: Path
) -> Iterator[Callable[[Path], Bench]]:
    """Opens a window on a folder; each is closed again."""
    dress(qapp, Scheme.LIGHT)
    opened: list[Bench] = []
    table = tmp_path / "table.csv"
    table.write_text("kind,width,height\nmull,300,400\nmull,200,100\n", encoding="utf-8")

    def at(folder: Path) -> Bench:
        session = Session(Settings(tmp_path / f"{folder.name}.ini"))
        window, desk = build(session)
        theirs = tmp_path / f"{folder.name}, theirs" / "stock.sqlite"
        theirs.parent.mkdir()
        shutil.copy(folder / theirs.name, theirs)
        bench = Bench(qtbot, session, window, desk, table, theirs)
        opened.append(bench)
        qtbot.addWidget(window)
        window.show()
        desk.open_folder(folder)
        qtbot.waitUntil(lambda: not session.jobs.busy)
        return bench

    yield at
    for bench in opened:
        bench.window.close()
    assert QThreadPool.globalInstance().activeThreadCount() == 0


def _told(found: Statements) -> str:
    return f"{len(found)} statements\n{found.told()}"


def test_opening_asks_as_much_of_a_small_stockroom_as_of_a_large_one(
    folders: tuple[Path, Path], open_bench: Callable[[Path], Bench]
) -> None:
    counts = []
    for folder in folders:
        bench = open_bench(folder)  # once before: pictures and rectangles are kept from then on

        def again(bench: Bench = bench, folder: Path = folder) -> None:
            bench.session.close_stockroom()
            bench.desk.open_folder(folder)

        found = bench.count(again)
        assert len(found) <= OPENING, _told(found)
        counts.append(len(found))
        bench.window.close()
    assert counts[0] == counts[1]


def test_going_to_a_screen_asks_next_to_nothing_whatever_the_stockroom_holds(
    folders: tuple[Path, Path], open_bench: Callable[[Path], Bench]
) -> None:
    counts: list[dict[str, int]] = []
    for folder in folders:
        bench = open_bench(folder)
        for place in bench.window.places:
            bench.count(lambda bench=bench, place=place: bench.window.go_to(place))
        counted_here = {}
        for place in bench.window.places:
            found = bench.count(lambda bench=bench, place=place: bench.window.go_to(place))
            assert len(found) <= CHANGE_OF_SCREEN, f"{place.title}: {_told(found)}"
            counted_here[place.title] = len(found)
        counts.append(counted_here)
        bench.window.close()
    assert counts[0] == counts[1]


def _dialogs(bench: Bench) -> Iterator[tuple[str, Callable[[], object]]]:
    """Every dialog by its name, with what opens it."""
    shelf, books = bench.place(ShelfScreen), bench.place(BooksScreen)
    adhesives = bench.place(AdhesivesScreen)
    pieces, view = bench.session.pieces, books.books.view
    shelf_tasks, tasks, piece = shelf.tasks, books.tasks, pieces[0]
    roll = next((one for one in pieces if is_sheet(one.outline)), None)
    parts = [part for repair in view.repairs for part in view.parts(repair.code)]
    kept = next(part for part in parts if part.state is PartState.RESERVED)
    volume = next(one for one in view.repairs if one.photos)
    lot = adhesives.model.rows[0]
    records = bench.window.findChild(RecordsDesk)
    yield "facts of a piece", lambda: shelf_tasks.edit(piece)
    yield "move", lambda: shelf_tasks.move([piece])
    yield "discard", lambda: shelf_tasks.discard(piece)
    yield "side by side", lambda: shelf_tasks.hold_beside(piece)
    yield "instrument", lambda: shelf_tasks.add_reading(piece)
    if roll is not None:
        yield "length", lambda: shelf_tasks.cut_length(roll)
    yield "use", lambda: adhesives.tasks.use(lot)
    yield "lot", lambda: adhesives.tasks.enter(LotStart.BOUGHT)
    yield "mixture", lambda: adhesives.tasks.enter(LotStart.MIXED, (lot.lot.code,))
    yield "facts of a lot", lambda: adhesives.tasks.correct(lot.lot)
    yield "test", lambda: adhesives.tasks.test(lot.lot)
    yield "finish", lambda: adhesives.tasks.finish(lot.lot)
    yield "laboratory result", lambda: ask_lab_result(piece, bench.session, bench.window)
    yield "want", adhesives.tasks.want
    yield "close a want", lambda: adhesives.tasks.close_want("W-0001")
    yield "reorder point", adhesives.tasks.set_reorder_point
    yield "survey", lambda: books._edit_survey(volume.code)
    yield "new survey", books.survey_new
    yield "set", tasks.new_set
    yield "allowances of a set", lambda: tasks.set_allowances(view.sets[0].code)
    yield "allowances of a volume", lambda: tasks.volume_allowances(volume.code)
    road = bench.place(MatchScreen).road
    strip = Part(20, 20, piece.colour.lab if piece.colour else (45.0, 36.0, 22.0))
    road.show_answer(rank(strip, hoard_of(pieces)), {})
    yield "line-up", road.open
    yield "cut sheet", lambda: tasks.cut(kept.id)
    yield "work note", lambda: tasks.note_work(volume.code, None)
    yield "measure again", lambda: tasks.measure_again(volume.code)
    yield "cards", lambda: tasks.show_cards([kept])
    yield "photographs kept", lambda: ArchivePicker(bench.session, bench.window).open()
    bench.window.go_to(shelf)
    # Else labels would be laid out for every piece, which takes long.
    bench.count(lambda: shelf.choice.only(piece.id))
    yield "labels", records.labels
    yield "lists", records.lists
    yield "record", records.record
    yield "backups", records.backups
    yield "a table that comes in", lambda: records.take_in_from(bench.table)
    yield "another stockroom", lambda: look_at_theirs(bench)


def look_at_theirs(bench: Bench) -> None:
    """Look through the other stockroom until the dialog shows what it would bring."""
    merging = bench.window.findChild(RecordsDesk).merging
    merging.window = bench.window
    merging.look_at(bench.theirs)
    bench.qtbot.waitUntil(lambda: merging.dialog is not None and merging.dialog.isVisible())


def test_a_dialog_asks_as_much_of_a_small_stockroom_as_of_a_large_one(
    folders: tuple[Path, Path], open_bench: Callable[[Path], Bench]
) -> None:
    counts: list[dict[str, int]] = []
    too_many = {}
    for folder in folders:
        bench = open_bench(folder)
        here = {}
        for name, show in _dialogs(bench):
            found = bench.count(show)
            here[name] = len(found)
            if len(found) > DIALOG:
                too_many[name] = _told(found)
            for dialog in bench.window.findChildren(QDialog):
                dialog.reject()
            bench.count(lambda: None)
        counts.append(here)
        bench.window.close()
    assert not too_many, "\n".join(f"{name}: {told}" for name, told in too_many.items())
    assert counts[0] == counts[1]


def test_what_a_step_changes_is_read_again_off_the_thread_of_the_window(
    folders: tuple[Path, Path], open_bench: Callable[[Path], Bench]
) -> None:
    counts = []
    for folder in folders:
        bench = open_bench(folder)
        session, code = bench.session, bench.session.pieces[0].code
        found = bench.count(lambda s=session, c=code: s.do(lambda r: r.pieces.move([c], "tin 99")))
        assert session.piece(code).place == "tin 99"
        assert "tin 99" in session.snapshot(WORDS).view.places
        assert found.texts
        assert found.on_this_thread == 0, _told(found)
        counts.append(len(found))
        bench.window.close()
    assert counts[0] == counts[1]
