"""What the Ledger screen shows first: the newest steps."""

from dataclasses import dataclass

from bindery_stock.bench.question import Question
from bindery_stock.stock import Step, Stockroom

PAGE = 200
"""So many steps are read at once; older ones when they are scrolled to."""


@dataclass(frozen=True, slots=True)
class LedgerView:
    """The newest steps as they stood when they were read, newest first."""

    steps: tuple[Step, ...]
    more: bool
    """Whether there are older ones."""
    undoable: Step | None
    """What undo would take back."""
    redoable: Step | None
    """What redo would do again."""


def snapshot(room: Stockroom) -> LedgerView:
    """Read it: three statements, however long the ledger is."""
    steps, undoable, redoable = room.ledger.newest(PAGE)
    return LedgerView(tuple(steps), len(steps) == PAGE, undoable, redoable)


LEDGER = Question(snapshot)
