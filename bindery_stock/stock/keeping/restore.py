"""The copies in the backups folder: what is in each, and going back to one.

A copy never replaces the stockroom until it has been laid beside it and checked. What was there
before is kept among the backups, so that going back can itself be gone back on.
"""

import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from bindery_stock.errors import DamagedStockroom, NewerStockroom, NotFound, StockError
from bindery_stock.stock.keeping import backup
from bindery_stock.stock.keeping.disk import connect, schema_of, told
from bindery_stock.stock.keeping.half_written import roll_back
from bindery_stock.stock.keeping.layout import BACKUPS, DATABASE
from bindery_stock.stock.keeping.migrate import SCHEMA
from bindery_stock.stock.keeping.owner import WriterLock
from bindery_stock.stock.keeping.photo_archive import settle
from bindery_stock.stock.keeping.soundness import pages_look_whole
from bindery_stock.stock.stored import made_of

BEFORE_RESTORE = "before-restore"
_COUNTED = ("piece", "adhesive_lot", "repair", "wanted")
_NAMED = 12
"""So many of the steps that would be lost are named, the latest."""


@dataclass(frozen=True, slots=True)
class Backup:
    """One copy of the database."""

    path: Path
    at: datetime
    reason: str
    """``daily``, ``before-restore``, ``before-schema-3``, or what the user wrote."""
    step: int
    """The last step of the ledger in it."""
    size: int


@dataclass(frozen=True, slots=True)
class Contents:
    """How much a database holds."""

    pieces: int
    on_shelf: int
    lots: int
    volumes: int
    wants: int
    steps: int
    last_step: str
    """What was done last, in words; empty where nothing was."""
    last_at: datetime | None


@dataclass(frozen=True, slots=True)
class Outlook:
    """What going back to a copy would change."""

    now: Contents | None
    """None where the stockroom is too damaged to be read."""
    then: Contents
    lost_steps: tuple[str, ...]
    """Steps made since, the latest first, at most a dozen."""


@dataclass(frozen=True, slots=True)
class Restored:
    """A copy was put in the stockroom's place."""

    kept: Path
    """Where what was there before is kept: a copy, or a folder of the damaged files."""
    then: Contents


def backups(folder: Path) -> list[Backup]:
    """The copies in a stock folder, newest first. Another kind of file is left out."""
    found = []
    with told(folder):
        for path in (folder / BACKUPS).glob("*.sqlite"):
            name = backup.read_name(path)
            if name is not None:
                at, reason, step = name
                found.append(Backup(path, at, reason, step, path.stat().st_size))
    return sorted(found, key=lambda one: (one.at, one.path.stat().st_mtime_ns), reverse=True)


def contents(database: Path) -> Contents:
    """How much a database holds, without changing a byte of it.

    Raises ``NotAStockroom``, ``NewerStockroom`` or ``DamagedStockroom``.
    """
    schema = schema_of(database)
    if schema > SCHEMA:
        raise NewerStockroom(
            f"{database.name} was written by a newer version of Bindery Stock. Update the program "
            "and try again."
        )
    with told(database.parent), closing(connect(database)) as raw:
        there = {row[0] for row in raw.execute("SELECT name FROM sqlite_master")}
        counts = {
            name: raw.execute(f"SELECT count(*) FROM {name}").fetchone()[0]
            for name in _COUNTED
            if name in there
        }
        shelf = "SELECT count(*) FROM piece WHERE state = 'on the shelf'"
        (on_shelf,) = raw.execute(shelf).fetchone()
        newest = "SELECT number, name, at FROM step ORDER BY number DESC"
        number, words, at = raw.execute(newest).fetchone() or (0, "", None)
    return Contents(
        pieces=counts.get("piece", 0),
        on_shelf=on_shelf,
        lots=counts.get("adhesive_lot", 0),
        volumes=counts.get("repair", 0),
        wants=counts.get("wanted", 0),
        steps=number,
        last_step=words,
        last_at=None
        if at is None
        else made_of(at, datetime.fromisoformat, thing=f"Step {number}", what="its instant"),
    )


def outlook(folder: Path, chosen: Path) -> Outlook:
    """What going back to a copy would change. Raises as ``contents`` for the copy."""
    then = contents(chosen)
    database = folder / DATABASE
    try:
        roll_back(database)
        now = contents(database)
        with told(folder), closing(connect(database)) as raw:
            since = "SELECT name FROM step WHERE number > ? ORDER BY number DESC LIMIT ?"
            lost = tuple(row[0] for row in raw.execute(since, (then.steps, _NAMED)))
    except StockError:  # damaged or gone: that is why a copy is wanted
        return Outlook(None, then, ())
    return Outlook(now, then, lost)


def restore(folder: Path, chosen: Path, at: datetime) -> Restored:
    """Put a copy in the place of the stockroom, which must be closed.

    The copy itself stays where it is. Raises ``NotFound`` where there is no such copy,
    ``StockroomInUse`` where a window has the stockroom open, ``DamagedStockroom`` where the copy is
    not whole; nothing was changed then.
    """
    database = folder / DATABASE
    if not chosen.is_file():
        raise NotFound(f"There is no copy {chosen}. Choose one of those in {folder / BACKUPS}.")
    if database.exists() and chosen.samefile(database):
        raise StockError(
            f"{chosen} is the stockroom itself. Choose one of the copies in {folder / BACKUPS}."
        )
    with told(folder), WriterLock(database):
        then = contents(chosen)
        _must_be_whole(chosen)
        beside = folder / f".{DATABASE}.restored"
        try:
            shutil.copyfile(chosen, beside)
            backup.sync(beside)
            _must_be_whole(beside)
            kept = _keep(database, folder / BACKUPS, at)
            for ending in ("-wal", "-shm", "-journal"):
                # Folded in or carried off by now; beside another database they would ruin it.
                database.with_name(database.name + ending).unlink(missing_ok=True)
            beside.replace(database)
        finally:
            beside.unlink(missing_ok=True)
        settle(folder)
    return Restored(kept, then)


def _must_be_whole(copy: Path) -> None:
    with closing(connect(copy)) as raw:
        found = [row[0] for row in raw.execute("PRAGMA integrity_check")]
    if found != ["ok"]:
        raise DamagedStockroom(
            f"{copy.name} is damaged ({found[0]}), so it was not put back. Nothing was changed. "
            "Choose another copy."
        )


def _keep(database: Path, folder: Path, at: datetime) -> Path:
    """Keep what is there now: as a checked copy where it is whole, else file by file."""
    folder.mkdir(exist_ok=True)
    try:
        if pages_look_whole(database):
            step = contents(database).steps
            kept = backup.take(database, folder, BEFORE_RESTORE, at, step)
            with closing(connect(database, writing=True)) as raw:
                raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            return kept
    except (StockError, sqlite3.DatabaseError):
        pass  # it cannot be copied as a database: its files are kept as they are
    kept = folder / f"damaged-{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    unfinished = folder / f".{kept.name}"
    shutil.rmtree(unfinished, ignore_errors=True)
    unfinished.mkdir()
    for ending in ("", "-wal", "-shm", "-journal"):
        file = database.with_name(database.name + ending)
        if file.exists():
            shutil.copy2(file, unfinished / file.name)
    settle(unfinished)
    while kept.exists():  # a kill came between keeping and going back, in the same second
        kept = kept.with_name(f"{kept.name}-again")
    unfinished.rename(kept)
    settle(folder)
    return kept
