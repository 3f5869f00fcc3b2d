"""Connections to ``stock.sqlite``: how it is opened, and what its refusals mean.

Every connection takes BEGIN away from the driver (otherwise table changes survive a rollback on
Python 3.11, and savepoints do not work) and sets the same pragmas. Writers begin IMMEDIATE, since
a transaction that reads first and writes later can fail at once with no timeout helping.
"""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from functools import cache
from pathlib import Path

from sqlalchemy import Connection, Dialect, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import QueuePool
from sqlalchemy.util import LRUCache

from bindery_stock.errors import (
    DamagedStockroom,
    DiskTrouble,
    NotAStockroom,
    StockError,
    StockroomInUse,
)

APPLICATION_ID = 0x42536B72
"""``BSkr`` in the file's header: the mark of a stockroom."""

_WAIT_SECONDS = 2.0
_PRAGMAS = (
    "PRAGMA foreign_keys = ON",
    "PRAGMA trusted_schema = OFF",
    "PRAGMA cell_size_check = ON",
    "PRAGMA synchronous = FULL",
)
_WRITTEN_OUT = 1000
_statements: LRUCache[object, object] = LRUCache(_WRITTEN_OUT)


class SpoiltText(DamagedStockroom):
    """A stored text is no UTF-8; SQLite does not look, and its driver says not whose it is."""


def connect(path: Path, *, writing: bool = False) -> sqlite3.Connection:
    """One connection to the file at ``path``, which must exist.

    For writing the journal is switched to WAL and the answer verified. For reading the file is
    opened so that not a byte of it can change; on a disk that cannot be written at all it is
    opened as immutable, unless changes still lie in a ``-wal`` file beside it (``DiskTrouble``).
    Connections may be passed between threads, one thread at a time.
    """
    if writing:
        mode = "rw"
    elif _fixed(path):
        mode = "ro&immutable=1"
    else:
        mode = "ro"
    connection = sqlite3.connect(
        f"{path.resolve().as_uri()}?mode={mode}",
        uri=True,
        isolation_level=None,
        check_same_thread=False,
        timeout=_WAIT_SECONDS,
    )
    try:
        for pragma in _PRAGMAS:
            connection.execute(pragma)
        if writing:
            _keep_journal(connection, path)
        else:
            connection.execute("PRAGMA query_only = ON")
    except BaseException:
        connection.close()
        raise
    return connection


def _keep_journal(connection: sqlite3.Connection, path: Path) -> None:
    (journal,) = connection.execute("PRAGMA journal_mode = WAL").fetchone()
    if journal != "wal":
        raise DiskTrouble(
            f"{path.parent} lies on a disk that cannot keep a safe journal; a network folder "
            "often cannot. Move the stockroom to a disk of this computer."
        )


def _fixed(path: Path) -> bool:
    """Whether nothing can be written beside ``path``, so that no one else writes there either."""
    if os.access(path.parent, os.W_OK):
        return False
    wal = path.with_name(path.name + "-wal")
    if wal.exists() and wal.stat().st_size:
        if path.with_name(path.name + "-shm").exists():
            return False
        raise DiskTrouble(
            f"The last changes to {path.parent} have not been folded in, and the folder cannot be "
            "written. Copy the whole folder to another disk and open the copy."
        )
    return not wal.exists()


def engine(path: Path, *, writing: bool = False) -> Engine:
    """A pool of connections for SQLAlchemy, with BEGIN in our own hands.

    A statement is written out as SQL once for the program, whichever file it is asked of: that
    takes longer than to answer it.
    """
    made = create_engine(
        "sqlite://",
        creator=lambda: connect(path, writing=writing),
        poolclass=QueuePool,
        hide_parameters=True,  # a report of a fault holds nothing of the user's
        execution_options={"compiled_cache": _statements},
    )
    made.dialect = _dialect()  # what is written out is kept with it
    begin = "BEGIN IMMEDIATE" if writing else "BEGIN"

    @event.listens_for(made, "begin")
    def _begin(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return made


@cache
def _dialect() -> Dialect:
    """What SQLAlchemy knows of this SQLite, once it has been connected."""
    unasked = create_engine("sqlite://")
    unasked.connect().close()
    unasked.dispose()
    return unasked.dialect


@contextmanager
def told(folder: Path) -> Iterator[None]:
    """Turn what the disk and the database refuse into our own errors, with a sentence.

    What is a fault of the program (a broken constraint, wrong SQL) passes unchanged.
    """
    try:
        yield
    except DBAPIError as fault:
        ours = refusal(fault.orig, folder)
        if ours is None:
            raise
        raise ours from fault
    except sqlite3.Error as fault:
        ours = refusal(fault, folder)
        if ours is None:
            raise
        raise ours from fault
    except OSError as fault:
        raise DiskTrouble(
            f"{fault.filename or folder} cannot be used: {fault.strerror or fault}. "
            "See that the disk is there, has room and may be written, and try again."
        ) from fault


def refusal(fault: BaseException | None, folder: Path) -> StockError | None:
    """Our error for a refusal of SQLite, or None where it is no refusal of the disk."""
    code = getattr(fault, "sqlite_errorcode", 0) & 0xFF
    if code in (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR):
        return DiskTrouble(
            f"The disk that holds {folder} is full or cannot be written. Nothing was changed. "
            "Make room, then do the step again."
        )
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM):
        return DiskTrouble(
            f"{folder} cannot be written. Nothing was changed. See that the folder is there and "
            "that you may write in it, or open it for reading only."
        )
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return StockroomInUse(
            f"Another program is holding {folder}. Nothing was changed. Close it and try again."
        )
    if isinstance(fault, sqlite3.OperationalError) and not hasattr(fault, "sqlite_errorcode"):
        # Not SQLite's own: the driver could not decode a text, the one thing it refuses by itself.
        return SpoiltText(
            f"A text in the stockroom in {folder} cannot be read, so the stockroom is damaged. "
            "Nothing was changed. Go back to a copy from its backups, or have what can be read "
            "saved (salvage)."
        )
    return _unreadable(code, folder)


def _unreadable(code: int, folder: Path) -> StockError | None:
    if code == sqlite3.SQLITE_CORRUPT:
        return DamagedStockroom(
            f"The stockroom in {folder} is damaged. It has not been touched. Take the newest file "
            "from its backups folder, or copy the folder before trying anything else."
        )
    if code == sqlite3.SQLITE_NOTADB:
        return NotAStockroom(f"The file in {folder} is not a stockroom. It has not been touched.")
    return None


def schema_of(path: Path) -> int:
    """The schema number of the stockroom at ``path``, found without changing a byte.

    Raises ``NotAStockroom`` for a missing or empty file, another kind of file, and the database of
    another program.
    """
    if not path.is_file():
        raise NotAStockroom(
            f"There is no stockroom in {path.parent}. Choose the folder that holds {path.name}."
        )
    if path.stat().st_size == 0:
        raise NotAStockroom(
            f"{path} is empty, so it is not a stockroom; a copy may have failed. "
            "It has not been touched. Take the newest file from the backups folder."
        )
    # Asked through SQLite and never by reading the file: closing a second handle to it would drop
    # the locks that another window of this process holds.
    with told(path.parent), closing(connect(path)) as connection:
        (mark,) = connection.execute("PRAGMA application_id").fetchone()
        (schema,) = connection.execute("PRAGMA user_version").fetchone()
    if mark != APPLICATION_ID:
        raise NotAStockroom(f"{path} belongs to another program. It has not been touched.")
    return int(schema)
