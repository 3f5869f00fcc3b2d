"""A database whose last writing was cut short by a kill: brought back to its last whole state.

While a database is switched to its write-ahead journal, as at the first opening of a copy that was
put back, SQLite keeps the pages it is about to change in a ``-journal`` file beside it. Where that
was cut short, the next one who may write has to roll the pages back before anyone can read.
"""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from bindery_stock.errors import DiskTrouble, StockroomInUse
from bindery_stock.stock.keeping.disk import APPLICATION_ID, told
from bindery_stock.stock.keeping.owner import WriterLock


def journal_of(database: Path) -> Path | None:
    """The journal a kill may have left beside a database, or None where there is none."""
    journal = database.with_name(f"{database.name}-journal")
    return journal if journal.is_file() and journal.stat().st_size else None


def roll_back(database: Path) -> None:
    """Bring a stockroom's database back to its last whole state, if its journal was left behind.

    Nothing is done while another window writes: the journal is its own then. Raises ``DiskTrouble``
    where the folder cannot be written.
    """
    if journal_of(database) is None or not database.is_file() or not database.stat().st_size:
        return
    if not os.access(database.parent, os.W_OK) or not os.access(database, os.W_OK):
        raise DiskTrouble(
            f"The last changes to {database.parent} were cut short, and the folder cannot be "
            "written. Copy the whole folder to another disk and open the copy."
        )
    with told(database.parent):
        try:
            lock = WriterLock(database)
        except StockroomInUse:
            return
        with lock:
            if _is_ours(database):
                finish(database)


def finish(database: Path) -> None:
    """Have SQLite roll the journal back, by reading once as one who may write."""
    with closing(sqlite3.connect(f"{database.resolve().as_uri()}?mode=rw", uri=True)) as raw:
        raw.execute("SELECT count(*) FROM sqlite_master").fetchone()


def _is_ours(database: Path) -> bool:
    """Whether the file bears our mark; another program's is left as it lies."""
    uri = f"{database.resolve().as_uri()}?mode=ro&immutable=1"  # as it lies, journal or not
    with closing(sqlite3.connect(uri, uri=True)) as raw:
        (mark,) = raw.execute("PRAGMA application_id").fetchone()
    return bool(mark == APPLICATION_ID)
