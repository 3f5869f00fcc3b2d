"""Working out, away from the window, how thousands of new pieces are drawn and found."""

from collections.abc import Sequence

from PySide6.QtCore import QObject, QTimer, Signal

from bindery_stock.bench.shelf.search import Catalogue
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.hoard_view import HoardView
from bindery_stock.stock import StockPiece

_AT_ONCE = 300
"""So many new pieces are drawn within a frame; more are made ready in the background."""


class MakingReady(QObject):
    """Emits ``done()`` when all the pieces it was handed last can be shown at once."""

    done = Signal()

    def __init__(
        self, session: Session, catalogue: Catalogue, hoard: HoardView, parent: QObject
    ) -> None:
        """Make pieces ready for this catalogue and this view."""
        super().__init__(parent)
        self._session, self._catalogue, self._hoard = session, catalogue, hoard
        self._new: list[StockPiece] = []
        self._job: Job | None = None
        # Not before every place has heard of what happened: the two would hold each other up.
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self._run)

    def begins(self, pieces: Sequence[StockPiece]) -> bool:
        """Begin where many of these are new; ``done`` tells when to go on."""
        self._soon.stop()
        if self._job is not None:
            self._job.stop()
            self._job = None
        self._new = self._hoard.not_ready(pieces)
        if len(self._new) <= _AT_ONCE:
            return False
        self._soon.start()
        return True

    def _run(self) -> None:
        new = self._new

        def work(job: Job) -> None:
            for piece in new:
                job.check()
                self._catalogue.family(piece)
            self._hoard.make_ready(new, job.check)

        self._job = self._session.jobs.run(work, owner=self, done=self._finished)

    def _finished(self, _nothing: None) -> None:
        self._job = None
        self.done.emit()
