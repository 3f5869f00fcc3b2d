"""What comes in and goes out, run as a process of its own so that it may be killed at any instant.

``python -m tests.faults.exchange_day DAY PREPARED FOLDER EVERY`` does the day as ``bench_day`` does
its own, each time in a copy of what was prepared. Beside the points of ``bench_day`` these
are each statement of a plain SQLite connection, and each file copied (before, half way and after),
renamed or removed.
"""

import os
import shutil
import sqlite3
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

from bindery_stock.records.archive_in import unpack
from bindery_stock.records.stock_archive import pack
from bindery_stock.stock import Colour, NewAdhesiveLot, NewPiece, Stockroom
from bindery_stock.stock.exchange.comparison import MergeChoice
from bindery_stock.stock.keeping.restore import backups, restore
from bindery_stock.trade.vocabulary import Kind
from tests.faults.bench_day import Fate, box, main
from tests.records.busy import BenchClock, busy_stockroom

AT = datetime(2026, 3, 9, 9, 0, tzinfo=UTC)
RED = Colour(lab=(38.0, 44.0, 21.0))
PIECES = [
    (NewPiece(kind=Kind.CLOTH, outline=box(0, 0, 20 + n, 100), colours=(RED,)), "")
    for n in range(5)
]
LOTS = [(NewAdhesiveLot(kind="pva", name=f"Tin {n}"), "") for n in range(3)]


class MoreFates(Fate):
    """Counts what happens outside SQLAlchemy too."""

    def __init__(self, chosen: int | None) -> None:
        super().__init__(chosen)
        fate = self

        class Watched(sqlite3.Connection):
            def execute(self, *args: Any) -> sqlite3.Cursor:
                fate._point()
                return super().execute(*args)

            def backup(self, *args: Any, **named: Any) -> None:
                fate._point()
                super().backup(*args, **named)
                fate._point()

        really = sqlite3.connect
        sqlite3.connect = lambda *args, **named: really(*args, **named, factory=Watched)
        for name in ("unlink", "rename", "rmdir"):
            setattr(os, name, self._around(getattr(os, name)))
        self._copyfile = shutil.copyfile
        shutil.copyfile = self._copied_by_halves

    def _copied_by_halves(self, source: Path, target: Path, **named: bool) -> Path:
        content = Path(source).read_bytes()
        Path(target).write_bytes(content[: len(content) // 2])
        self._point()
        return self._around(self._copyfile)(source, target, **named)


def prepare(root: Path) -> None:
    """A stockroom with a copy of its noon and a journal not folded in; another, and its archive."""
    with busy_stockroom(root / "theirs", root / "scratch") as theirs:
        pack(theirs, root / "theirs.zip", AT)
    shutil.copytree(root / "theirs", root / "twin")
    with Stockroom.open(root / "twin") as twin:
        twin.pieces.correct("L-0001", place="drawer 9", note="rubbed", colours=(RED, RED))
    clock = BenchClock()
    clock.now = clock.now.replace(year=2027)
    with Stockroom.create(root / "made", clock=clock) as stock:
        stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=box(0, 0, 100, 300)))
        stock.keeping.backup("noon")
        stock.pieces.shelve(NewPiece(kind=Kind.CLOTH, outline=box(0, 0, 90, 300)))
        stock.pieces.move(["C-0002"], "tin A")
        shutil.copytree(root / "made", root / "stock")
    (root / "theirs 2026.zip").write_bytes(b"the archive of yesterday")


def restoring(root: Path, said: Callable[[str], None]) -> None:
    noon = next(one for one in backups(root / "stock") if one.reason == "noon")
    done = restore(root / "stock", noon.path, AT)
    said("went back")
    restore(root / "stock", done.kept, AT.replace(hour=10))
    said("went back on it")


def mending(root: Path, said: Callable[[str], None]) -> None:
    """Going back to a copy where what is there now cannot be read."""
    noon = next(one for one in backups(root / "stock") if one.reason == "noon")
    restore(root / "stock", noon.path, AT)
    said("went back")


def taking_in(root: Path, said: Callable[[str], None]) -> None:
    with Stockroom.open(root / "stock") as stock:
        said(stock.exchange.bring_in(PIECES, name="Took in 5 pieces").step.name)
        said(stock.exchange.bring_in_lots(LOTS, name="Took in 3 lots").step.name)
        said(stock.ledger.undo().step.name)
        said(stock.ledger.redo().step.name)


def merging(root: Path, said: Callable[[str], None]) -> None:
    with (
        Stockroom.open(root / "stock") as stock,
        Stockroom.open(root / "theirs", read_only=True) as theirs,
    ):
        said(stock.exchange.merge(theirs.exchange, {}).step.name)
        said(stock.ledger.undo().step.name)


def replacing(root: Path, said: Callable[[str], None]) -> None:
    """What differs is taken in the place of ours."""
    with (
        Stockroom.open(root / "theirs") as stock,
        Stockroom.open(root / "twin", read_only=True) as twin,
    ):
        said(stock.exchange.merge(twin.exchange, {("piece", "L-0001"): MergeChoice.TAKE}).step.name)
        said(stock.ledger.undo().step.name)


def unpacking(root: Path, said: Callable[[str], None]) -> None:
    (root / "new").mkdir()
    unpack(root / "theirs.zip", root / "new")
    said("laid out")


def packing(root: Path, said: Callable[[str], None]) -> None:
    with Stockroom.open(root / "theirs", read_only=True) as theirs:
        pack(theirs, root / "theirs 2026.zip", AT)
    said("packed")


DAYS = {
    one.__name__: one
    for one in (restoring, mending, taking_in, merging, replacing, unpacking, packing)
}


def lived(day: str, root: Path) -> None:
    """A day in a prepared folder; what was done is appended to ``acknowledged``."""
    log = os.open(root / "acknowledged", os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o644)

    def said(words: str) -> None:
        os.write(log, f"{words}\n".encode())

    DAYS[day](root, said)


if __name__ == "__main__":
    main(
        Path(sys.argv[3]),
        int(sys.argv[4]),
        partial(lived, sys.argv[1]),
        MoreFates,
        partial(shutil.copytree, Path(sys.argv[2])),
    )
