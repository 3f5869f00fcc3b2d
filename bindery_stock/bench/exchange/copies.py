"""Copies of a stockroom: made, and gone back to."""

from datetime import datetime
from pathlib import Path

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.stock import Stockroom
from bindery_stock.stock.keeping.restore import Restored, restore


def back_up(room: Stockroom, *, reason: str) -> Path:
    """Make a checked copy of the database and return its path; nothing in the stock changes.

    Raises ``DamagedStockroom`` or ``DiskTrouble``; the copies that were there are kept.
    """
    return room.keeping.backup(reason)


@deed(Bearing.KEEPS)
def go_back(folder: Path, *, copy: Path, at: datetime) -> Restored:
    """Put a copy in the place of the stockroom in ``folder``, which must be closed.

    No step: the ledger goes back with the rest. What was there is kept among the copies. Raises
    ``NotFound`` where there is no such copy, ``StockroomInUse``, and ``DamagedStockroom`` where
    the copy is not whole; nothing was changed then.
    """
    return restore(folder, copy, at)
