"""A day at the bench, run as a process of its own so that it may be killed at any instant.

``python bench_day.py count FOLDER`` does the day and says how many points there are at which it
could have died. ``python bench_day.py kill FOLDER N …`` does it once for each N in a folder of its
own and kills itself with SIGKILL at that point. A point is each statement sent to the database,
each commit (before and after), each flush of a file to the disk and each naming of a file (before
and after). What was acknowledged is appended to ``acknowledged`` beside the stock, so that the
parent can hold the stockroom to it.
"""

import os
import signal
import sys
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


def main(
    mode: str,
    folder: Path,
    points: list[int],
    day: Callable[[Path], None] = day,
    fate: type[Fate] = Fate,
) -> None:
    if mode == "count":
        counted = fate(None)
        day(folder)
        sys.stdout.write(f"{counted.passed}\n")
        return
    for point in points:
        child = os.fork()
        if child == 0:
            fate(point)
            day(folder / str(point))
            os._exit(0)
        _, status = os.waitpid(child, 0)
        ended = os.WTERMSIG(status) if os.WIFSIGNALED(status) else -os.WEXITSTATUS(status)
        sys.stdout.write(f"{point} {ended}\n")


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), [int(point) for point in sys.argv[3:]])
