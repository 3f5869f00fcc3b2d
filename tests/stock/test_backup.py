"""Backups are whole, are taken daily, are thinned by date, and can be gone back to."""

import re
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from bindery_stock.errors import DamagedStockroom, ReadOnly
from bindery_stock.shape import Outline
from bindery_stock.stock import NewPiece, Stockroom
from bindery_stock.stock.keeping import backup
from bindery_stock.trade.vocabulary import Kind

if TYPE_CHECKING:
    from tests.stock.conftest import BenchClock

PLAIN = NewPiece(kind=Kind.CLOTH, outline=Outline(((0, 0), (50, 0), (50, 80), (0, 80))))


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in (folder / "backups").iterdir())


def test_a_backup_can_be_gone_back_to(stock: Stockroom, red_rib: NewPiece, tmp_path: Path) -> None:
    stock.pieces.shelve(red_rib)
    kept = stock.pieces.listed(gone=True)
    copy = stock.keeping.backup("Before the big sort")
    assert re.fullmatch(r"20260302T0900\d\dZ-before-the-big-sort-step-1\.sqlite", copy.name)
    stock.pieces.discard("C-0001", "moth")
    restored = tmp_path / "restored"
    restored.mkdir()
    shutil.copy(copy, restored / "stock.sqlite")
    shutil.copytree(stock.folder / "photos", restored / "photos")
    with Stockroom.open(restored) as again:
        assert again.pieces.listed(gone=True) == kept
        assert again.keeping.check().sound


def test_a_backup_is_one_file_that_stands_alone(stock: Stockroom, red_rib: NewPiece) -> None:
    stock.pieces.shelve(red_rib)
    copy = stock.keeping.backup("asked")
    with closing(sqlite3.connect(f"{copy.as_uri()}?mode=ro&immutable=1", uri=True)) as alone:
        assert alone.execute("SELECT code FROM piece").fetchall() == [("C-0001",)]
        assert alone.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert names(stock.folder) == [copy.name]


def test_two_backups_in_one_second_do_not_write_over_each_other(
    stock: Stockroom, clock: "BenchClock"
) -> None:
    """As in the hour that comes twice in autumn: names are in UTC, and counted where equal."""
    first = stock.keeping.backup("asked")
    clock.now -= timedelta(seconds=1)
    second = stock.keeping.backup("asked")
    assert first != second
    assert len(names(stock.folder)) == 2


def test_no_backup_is_made_of_a_damaged_stockroom(
    stock: Stockroom, red_rib: NewPiece, spoil_index: Callable[[Path, bytes], None]
) -> None:
    stock.pieces.shelve(red_rib)
    good = stock.keeping.backup("good")
    stock.close()
    database = stock.folder / "stock.sqlite"
    spoil_index(database, b"C-0001")
    with Stockroom.open(stock.folder) as again, pytest.raises(DamagedStockroom, match="no backup"):
        again.keeping.backup("bad")
    assert names(stock.folder) == [good.name]


def test_the_first_opening_of_a_day_with_changes_makes_a_backup(
    folder: Path, clock: "BenchClock"
) -> None:
    Stockroom.create(folder, clock=clock).close()
    for day, shelves, expected in ((2, True, 0), (2, False, 1), (3, False, 1), (4, True, 1)):
        clock.now = datetime(2026, 3, day, 9, 0, tzinfo=UTC)
        with Stockroom.open(folder, clock=clock) as stock:
            assert stock.notice == ""
            if shelves:
                stock.pieces.shelve(PLAIN)
        assert len(names(folder)) == expected, (day, names(folder))
    clock.now = datetime(2026, 3, 5, 9, 0, tzinfo=UTC)
    Stockroom.open(folder, clock=clock).close()
    assert [(name[:8], name[16:]) for name in names(folder)] == [
        ("20260302", "-daily-step-1.sqlite"),
        ("20260305", "-daily-step-2.sqlite"),
    ]


