"""What is kept is on the disk before it is named or said to be done."""

import os
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from bindery_stock.records.files import write_whole
from bindery_stock.records.stock_archive import pack
from bindery_stock.stock import Stockroom
from bindery_stock.stock.keeping import disk
from bindery_stock.stock.keeping.layout import DATABASE

FULL = 2
"""What SQLite calls it: https://sqlite.org/pragma.html#pragma_synchronous (from memory)."""


@pytest.fixture
def named(monkeypatch: pytest.MonkeyPatch) -> dict[str, bool]:
    """Whether each file that was given its name had been brought to the disk before."""
    brought: set[int] = set()
    seen: dict[str, bool] = {}
    really = Path.replace

    def named(self: Path, target: Path) -> Path:
        seen[Path(target).name] = self.stat().st_ino in brought
        return really(self, target)

    monkeypatch.setattr(os, "fsync", lambda handle: brought.add(os.fstat(handle).st_ino))
    monkeypatch.setattr(Path, "replace", named)
    return seen


@pytest.mark.usefixtures("as_the_program_asks")
def test_a_step_is_on_the_disk_before_it_is_done(stock: Stockroom) -> None:
    with closing(disk.connect(stock.folder / DATABASE, writing=True)) as connection:
        assert connection.execute("PRAGMA synchronous").fetchone() == (FULL,)
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_an_original_is_on_the_disk_before_it_has_its_name(
    stock: Stockroom, named: dict[str, bool]
) -> None:
    photo = stock.photos.archive(b"abc", name="a.jpg", width=40, height=30)
    assert named == {f"{photo.sha256}.jpg": True}


def test_a_backup_is_on_the_disk_before_it_has_its_name(
    stock: Stockroom, named: dict[str, bool]
) -> None:
    assert named == {stock.keeping.backup("noon").name: True}


def test_what_is_saved_is_on_the_disk_before_it_has_its_name(
    stock: Stockroom, named: dict[str, bool], tmp_path: Path
) -> None:
    write_whole(tmp_path / "list.csv", b"code")
    pack(stock, tmp_path / "stock.zip", datetime(2026, 3, 9, tzinfo=UTC))
    assert named == {"list.csv": True, "stock.zip": True}
