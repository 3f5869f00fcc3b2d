"""A day at the bench, run in processes of their own so that they may be killed at any instant.

``python bench_day.py FOLDER EVERY`` does the day once in ``FOLDER/rehearsal``, so that no process
after it loads anew what all of them need; once in ``FOLDER/whole``, and says how many points there
are at which it could have died; and once for each of the chosen points, in a folder named by it,
where its process kills itself with SIGKILL. A point is each statement sent to the database,
each commit (before and after), each flush of a file to the disk and each naming of a file (before
and after). What was acknowledged is appended to ``acknowledged`` beside the stock, so that the
parent can hold the stockroom to it.
"""

import gc
import os
import signal
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, event

from bindery_stock.shape import Outline
from bindery_stock.stock import Changes, Cutting, NewPiece, PhotoMark, Stockroom
from bindery_stock.stock.keeping import disk
from bindery_stock.trade.vocabulary import Kind

_IDENTITY = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)


def box(left: float, low: float, right: float, high: float) -> Outline:
    return Outline(((left, low), (right, low), (right, high), (left, high)))


class Fate:
    """Counts the points passed, and kills the process at the one that was chosen."""

    def __init__(self, chosen: int | None) -> None:
        self.chosen = chosen
        self.passed = 0
        event.listen(Engine, "before_cursor_execute", self._point)
        event.listen(Engine, "commit", self._point)
        # What the disk has not yet written outlasts a kill, so nobody waits for it here.
        os.fsync = self._around(lambda _handle: None)
        disk._PRAGMAS = tuple(text.replace("= FULL", "= OFF") for text in disk._PRAGMAS)
        os.replace = self._around(os.replace)

    def _point(self, *_: object) -> None:
        self.passed += 1
        if self.passed == self.chosen:
            os.kill(os.getpid(), signal.SIGKILL)

    def _around(self, call: Callable[..., Any]) -> Callable[..., Any]:
        def wrapped(*args: object, **named: object) -> object:
            self._point()
            answer = call(*args, **named)
            self._point()
            return answer

        return wrapped


def day(root: Path) -> None:
    """Shelve, cut, correct, undo, redo, back up, go home and come again."""
    root.mkdir(exist_ok=True)
    log = os.open(root / "acknowledged", os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o644)

    def said(changes: Changes) -> None:
        os.write(log, f"{changes.step.number} {changes.step.name}\n".encode())

    with Stockroom.create(root / "stock") as stock:
        photo = stock.photos.archive(b"a scrap", name="scrap.jpg", width=40, height=30)
        os.write(log, f"photo {photo.sha256}\n".encode())
        mark = PhotoMark(photo, _IDENTITY)
        said(
            stock.pieces.shelve(
                NewPiece(kind=Kind.CLOTH, outline=box(0, 0, 100, 300), marks=(mark,))
            )
        )
        said(
            stock.pieces.cut(
                Cutting(
                    code="C-0001",
                    purpose="spine",
                    width=60.0,
                    height=300.0,
                    corners=box(0, 0, 60, 300).exterior,
                    offcuts=(box(60, 0, 100, 300),),
                )
            )
        )
        said(stock.ledger.undo())
        said(stock.ledger.redo())
        stock.keeping.backup("noon")
    with Stockroom.open(root / "stock") as stock:
        said(stock.pieces.move(["C-0002"], "tin A"))
        stock.photos.archive(b"another scrap", name="other.jpg", width=40, height=30)
        said(stock.pieces.discard("C-0002", "moth"))


def _as_it_is(_root: Path) -> None:
    """Nothing needs to lie there before the day."""


def main(
    folder: Path,
    every: int,
    day: Callable[[Path], None] = day,
    fate: type[Fate] = Fate,
    lay: Callable[[Path], None] = _as_it_is,
) -> None:
    """Kill the day at each how-manieth point; ``lay`` lays out what it begins with."""
    lay(folder / "rehearsal")
    day(folder / "rehearsal")
    gc.freeze()  # what is there already need not be looked through, and so copied, by each process

    def lived(root: Path, chosen: int | None) -> tuple[int, int]:
        """The points that one process passed, and the signal it died of."""
        lay(root)
        heard, told = os.pipe()
        child = os.fork()
        if child == 0:
            try:
                counted = fate(chosen)
                day(root)
                os.write(told, str(counted.passed).encode())
                os._exit(0)
            finally:  # whatever happened, this process goes no further
                traceback.print_exc()
                os._exit(1)
        os.close(told)
        _, status = os.waitpid(child, 0)
        with os.fdopen(heard, "rb") as pipe:
            passed = int(pipe.read() or b"0")
        return passed, os.WTERMSIG(status) if os.WIFSIGNALED(status) else -os.WEXITSTATUS(status)

    points, ended = lived(folder / "whole", None)
    sys.stdout.write(f"{points} {ended}\n")
    for point in range(1, points + 1, every):
        sys.stdout.write(f"{point} {lived(folder / str(point), point)[1]}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
