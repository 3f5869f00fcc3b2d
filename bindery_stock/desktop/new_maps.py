"""The colour map of what comes on the shelf, made behind what the binder does next."""

from collections.abc import Sequence

from PySide6.QtCore import QObject

from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.session import Session
from bindery_stock.stock import Changes, StockPiece


class NewMaps(QObject):
    """Makes the maps of the pieces that a step has shelved, cut off or measured anew."""

    def __init__(self, session: Session, parent: QObject) -> None:
        """Listen to the session."""
        super().__init__(parent)
        self._session = session
        session.changed.connect(self._changed)

    def _changed(self, changes: Changes) -> None:
        touched = changes.touched.get("piece", frozenset())
        if self._session.stockroom.read_only or not touched:
            return
        self._make([piece for piece in self._session.pieces if piece.id in touched])

    def _make(self, pieces: Sequence[StockPiece]) -> None:
        maps = self._session.maps

        def work(job: Job) -> None:
            for piece in pieces:
                job.check()
                if not maps.is_known(piece):
                    maps.of(piece)

        self._session.jobs.run(work, owner=self, done=lambda _nothing: None)