def test_a_stockroom_open_for_days_has_a_copy_of_each_day_with_a_step(
    stock: Stockroom, clock: "BenchClock"
) -> None:
    assert stock.keeping.keep_daily() is None, "nothing was done yet"
    for day in range(3, 7):
        clock.now = datetime(2026, 3, day, 9, 0, tzinfo=UTC)
        assert not stock.keeping.wants_daily
        stock.pieces.shelve(PLAIN)
        assert stock.keeping.wants_daily
        kept = stock.keeping.keep_daily()
        assert kept is not None
        assert kept.name.startswith(f"2026030{day}T0900")
        stock.pieces.shelve(PLAIN)
        assert stock.keeping.keep_daily() is None, "one a day"
    clock.now = datetime(2026, 3, 9, 9, 0, tzinfo=UTC)
    assert stock.keeping.keep_daily() is None, "no step, no copy"
    assert len(names(stock.folder)) == 4


def test_a_copy_is_kept_at_closing_only_where_something_was_changed_since_the_last(
    stock: Stockroom, clock: "BenchClock"
) -> None:
    assert stock.keeping.keep_at_closing() is None
    stock.pieces.shelve(PLAIN)
    stock.keeping.backup("asked")
    assert stock.keeping.keep_at_closing() is None, "the copy asked for has it"
    stock.keeping.set_setting("light", "window")
    kept = stock.keeping.keep_at_closing()
    assert kept is not None
    assert kept.name.endswith("-daily-step-1.sqlite")
    assert stock.keeping.keep_at_closing() is None


def test_a_daily_backup_that_fails_does_not_bar_the_door(folder: Path) -> None:
    with Stockroom.create(folder) as stock:
        stock.pieces.shelve(PLAIN)
    (folder / "backups").rmdir()
    (folder / "backups").symlink_to("/proc")
    with Stockroom.open(folder) as stock:
        assert "backup could not be made" in stock.notice
        assert len(stock.pieces.listed()) == 1


def test_nothing_is_backed_up_where_one_may_only_read(folder: Path) -> None:
    Stockroom.create(folder).close()
    with Stockroom.open(folder, read_only=True) as stock, pytest.raises(ReadOnly):
        stock.keeping.backup("asked")


def test_thinning_keeps_seven_days_four_weeks_and_twelve_months(tmp_path: Path) -> None:
    first = datetime(2024, 1, 1, 8, 0, tzinfo=UTC)
    for day in range(800):
        at = first + timedelta(days=day)
        (tmp_path / f"{at:%Y%m%dT%H%M%SZ}-daily-step-{day}.sqlite").touch()
        backup.thin(tmp_path)
    kept = sorted(path.name[:8] for path in tmp_path.iterdir())
    last = first + timedelta(days=799)
    assert kept[-7:] == [f"{last - timedelta(days=back):%Y%m%d}" for back in range(6, -1, -1)]
    months = {name[:6] for name in kept}
    assert len(months) == 12
    assert len(kept) <= 7 + 4 + 12
    weeks = {datetime.strptime(n, "%Y%m%d").replace(tzinfo=UTC).isocalendar()[:2] for n in kept}
    assert {(last - timedelta(weeks=back)).isocalendar()[:2] for back in range(4)} <= weeks


def test_thinning_leaves_what_the_user_asked_for(tmp_path: Path) -> None:
    for day in range(1, 29):
        (tmp_path / f"202402{day:02}T080000Z-before-the-big-sort-step-{day}.sqlite").touch()
        (tmp_path / f"202402{day:02}T080000Z-daily-step-{day}.sqlite").touch()
    (tmp_path / "my own copy.sqlite").touch()
    backup.thin(tmp_path)
    left = [path.name for path in tmp_path.iterdir()]
    assert sum("before" in name for name in left) == 28
    assert "my own copy.sqlite" in left
    assert 7 <= sum("daily" in name for name in left) < 12


def test_a_clock_gone_wrong_removes_no_backup_of_the_last_days(tmp_path: Path) -> None:
    days = [f"202602{day:02}" for day in range(10, 16)]
    for day in days:
        (tmp_path / f"{day}T080000Z-daily-step-1.sqlite").touch()
    (tmp_path / "20990101T080000Z-daily-step-1.sqlite").touch()
    (tmp_path / "19700101T080000Z-daily-step-1.sqlite").touch()
    backup.thin(tmp_path)
    left = {path.name[:8] for path in tmp_path.iterdir()}
    assert set(days) <= left
