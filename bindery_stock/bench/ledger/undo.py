"""Steps taken back, and done again."""

from collections.abc import Callable

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.errors import UndoRefused
from bindery_stock.stock import Changes, Stockroom, Verb

Tell = Callable[[float, str], None]
Check = Callable[[], None]


def _silent(_share: float, _words: str) -> None:
    """Nobody listens."""


def _on() -> None:
    """Nobody stops it."""


@deed(Bearing.KEEPS)
def undo(
    room: Stockroom, *, number: int | None = None, tell: Tell = _silent, check: Check = _on
) -> Changes:
    """Take back the step of this number, or the latest that stands.

    ``tell`` hears how far a long one is, and ``check`` may raise to stop: nothing is changed then.
    Raises ``UndoRefused`` where there is none, or later steps rest on it.
    """
    with room.step(Verb.UNDONE) as step:
        room.ledger.undo(number, tell=tell, check=check)
    return step.changes


@deed(Bearing.KEEPS)
def redo(
    room: Stockroom, *, number: int | None = None, tell: Tell = _silent, check: Check = _on
) -> Changes:
    """Do again the step that was taken back last: the one of this number, where one is given.

    ``tell`` and ``check`` as for ``undo``. Raises ``UndoRefused`` where there is none, or another
    would be done again.
    """
    with room.step(Verb.REDONE) as step:
        following = room.ledger.redoable()
        if number is not None and (following is None or following.number != number):
            raise UndoRefused("That step is no longer the one that would be done again.")
        room.ledger.redo(tell=tell, check=check)
    return step.changes
