"""What can be read of a damaged stockroom is saved, and what was lost is said."""

import random
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from bindery_stock.errors import DamagedStockroom
from bindery_stock.stock import Stockroom
from bindery_stock.stock.keeping.restore import restore
from bindery_stock.stock.keeping.salvage import salvage
from tests.records.busy import BenchClock, busy_stockroom


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A stockroom in which much has happened, closed."""
    room = tmp_path_factory.mktemp("sound")
    with busy_stockroom(room / "stock", room / "scratch") as stock:
        for number in range(40):
            stock.pieces.move(["L-0001"], f"drawer {number}")
    return room / "stock"


def wreck(sound: Path, folder: Path, spoil: set[int]) -> bytes:
    """A copy of the stockroom with these pages zeroed; returns its database."""
    (folder / "photos").mkdir(parents=True)
    for original in (sound / "photos").iterdir():
        (folder / "photos" / original.name).write_bytes(original.read_bytes())
    pages = bytearray((sound / "stock.sqlite").read_bytes())
    for page in spoil:
        pages[page * 4096 : (page + 1) * 4096] = bytes(4096)
    (folder / "stock.sqlite").write_bytes(pages)
    return bytes(pages)


def pages_of(database: Path, *tables: str) -> set[int]:
    """Root pages of these tables, counted from 0."""
    with closing(sqlite3.connect(database)) as raw:
        marks = ",".join("?" * len(tables))
        found = raw.execute(
            f"SELECT rootpage FROM sqlite_master WHERE type = 'table' AND name IN ({marks})", tables
        ).fetchall()
    return {page - 1 for (page,) in found}


def test_a_lost_table_of_pieces_is_whole_again_from_the_ledger(sound: Path, tmp_path: Path) -> None:
    clock, folder = BenchClock(), tmp_path / "wreck"
    broken = wreck(sound, folder, pages_of(sound / "stock.sqlite", "piece", "colour_reading"))
    saved = salvage(folder, clock())
    assert saved.lost == ()
    assert (folder / "stock.sqlite").read_bytes() == broken, "the damaged file is not touched"
    restore(folder, saved.copy, clock())
    with Stockroom.open(folder) as stock, Stockroom.open(sound, read_only=True) as before:
        assert stock.exchange.whole() == before.exchange.whole()
        assert stock.keeping.check().faults == ()


def test_without_its_ledger_the_stock_is_kept_and_the_loss_is_said(
    sound: Path, tmp_path: Path
) -> None:
    clock, folder = BenchClock(), tmp_path / "wreck"
    wreck(sound, folder, pages_of(sound / "stock.sqlite", "movement"))
    saved = salvage(folder, clock())
    assert "The ledger before today could not be read whole" in saved.words
    assert saved.copy.with_suffix(".txt").read_text("utf-8").strip() == saved.words
    restore(folder, saved.copy, clock())
    with Stockroom.open(folder) as stock, Stockroom.open(sound, read_only=True) as before:
        assert stock.pieces.listed(gone=True) == before.pieces.listed(gone=True)
        assert [step.name for step in stock.ledger.steps()] == ["Salvaged from a damaged stockroom"]
        assert stock.keeping.check().faults == ()


def test_photographs_are_known_again_by_their_originals(sound: Path, tmp_path: Path) -> None:
    clock, folder = BenchClock(), tmp_path / "wreck"
    wreck(sound, folder, pages_of(sound / "stock.sqlite", "photo", "movement"))
    saved = salvage(folder, clock())
    restore(folder, saved.copy, clock())
    with Stockroom.open(folder) as stock:
        assert len(stock.photos.listed()) == 2
        assert {(photo.width, photo.height) for photo in stock.photos.listed()} == {(1600, 1200)}
        assert len(stock.books.repairs()[0].photos) == 2
        assert stock.keeping.check().faults == ()


@pytest.mark.parametrize("seed", range(6))
def test_whatever_pages_are_lost_the_outcome_is_sound_or_a_clear_refusal(
    sound: Path, tmp_path: Path, seed: int
) -> None:
    clock, folder = BenchClock(), tmp_path / "wreck"
    count = (sound / "stock.sqlite").stat().st_size // 4096
    wreck(sound, folder, set(random.Random(seed).sample(range(1, count), 4)))
    try:
        saved = salvage(folder, clock())
    except DamagedStockroom:
        assert not (folder / "backups").exists()
        return
    restore(folder, saved.copy, clock())
    with Stockroom.open(folder) as stock:
        assert stock.keeping.check().faults == ()


def test_what_is_no_database_any_more_is_refused(sound: Path, tmp_path: Path) -> None:
    folder = tmp_path / "wreck"
    wreck(sound, folder, {0})
    with pytest.raises(DamagedStockroom, match="newest copy among the backups"):
        salvage(folder, BenchClock()())
