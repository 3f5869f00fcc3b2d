"""Going back to a copy, seeing first what that changes, and going back on it."""

import shutil
import sqlite3
from pathlib import Path

import pytest

from bindery_stock.errors import DamagedStockroom, DiskTrouble, NotAStockroom, StockroomInUse
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.stock.keeping.restore import backups, contents, outlook, restore
from tests.records.busy import BenchClock


@pytest.fixture
def copied(folder: Path, red_rib: NewPiece, stock: Stockroom) -> Path:
    """A stockroom with one piece, a copy of it, then a second piece and a move; closed."""
    stock.pieces.shelve(red_rib)
    copy = stock.keeping.backup("asked")
    stock.pieces.shelve(red_rib)
    stock.pieces.move(["C-0002"], "drawer 9")
    stock.close()
    return copy


def test_the_copies_are_listed_newest_first_and_other_files_are_left_out(
    folder: Path, copied: Path, clock: BenchClock
) -> None:
    (folder / "backups" / "notes.sqlite").write_bytes(b"mine")
    with Stockroom.open(folder, clock=clock) as stock:
        stock.keeping.backup("Before the fair!")
    found = backups(folder)
    assert [one.reason for one in found][:1] == ["before-the-fair"]
    assert found[-1].path == copied
    assert found[-1].step == 1
    assert "notes.sqlite" not in {one.path.name for one in found}


def test_what_going_back_would_change_is_told_before_it_is_done(folder: Path, copied: Path) -> None:
    seen = outlook(folder, copied)
    assert seen.now is not None
    assert (seen.now.pieces, seen.then.pieces) == (2, 1)
    assert seen.lost_steps == ("Moved C-0002 to drawer 9", "Shelved C-0002")
    assert seen.then.last_step == "Shelved C-0001"


def test_going_back_and_going_back_on_it(folder: Path, copied: Path, clock: BenchClock) -> None:
    with Stockroom.open(folder, clock=clock) as stock:
        before = stock.exchange.whole()
    done = restore(folder, copied, clock())
    assert done.then.pieces == 1
    with Stockroom.open(folder, clock=clock) as stock:
        assert [piece.code for piece in stock.pieces.listed()] == ["C-0001"]
        assert stock.keeping.check().faults == ()
    assert copied.exists(), "the copy stays for another time"
    again = restore(folder, done.kept, clock())
    assert again.then.pieces == 2
    with Stockroom.open(folder, clock=clock) as stock:
        assert stock.exchange.whole() == before


def test_a_stockroom_open_in_a_window_is_not_replaced(
    folder: Path, copied: Path, clock: BenchClock
) -> None:
    with Stockroom.open(folder, clock=clock) as stock:
        with pytest.raises(StockroomInUse):
            restore(folder, copied, clock())
        assert len(stock.pieces.listed()) == 2


def test_a_damaged_copy_is_refused_and_the_stockroom_stays(
    folder: Path, copied: Path, clock: BenchClock
) -> None:
    pages = bytearray(copied.read_bytes())
    pages[8192:12288] = bytes(4096)
    copied.write_bytes(pages)
    with pytest.raises(DamagedStockroom):
        restore(folder, copied, clock())
    with Stockroom.open(folder, clock=clock) as stock:
        assert len(stock.pieces.listed()) == 2


def test_another_file_is_no_copy(folder: Path, copied: Path, clock: BenchClock) -> None:
    other = folder / "backups" / "other.sqlite"
    sqlite3.connect(other).execute("CREATE TABLE x (y)").connection.close()
    with pytest.raises(NotAStockroom):
        restore(folder, other, clock())


def test_a_damaged_stockroom_is_kept_file_by_file_and_replaced(
    folder: Path, copied: Path, clock: BenchClock
) -> None:
    database = folder / "stock.sqlite"
    database.write_bytes(database.read_bytes()[:9000])
    broken = database.read_bytes()
    assert outlook(folder, copied).now is None
    done = restore(folder, copied, clock())
    assert done.kept.is_dir()
    assert (done.kept / "stock.sqlite").read_bytes() == broken
    with Stockroom.open(folder, clock=clock) as stock:
        assert len(stock.pieces.listed()) == 1


def test_a_journal_left_by_a_kill_is_folded_in_before_going_back(
    folder: Path, copied: Path, clock: BenchClock, tmp_path: Path
) -> None:
    stock = Stockroom.open(folder, clock=clock)
    stock.pieces.move(["C-0001"], "drawer 1")
    left = tmp_path / "left"
    shutil.copytree(folder, left)  # as a kill leaves it: with its -wal
    stock.close()
    assert (left / "stock.sqlite-wal").stat().st_size > 0
    done = restore(left, left / "backups" / copied.name, clock())
    assert contents(done.kept).last_step == "Moved C-0001 to drawer 1"
    assert not (left / "stock.sqlite-wal").exists()
    with Stockroom.open(left, clock=clock) as stock:
        assert len(stock.pieces.listed()) == 1


@pytest.mark.parametrize("fails_at", [1, 2, 3])
def test_a_disk_that_fails_at_any_rename_leaves_a_whole_stockroom(
    folder: Path,
    copied: Path,
    clock: BenchClock,
    monkeypatch: pytest.MonkeyPatch,
    fails_at: int,
) -> None:
    renamed = 0
    really = Path.replace

    def failing(self: Path, target: Path) -> Path:
        nonlocal renamed
        renamed += 1
        if renamed == fails_at:
            raise OSError(28, "No space left on device", str(self))
        return really(self, target)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "replace", failing)
        try:
            restore(folder, copied, clock())
        except DiskTrouble as trouble:
            refusal = str(trouble)
        else:
            refusal = ""
    assert bool(refusal) is (fails_at <= renamed)
    with Stockroom.open(folder, clock=clock) as stock:
        assert len(stock.pieces.listed()) == (2 if refusal else 1)
        assert stock.keeping.check().faults == ()
    assert not list(folder.glob(".stock.sqlite*")), "nothing half done is left"
