"""What is opened is ours, whole, of a schema we know and held by one writer."""

import hashlib
import os
import shutil
import socket
import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from bindery_stock.errors import (
    DamagedStockroom,
    DiskTrouble,
    NewerStockroom,
    NotAStockroom,
    ReadOnly,
    StockError,
    StockroomInUse,
)
from bindery_stock.shape import Outline
from bindery_stock.stock import Cutting, NewPiece, Stockroom
from bindery_stock.stock.keeping.migrate import SCHEMA
from bindery_stock.trade.vocabulary import Kind

PLAIN = NewPiece(kind=Kind.CLOTH, outline=Outline(((0, 0), (50, 0), (50, 80), (0, 80))))


@pytest.fixture
def closed(folder: Path) -> Path:
    """A stock folder with one piece and one cut, closed."""
    with Stockroom.create(folder) as stock:
        stock.pieces.shelve(PLAIN)
        stock.pieces.cut(
            Cutting(
                code="C-0001",
                purpose="patch",
                width=50.0,
                height=40.0,
                corners=((0, 0), (50, 0), (50, 40), (0, 40)),
                offcuts=(Outline(((0, 40), (50, 40), (50, 80), (0, 80))),),
            )
        )
    return folder


def content(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def raw(folder: Path, statement: str) -> None:
    with closing(sqlite3.connect(folder / "stock.sqlite")) as database:
        database.execute(statement)
        database.commit()


def test_a_closed_stockroom_is_one_whole_file(closed: Path) -> None:
    assert sorted(path.name for path in closed.iterdir()) == [
        "backups",
        "photos",
        "previews",
        "stock.lock",
        "stock.sqlite",
    ]
    with closing(sqlite3.connect(closed / "stock.sqlite")) as database:
        assert database.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert database.execute("PRAGMA application_id").fetchone() == (0x42536B72,)
        assert database.execute("PRAGMA user_version").fetchone() == (SCHEMA,)


def test_a_stockroom_is_made_once(closed: Path) -> None:
    before = content(closed / "stock.sqlite")
    with pytest.raises(StockError, match="holds a stockroom already"):
        Stockroom.create(closed)
    assert content(closed / "stock.sqlite") == before
    with Stockroom.open(str(closed)) as stock:
        assert len(stock.pieces.listed()) == 1


def test_opening_never_makes_a_stockroom(tmp_path: Path) -> None:
    for read_only in (False, True):
        with pytest.raises(NotAStockroom, match="no stockroom"):
            Stockroom.open(tmp_path, read_only=read_only)
    assert list(tmp_path.iterdir()) == []


def test_an_unfinished_making_is_cleared_away(folder: Path) -> None:
    folder.mkdir()
    (folder / ".stock.sqlite.new").write_bytes(b"half")
    (folder / ".stock.sqlite.new-wal").write_bytes(b"half")
    with Stockroom.create(folder) as stock:
        assert stock.keeping.check().sound
    assert not list(folder.glob(".stock*"))


@pytest.mark.parametrize("read_only", [False, True])
def test_an_empty_file_is_not_taken_for_an_empty_stockroom(closed: Path, read_only: bool) -> None:
    (closed / "stock.sqlite").write_bytes(b"")
    with pytest.raises(NotAStockroom, match="is empty"):
        Stockroom.open(closed, read_only=read_only)
    assert (closed / "stock.sqlite").stat().st_size == 0


@pytest.mark.parametrize("read_only", [False, True])
def test_another_kind_of_file_is_refused_untouched(closed: Path, read_only: bool) -> None:
    (closed / "stock.sqlite").write_text("a shopping list\n" * 500)
    before = content(closed / "stock.sqlite")
    with pytest.raises(NotAStockroom, match="not a stockroom"):
        Stockroom.open(closed, read_only=read_only)
    assert content(closed / "stock.sqlite") == before


@pytest.mark.parametrize("read_only", [False, True])
def test_the_database_of_another_program_is_refused_untouched(
    folder: Path, read_only: bool
) -> None:
    folder.mkdir()
    raw(folder, "CREATE TABLE piece (id INTEGER)")
    before = content(folder / "stock.sqlite")
    with pytest.raises(NotAStockroom, match="another program"):
        Stockroom.open(folder, read_only=read_only)
    assert content(folder / "stock.sqlite") == before
    assert [path.name for path in folder.iterdir()] == ["stock.sqlite"]


def test_a_newer_stockroom_is_read_and_never_touched(closed: Path) -> None:
    raw(closed, "PRAGMA user_version = 900")
    raw(closed, "ALTER TABLE piece ADD COLUMN thickness REAL")
    before = content(closed / "stock.sqlite")
    with pytest.raises(NewerStockroom, match="newer version"):
        Stockroom.open(closed)
    with Stockroom.open(closed, read_only=True) as stock:
        assert "newer version" in stock.notice
        assert [piece.code for piece in stock.pieces.listed()] == ["C-0002"]
        assert len(stock.ledger.steps()) == 2
        with pytest.raises(ReadOnly):
            stock.ledger.undo()
    assert content(closed / "stock.sqlite") == before
    assert list((closed / "backups").iterdir()) == []


def test_a_half_file_is_damaged_and_left_as_it_is(closed: Path) -> None:
    database = closed / "stock.sqlite"
    database.write_bytes(database.read_bytes()[: database.stat().st_size // 2])
    before = content(database)
    with pytest.raises(DamagedStockroom, match="backups"):
        Stockroom.open(closed)
    assert content(database) == before


def test_a_wiped_page_is_noticed_at_the_door(closed: Path) -> None:
    database = closed / "stock.sqlite"
    pages = bytearray(database.read_bytes())
    pages[4096 * 3 : 4096 * 4] = bytes(4096)
    database.write_bytes(pages)
    with pytest.raises(DamagedStockroom):
        Stockroom.open(closed)
    assert database.read_bytes() == pages


def test_a_check_finds_an_index_that_disagrees_with_its_table(
    closed: Path, spoil_index: Callable[[Path, bytes], None]
) -> None:
    """The quick look at the door passes this kind of damage; the whole check does not."""
    spoil_index(closed / "stock.sqlite", b"C-0002")
    with Stockroom.open(closed) as stock:
        (first, *_) = stock.keeping.check().faults
    assert first.startswith("The database is damaged: row")
    assert "index" in first


def test_a_second_writer_is_refused_and_may_read(closed: Path) -> None:
    with Stockroom.open(closed) as first:
        with pytest.raises(StockroomInUse) as refused:
            Stockroom.open(closed)
        assert f"process {os.getpid()} on {socket.gethostname()}" in str(refused.value)
        with Stockroom.open(closed, read_only=True) as second:
            first.pieces.shelve(PLAIN)
            assert [piece.code for piece in second.pieces.listed()] == ["C-0002", "C-0003"]
            with pytest.raises(ReadOnly, match="reading only"):
                second.pieces.shelve(PLAIN)
        first.ledger.undo()
    with Stockroom.open(closed) as third:
        assert third.keeping.check().sound


def test_a_second_writer_is_refused_through_a_link(closed: Path, tmp_path: Path) -> None:
    link = tmp_path / "by another name"
    link.symlink_to(closed)
    with Stockroom.open(closed), pytest.raises(StockroomInUse):
        Stockroom.open(link)
    elsewhere = tmp_path / "folder with a linked file"
    elsewhere.mkdir()
    (elsewhere / "stock.sqlite").symlink_to(closed / "stock.sqlite")
    with Stockroom.open(closed), pytest.raises(StockroomInUse):
        Stockroom.open(elsewhere)


def test_a_file_under_two_names_is_not_written(closed: Path, tmp_path: Path) -> None:
    twin = tmp_path / "twin"
    twin.mkdir()
    (twin / "stock.sqlite").hardlink_to(closed / "stock.sqlite")
    with pytest.raises(DiskTrouble, match="second name"):
        Stockroom.open(twin)


def test_a_locked_database_is_told_and_nothing_is_changed(closed: Path) -> None:
    with Stockroom.open(closed) as stock:
        with closing(sqlite3.connect(closed / "stock.sqlite", isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            assert len(stock.pieces.listed()) == 1, "reading goes on"
            with pytest.raises(StockroomInUse, match="Nothing was changed"):
                stock.pieces.shelve(PLAIN)
            other.execute("ROLLBACK")
        assert stock.pieces.shelve(PLAIN).born == ("C-0003",)


def test_questions_are_answered_while_a_step_is_being_written(closed: Path) -> None:
    with Stockroom.open(closed) as stock:
        seen: list[int] = []
        stop = threading.Event()

        def ask() -> None:
            while not stop.is_set():
                seen.append(len(stock.pieces.listed()))

        asking = threading.Thread(target=ask)
        asking.start()
        try:
            for _ in range(5):
                stock.pieces.shelve_many([PLAIN, PLAIN])
        finally:
            stop.set()
            asking.join()
        assert seen == sorted(seen)
        assert {count % 2 for count in seen} == {1}, "a step is seen whole or not at all"
        assert len(stock.pieces.listed()) == 11


def test_verbs_from_several_threads_wait_for_one_another(closed: Path) -> None:
    with Stockroom.open(closed) as stock:
        threads = [
            threading.Thread(target=lambda: [stock.pieces.shelve(PLAIN) for _ in range(4)])
            for _ in range(3)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert len({piece.code for piece in stock.pieces.listed()}) == 13
        assert stock.keeping.check().sound


def test_closing_twice_does_no_harm(closed: Path) -> None:
    stock = Stockroom.open(closed)
    stock.close()
    stock.close()
    with pytest.raises(ReadOnly):
        stock.pieces.shelve(PLAIN)


def test_a_copy_of_the_folder_is_a_stockroom_of_its_own(closed: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(closed, copy)
    with Stockroom.open(closed) as first, Stockroom.open(copy) as second:
        first.pieces.shelve(PLAIN)
        assert len(second.pieces.listed()) == 1
