"""Looking for the target in one photograph after the other, off the GUI thread."""

from pathlib import Path

from PySide6.QtCore import QObject, Signal

from bindery_stock.bench.colour_room.found_reference import FoundReference, look_for
from bindery_stock.colour import Reference
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError
from bindery_stock.shape import Ring


class ReferenceSearch(QObject):
    """Looks in one photograph at a time; another one, or ``stop``, ends the search before.

    Emits ``found(FoundReference | None)`` when a search has come to its end. Where the target was
    marked or found last is looked at first: in a sitting it seldom moves.
    """

    found = Signal(object)

    def __init__(self, session: Session, *, card: bool, parent: QObject) -> None:
        """With ``card`` a grey card is looked for, too, where there is no target."""
        super().__init__(parent)
        self._session = session
        self._card = card
        self._job: Job | None = None
        self._last: Ring = ()

    @property
    def is_under_way(self) -> bool:
        """Whether a photograph is being looked through."""
        return self._job is not None

    def lay_at(self, corners: Ring) -> None:
        """A target lies at these corners: look there first in the next photograph."""
        self._last = corners

    def look(self, photo: Path, reference: Reference) -> None:
        """Look in this photograph."""
        self.stop()
        tried, card = ((self._last,) if len(self._last) == 4 else ()), self._card

        def done(found: FoundReference | None) -> None:
            self._job = None
            if found is not None and found.stands:
                self._last = found.corners
            self.found.emit(found)

        def failed(error: Exception) -> None:
            self._job = None
            # That it cannot be read was told when it was to be shown.
            if not isinstance(error, BinderyError):
                self._session.tell(error)
            self.found.emit(None)

        self._job = self._session.jobs.run(
            lambda job: look_for(photo, reference, tried=tried, card=card, check=job.check),
            owner=self,
            done=done,
            failed=failed,
        )

    def stop(self) -> None:
        """Look no further: the photograph goes."""
        if self._job is not None:
            self._job.stop()
            self._job = None
