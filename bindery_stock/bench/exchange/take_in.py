"""What comes in from elsewhere: a table that was tried, and another stockroom.

It is there already, so the gate refuses none of it; and since nothing of it is planned or used by
coming in, there is nothing to rule on.
"""

from collections.abc import Callable, Mapping

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.exchange.import_table import Subject, Trial
from bindery_stock.records.counted import counted
from bindery_stock.stock import Changes, Stockroom, Verb
from bindery_stock.stock.exchange.comparison import MergeChoice

Tell = Callable[[float, str], None]
Check = Callable[[], None]


def _silent(_share: float, _words: str) -> None:
    """Nobody listens."""


def _on() -> None:
    """Nobody stops it."""


@deed(Bearing.RECORDS)
def take_in_table(
    room: Stockroom, *, trial: Trial, source: str, tell: Tell = _silent, check: Check = _on
) -> Changes:
    """Shelve what was found in the file ``source``.

    ``tell`` hears how far it is; ``check`` may raise to stop, and nothing is kept then. Raises
    ``EntryError`` for a code that was taken since the table was tried.
    """
    pieces = trial.subject is Subject.PIECES
    name = f"Took in {counted(trial.count, trial.subject.word)} from {source}"
    with room.step(Verb.SHELVED if pieces else Verb.OPENED, name) as step:
        if pieces:
            room.exchange.bring_in(trial.pieces, name=name, tell=tell, check=check)
        else:
            room.exchange.bring_in_lots(trial.lots, name=name, tell=tell, check=check)
    return step.changes


@deed(Bearing.RECORDS)
def merge(
    room: Stockroom,
    *,
    other: Stockroom,
    choices: Mapping[tuple[str, str], MergeChoice],
    tell: Tell = _silent,
    check: Check = _on,
) -> Changes:
    """Take in what is new in the other stockroom, with its photographs.

    ``choices`` says by table and code what becomes of what differs; the rest stays as it is here.
    ``tell`` and ``check`` as for a table. Where everything is here already nothing is changed.
    Raises ``DiskTrouble`` for a photograph whose original is gone there, and ``StockError`` where
    theirs was chosen instead of what must stay.
    """
    room.exchange.fetch_photos(other.exchange, tell=tell, check=check)
    with room.step(Verb.SHELVED) as step:
        room.exchange.merge(other.exchange, choices, tell=tell, check=check)
    return step.changes
