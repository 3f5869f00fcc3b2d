"""Every deed done by a process that is killed in its middle, and by one killed before it is kept.

``python -m tests.bench.killed_deed FOLDER`` lays out the small stock and copies it twice for each
deed, into ``FOLDER/DEED/middle`` and ``FOLDER/DEED/end``. A process of its own opens the copy, does
the deed there and ends itself with SIGKILL: in the middle when half of the statements that write
have been sent, at the end when all have, just before its step is committed. It prints how each
process ended: the deed, the point, how many statements it had written, the signal. One of the two
points is tried for each deed, chosen by its name, and both with BINDERY_KILL_EVERY=1.
"""

import gc
import os
import signal
import sys
import traceback
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from shutil import copytree
from typing import Any
from zlib import crc32

from sqlalchemy import Engine, event

from bindery_stock.bench.deed import DEEDS
from bindery_stock.stock import Stockroom
from tests.bench.deed_rows import ROWS, do
from tests.bench.small_stock import BenchClock, SmallStock, small_stock

BEFORE = "before"
"""The copy in which nothing is done."""


class Fate:
    """Counts what a step writes, and kills the process at the chosen writing or before the end."""

    def __init__(self, chosen: int | None, told: int) -> None:
        self.chosen = chosen
        self._told = told
        self._written = 0
        self._entered = False
        event.listen(Engine, "after_cursor_execute", self._after)
        event.listen(Engine, "commit", self._before_commit)

    def _after(self, _connection: Any, _cursor: Any, text: str, *_more: Any) -> None:
        if not text.startswith(("INSERT", "UPDATE", "DELETE")):
            return
        self._written += 1
        self._entered = self._entered or text.startswith("INSERT INTO step ")
        if self._written == self.chosen:
            self._kill()

    def _before_commit(self, _connection: Any) -> None:
        if self._entered:
            self._kill()
        self._written = 0  # photographs are archived before the step, and are none

    def _kill(self) -> None:
        os.write(self._told, str(self._written).encode())
        os.kill(os.getpid(), signal.SIGKILL)


def ended(name: str, stock: SmallStock, folder: Path, chosen: int | None) -> tuple[int, int]:
    """Do a deed on the stock in the folder: how much had been written, and the signal it died of.

    No signal, 0, means that the process came through, or that the deed failed.
    """
    heard, told = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            clock = BenchClock()
            clock.now += timedelta(hours=1)
            room = Stockroom.open(folder, clock=clock)
            Fate(chosen, told)
            do(name, replace(stock, room=room, scratch=folder.parent))
        finally:  # whatever happened, this process goes no further
            traceback.print_exc()
            os._exit(0)
    os.close(told)
    _, status = os.waitpid(child, 0)
    with os.fdopen(heard, "rb") as pipe:
        written = int(pipe.read() or b"0")
    return written, os.WTERMSIG(status)


def main(root: Path, *, both: bool) -> None:
    """Kill every deed that has a row."""
    with small_stock(root) as stock:
        pass
    Stockroom.open(root / "stock", clock=BenchClock()).close()  # the copy of the day is made
    copytree(root / "stock", root / BEFORE)
    gc.freeze()  # what is there already need not be looked through, and so copied, by each process
    for name in sorted(ROWS.keys() & DEEDS.keys()):
        end, middle = (root / name / point / "stock" for point in ("end", "middle"))
        chosen = (end, middle) if both else ((end, middle)[crc32(name.encode()) % 2],)
        written, by = ended(name, stock, copytree(root / "stock", end), None)
        if end in chosen:
            sys.stdout.write(f"{name} end {written} {by}\n")
        if middle in chosen:
            half = max(1, written // 2)
            written, by = ended(name, stock, copytree(root / "stock", middle), half)
            sys.stdout.write(f"{name} middle {written} {by}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]), both=os.environ.get("BINDERY_KILL_EVERY") == "1")
