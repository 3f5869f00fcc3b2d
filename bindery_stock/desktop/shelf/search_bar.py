"""Finding pieces: words and filters at once, sizes by exact fits off the GUI thread."""

from collections.abc import Sequence

from PySide6.QtCore import QObject, Signal

from bindery_stock.bench.shelf.fits import Proofs, asked_size
from bindery_stock.bench.shelf.search import Catalogue, Looking, counted
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.session import Session
from bindery_stock.stock import StockPiece

_A_TURN = 40
"""Fits tried between two looks at the shelf."""


class Search(QObject):
    """Knows what was found last and which fits are still being tried.

    Emits ``found_more()`` when tried fits may have changed what ``find`` gives.
    """

    found_more = Signal()

    def __init__(self, session: Session, catalogue: Catalogue, parent: QObject) -> None:
        """Begin with nothing found."""
        super().__init__(parent)
        self._session = session
        self._catalogue = catalogue
        self._proofs = Proofs()
        self._job: Job | None = None
        self._asked = (0.0, 0.0)
        self._given_up: tuple[float, float] | None = None
        self.words = ""

    @property
    def is_working(self) -> bool:
        """Whether fits are being tried."""
        return self._job is not None

    def find(self, pieces: Sequence[StockPiece], looking: Looking) -> list[StockPiece]:
        """What answers as far as is known; tries the fits that are not known yet."""
        found = self._catalogue.look(pieces, looking)
        untried: list[StockPiece] = []
        size = self._asked = asked_size(looking.width, looking.height)
        if looking.asks_size:
            known = [(piece, self._proofs.known(piece, *size)) for piece in found]
            untried = [piece for piece, fits in known if fits is None]
            found = [piece for piece, fits in known if fits]
        self._try(untried, size)
        self.words = counted(len(found), len(pieces))
        if untried:
            given_up = self._given_up == size
            words = f"{len(untried)} not tried" if given_up else f"trying {len(untried)} more…"
            self.words += f", {words}"
        return found

    def _try(self, untried: list[StockPiece], size: tuple[float, float]) -> None:
        self._halt()
        if not untried or self._given_up == size:
            return
        self._given_up = None
        batch = untried[:_A_TURN]
        self._job = self._session.jobs.run(
            lambda job: self._proofs.prove(batch, *size, check=job.check),
            owner=self,
            done=self._tried,
        )

    def _tried(self, _nothing: None) -> None:
        self._job = None
        self.found_more.emit()

    def stop(self) -> None:
        """Try no more fits of this size."""
        self._halt()
        self._given_up = self._asked
        self.found_more.emit()

    def forget(self) -> None:
        """Another stockroom: what was tried before does not count."""
        self._halt()
        self._proofs = Proofs()
        self._given_up = None

    def _halt(self) -> None:
        if self._job is not None:
            self._job.stop()
            self._job = None
