"""A kill while a copy just put back is opened for the first time locks no one out."""

import shutil
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from bindery_stock import commands
from bindery_stock.errors import DiskTrouble, NotAStockroom
from bindery_stock.shape import Outline
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.stock.keeping.restore import backups, outlook, restore
from bindery_stock.stock.keeping.salvage import salvage
from bindery_stock.trade.vocabulary import Kind
from tests.patience import PATIENCE
from tests.records.busy import BenchClock

if sys.platform == "win32":
    pytest.skip("there is no SIGKILL on Windows", allow_module_level=True)

_KILLED = """
import os, signal, sqlite3, sys
raw = sqlite3.connect(sys.argv[1], isolation_level=None)
raw.execute("PRAGMA cache_size = 1")
raw.execute("PRAGMA cache_spill = 1")
raw.execute("BEGIN IMMEDIATE")
raw.execute("CREATE TABLE room (words TEXT)")
raw.executemany("INSERT INTO room VALUES (?)", [("x" * 3000,)] * 200)
raw.execute("UPDATE piece SET note = 'half'")
os.kill(os.getpid(), signal.SIGKILL)
"""
"""As at the switch to the write-ahead journal, pages are in the file and what they were beside it;
only more of them, so that what is not rolled back would be seen."""


@pytest.fixture
def cut_short(tmp_path: Path) -> Path:
    """A stockroom just gone back to a copy, and the program killed while it wrote to it."""
    folder = tmp_path / "stock"
    with Stockroom.create(folder, clock=BenchClock()) as stock:
        piece = NewPiece(kind=Kind.CLOTH, outline=Outline(((0, 0), (50, 0), (50, 80), (0, 80))))
        stock.pieces.shelve_many([piece] * 40)
        copy = stock.keeping.backup("asked")
    restore(folder, copy, BenchClock()())
    done = subprocess.run(
        [sys.executable, "-c", _KILLED, str(folder / "stock.sqlite")], check=False, timeout=PATIENCE
    )
    assert done.returncode == -signal.SIGKILL
    assert is_hot(folder)
    return folder


def is_hot(folder: Path) -> bool:
    """Whether one who may only read is locked out by the journal, as SQLite itself has it."""
    if not (folder / "stock.sqlite-journal").exists():
        return False
    try:
        with closing(
            sqlite3.connect(f"{(folder / 'stock.sqlite').as_uri()}?mode=ro", uri=True)
        ) as raw:
            raw.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.OperationalError:
        return True
    return False


@pytest.mark.parametrize("read_only", [False, True])
def test_the_next_opening_heals_it(cut_short: Path, read_only: bool) -> None:
    with Stockroom.open(cut_short, read_only=read_only) as stock:
        assert stock.keeping.check().faults == ()
        assert len(stock.pieces.listed()) == 40
        assert {piece.note for piece in stock.pieces.listed()} == {""}
    assert not is_hot(cut_short)


def test_the_check_of_the_command_line_heals_it(
    cut_short: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert commands.run(["check", str(cut_short)]) == 0
    assert "Sound: 40 pieces" in capsys.readouterr().out


def test_salvage_reads_past_it_and_leaves_the_files_as_they_lie(cut_short: Path) -> None:
    names = ("stock.sqlite", "stock.sqlite-journal")
    before = [(cut_short / name).read_bytes() for name in names]
    saved = salvage(cut_short, BenchClock()())
    assert saved.lost == ()
    assert saved.kept["piece"] == 40
    assert [(cut_short / name).read_bytes() for name in names] == before
    assert not (cut_short / ".salvage").exists()


def test_going_back_leaves_no_journal_beside_the_copy(cut_short: Path) -> None:
    copy = backups(cut_short)[-1].path
    seen = outlook(cut_short, copy)
    assert seen.now is not None
    assert seen.now.pieces == 40
    done = restore(cut_short, copy, BenchClock()())
    assert done.kept.is_file(), "what was there was healed and kept as a copy"
    assert not (cut_short / "stock.sqlite-journal").exists()
    with Stockroom.open(cut_short) as stock:
        assert stock.keeping.check().faults == ()


def test_a_journal_beside_what_is_no_stockroom_any_more_does_not_outlive_it(
    cut_short: Path,
) -> None:
    (cut_short / "stock.sqlite").write_bytes(b"gone" * 3000)
    copy = backups(cut_short)[-1].path
    done = restore(cut_short, copy, BenchClock()())
    assert done.kept.is_dir()
    assert not (cut_short / "stock.sqlite-journal").exists()
    with Stockroom.open(cut_short) as stock:
        assert len(stock.pieces.listed()) == 40


def test_the_file_of_another_program_is_left_as_it_lies(tmp_path: Path, cut_short: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    with closing(sqlite3.connect(other / "stock.sqlite")) as raw:
        raw.execute("CREATE TABLE piece (note TEXT)")
        raw.executemany("INSERT INTO piece VALUES (?)", [("y" * 3000,)] * 50)
        raw.commit()
    subprocess.run(
        [sys.executable, "-c", _KILLED, str(other / "stock.sqlite")], check=False, timeout=PATIENCE
    )
    assert is_hot(other)
    before = (other / "stock.sqlite").read_bytes()
    with pytest.raises((NotAStockroom, DiskTrouble)):
        Stockroom.open(other)
    assert (other / "stock.sqlite").read_bytes() == before
    assert is_hot(other)


def test_a_half_written_file_on_a_disk_that_cannot_be_written_is_told(
    cut_short: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("os.access", lambda *_: False)
    with pytest.raises(DiskTrouble, match="Copy the whole folder to another disk"):
        Stockroom.open(cut_short, read_only=True)
    monkeypatch.undo()
    copied = cut_short.with_name("copied")
    shutil.copytree(cut_short, copied)
    with Stockroom.open(copied) as stock:
        assert len(stock.pieces.listed()) == 40
