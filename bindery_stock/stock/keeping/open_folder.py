"""Making and opening a stock folder: what is refused, and what is put in order first."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from sqlalchemy import func, select

from bindery_stock.errors import (
    DamagedStockroom,
    DiskTrouble,
    NewerStockroom,
    NotAStockroom,
    ReadOnly,
    StockError,
)
from bindery_stock.stock.keeping import backup, photo_archive
from bindery_stock.stock.keeping.disk import engine, schema_of, told
from bindery_stock.stock.keeping.half_written import roll_back
from bindery_stock.stock.keeping.layout import BACKUPS, DATABASE, PHOTOS, PREVIEWS
from bindery_stock.stock.keeping.migrate import SCHEMA, upgrade
from bindery_stock.stock.keeping.owner import WriterLock
from bindery_stock.stock.keeping.soundness import pages_look_whole
from bindery_stock.stock.ledger.tables import StepRow


def make(folder: Path) -> WriterLock:
    """Lay out a new stock folder and hold it for writing.

    The database is made beside and named when it is whole. Raises ``StockError`` where the folder
    holds a stockroom already.
    """
    with told(folder):
        folder.mkdir(parents=True, exist_ok=True)
        database = folder / DATABASE
        with _kept(WriterLock(database)) as lock:
            if database.exists():
                raise StockError(f"{folder} holds a stockroom already. Open it instead.")
            for name in (PHOTOS, PREVIEWS, BACKUPS):
                (folder / name).mkdir(exist_ok=True)
            unfinished = folder / f".{DATABASE}.new"
            for leftover in folder.glob(f"{unfinished.name}*"):
                leftover.unlink()
            unfinished.touch()
            _bring_up(unfinished)
            unfinished.replace(database)
            photo_archive.settle(folder)
            return lock


def take_over(folder: Path, at: datetime) -> tuple[WriterLock, str]:
    """Hold an existing stock folder for writing, its schema brought up to today's.

    Returns the lock, and a sentence for the user where the daily backup failed.
    """
    database = folder / DATABASE
    roll_back(database)
    schema = schema_of(database)
    if schema > SCHEMA:
        raise NewerStockroom(
            f"{folder} was written by a newer version of Bindery Stock (its schema is {schema}, "
            f"this version knows {SCHEMA}). Nothing was changed. Update the program, or open the "
            "stockroom for reading only."
        )
    if not os.access(folder, os.W_OK) or not os.access(database, os.W_OK):
        raise DiskTrouble(
            f"{folder} cannot be written by you. Open it for reading only, or copy the whole "
            "folder to where you may write."
        )
    if database.stat().st_nlink > 1:
        raise DiskTrouble(
            f"{database} is linked under a second name, and writing under two names destroys it. "
            "Copy the whole folder and open the copy, or open this one for reading only."
        )
    with told(folder), _kept(WriterLock(database)) as lock:
        if not pages_look_whole(database):
            raise DamagedStockroom(
                f"The stockroom in {folder} is damaged. It has not been touched. Copy the whole "
                "folder, then take the newest file from its backups folder."
            )
        for name in (PHOTOS, PREVIEWS, BACKUPS):
            (folder / name).mkdir(exist_ok=True)
        photo_archive.clear_incoming(folder / PHOTOS)
        _clear_unfinished(folder)
        step = _last_step(database) if schema else 0
        if schema < SCHEMA:
            backup.take(database, folder / BACKUPS, f"before-schema-{SCHEMA}", at, step)
            _bring_up(database)
        return lock, _daily(database, folder / BACKUPS, at, step)


def look_in(folder: Path) -> str:
    """See that an existing stock folder can be read; returns what the user should know of it."""
    roll_back(folder / DATABASE)
    schema = schema_of(folder / DATABASE)
    if schema > SCHEMA:
        return (
            f"This stockroom was written by a newer version of Bindery Stock (its schema is "
            f"{schema}, this version knows {SCHEMA}), so it is open for reading only. "
            "What the newer version added is not shown."
        )
    if schema < SCHEMA:
        raise ReadOnly(
            f"{folder} was written by an older version and must be brought up to date before it "
            "can be read. Open it for writing once, or copy the whole folder and open the copy."
        )
    return "This stockroom is open for reading only."


@contextmanager
def _kept(lock: WriterLock) -> Iterator[WriterLock]:
    """Hold the lock beyond the block, but not where the block fails."""
    try:
        yield lock
    except BaseException:
        lock.release()
        raise


def _clear_unfinished(folder: Path) -> None:
    """Remove what was cut short when a copy was made or put back; only the one writer may."""
    for leftover in (*folder.glob(f".{DATABASE}.*"), *(folder / BACKUPS).glob(".*.sqlite*")):
        leftover.unlink()
    for leftover in (folder / BACKUPS).glob(".damaged-*"):
        shutil.rmtree(leftover)


def _bring_up(database: Path) -> None:
    made = engine(database, writing=True)
    try:
        with made.begin() as connection:
            upgrade(connection)
    finally:
        made.dispose()


def _last_step(database: Path) -> int:
    reader = engine(database)
    try:
        with reader.connect() as connection:
            return connection.scalar(select(func.max(StepRow.number))) or 0
    finally:
        reader.dispose()


def _daily(database: Path, folder: Path, at: datetime, step: int) -> str:
    """A failed backup must not lock the user out of their own stock, so it is told instead."""
    try:
        with told(folder):
            if backup.daily_is_due(folder, at, step):
                backup.take(database, folder, backup.DAILY, at, step)
                backup.thin(folder)
    except (DiskTrouble, DamagedStockroom, NotAStockroom) as trouble:
        return f"Today's backup could not be made. {trouble}"
    return ""
