"""What can be had from each piece, measured away from the window before it is told on paper."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QObject

from bindery_stock.bench.shelf.usable_rectangles import SQUARE
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.session import Session
from bindery_stock.stock import StockPiece


def measure_first(
    session: Session, owner: QObject, pieces: Sequence[StockPiece], done: Callable[[], None]
) -> None:
    """Measure those of the pieces that were not yet, and say when it is done; else do nothing."""
    usable, stockroom = session.usable, session.stockroom
    unknown = [p for p in pieces if not (usable.is_known(p) and usable.is_known(p, SQUARE))]

    def work(job: Job) -> None:
        try:
            for piece in unknown:
                job.check()
                usable.measure_both(piece)
        finally:
            if not stockroom.read_only:
                usable.keep(Path(stockroom.folder))

    if unknown:
        session.jobs.run(work, owner=owner, done=lambda _nothing: done())
