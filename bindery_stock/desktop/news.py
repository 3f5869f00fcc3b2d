"""The news every screen listens to: what was opened, what has changed, what is to be told."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from bindery_stock.desktop.jobs import Job


class Turn(QObject):
    """A long step being taken back, or done again. Emits how far it is, and its end."""

    progressed = Signal(float, str)
    ended = Signal()

    def __init__(self, parent: QObject, tell: Callable[[Exception], None]) -> None:
        """Live as long as ``parent``; a refusal goes to ``tell``."""
        super().__init__(parent)
        self._tell = tell
        self.job: Job | None = None

    def failed(self, error: Exception) -> None:
        """It was refused."""
        self.ended.emit()
        self._tell(error)


class News(QObject):
    """What is told of the open stockroom.

    Emits ``opening()`` when another stockroom is being read, ``opened()`` when it is in use,
    ``unread(str)`` when one could not be opened and none is in use, with the reason,
    ``changed(Changes)`` after every step, ``stepped(Step)`` with the step itself to be told,
    ``said(str)`` for what just happened and is no step, ``trouble(str)`` for a sentence about what
    went wrong,
    ``noticed(str)`` for what the user should know though nothing went wrong, ``fault(Exception)``
    for a mistake of the program, ``piece_wanted(str)``, ``lot_wanted(str)`` and
    ``volume_wanted(str)`` when a piece, a lot of adhesive or a volume is to be shown,
    ``photos_offered(list)`` when photographs come in,
    ``anew_offered(str, Path)`` with a new photograph of a piece,
    ``match_wanted(str)`` when a match is sought for the colour of a piece,
    ``part_wanted(BookPart)`` when cloth is sought for a part of a volume,
    ``turn_began(Turn)`` when a long step is being taken back or done again.
    """

    opening = Signal()
    opened = Signal()
    unread = Signal(str)
    changed = Signal(object)
    stepped = Signal(object)
    said = Signal(str)
    trouble = Signal(str)
    fault = Signal(object)
    noticed = Signal(str)
    piece_wanted = Signal(str)
    lot_wanted = Signal(str)
    volume_wanted = Signal(str)
    photos_offered = Signal(list)
    match_wanted = Signal(str)
    part_wanted = Signal(object)
    anew_offered = Signal(str, object)
    turn_began = Signal(object)
