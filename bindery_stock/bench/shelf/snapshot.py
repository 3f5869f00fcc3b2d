"""What is known of one piece beside itself, and the words in use: read at once for the screen.

The pieces themselves are the session's: they are kept from step to step, and a step reads again
only those it touched.
"""

from dataclasses import dataclass, field

from bindery_stock.bench.colour_room.side_by_side import in_line
from bindery_stock.bench.question import Question
from bindery_stock.stock import Family, KeptConfirmation, Step, Stockroom, WordsInUse

STEPS = 30
"""So many of the latest steps stand on the sheet of a piece."""


@dataclass(frozen=True, slots=True)
class SheetView:
    """What the sheet of a piece tells beside the piece itself."""

    family: Family = field(default_factory=Family)
    held: tuple[KeptConfirmation, ...] = ()
    """What was confirmed of it and of those it was cut from."""
    steps: tuple[Step, ...] = ()
    """The latest steps about it, newest first."""


def sheet(room: Stockroom, code: str) -> SheetView:
    """Read it: seven statements. Raises ``NotFound``."""
    family = room.pieces.family(code)
    line = [*(piece.code for piece in family.ancestors), code]
    held = in_line(code, family.ancestors, room.pieces.confirmations(*line))
    return SheetView(family, tuple(held), tuple(room.ledger.steps(code=code, limit=STEPS)))


def words(room: Stockroom) -> WordsInUse:
    """The words in use: one statement."""
    found: WordsInUse = room.pieces.words()
    return found


WORDS = Question(words, tables=frozenset({"piece", "adhesive_lot"}))
