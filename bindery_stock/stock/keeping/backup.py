"""Copies of the database: one whole, checked file each, thinned so that they never pile up.

Photographs are not copied again: their names are their content, and the database names them.
"""

import os
import re
import sqlite3
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

from bindery_stock.errors import DamagedStockroom
from bindery_stock.stock.keeping.disk import connect
from bindery_stock.stock.keeping.photo_archive import settle

DAILY = "daily"
_KEPT_DAYS, _KEPT_WEEKS, _KEPT_MONTHS = 7, 4, 12
_NAME = re.compile(r"(?P<at>\d{8}T\d{6}Z)-(?P<reason>[a-z0-9-]+)-step-(?P<step>\d+)(-\d+)?\.sqlite")


def take(database: Path, folder: Path, reason: str, at: datetime, step: int) -> Path:
    """Copy the database into ``folder`` through SQLite's own backup, check the copy, name it.

    The name tells the instant in UTC, the reason and the last step of the ledger. Raises
    ``DamagedStockroom`` where the copy does not pass, and keeps what was there.
    """
    target = name_for(folder, reason, at, step)
    unfinished = folder / f".{target.name}"
    unfinished.unlink(missing_ok=True)
    try:
        with closing(connect(database)) as source, closing(sqlite3.connect(unfinished)) as copy:
            source.backup(copy)
            # One file that can be carried away alone, without a journal beside it.
            copy.execute("PRAGMA journal_mode = DELETE")
            found = [row[0] for row in copy.execute("PRAGMA integrity_check")]
        _must_be_whole(found, database)
        sync(unfinished)
        unfinished.replace(target)
    except BaseException:
        unfinished.unlink(missing_ok=True)
        raise
    settle(folder)
    return target


def _must_be_whole(found: list[str], database: Path) -> None:
    if found != ["ok"]:
        raise DamagedStockroom(
            f"The stockroom in {database.parent} is damaged ({found[0]}), so no backup was made. "
            "The older ones in its backups folder have been kept."
        )


def sync(path: Path) -> None:
    """Bring a file to the disk."""
    with path.open("rb+") as copy:
        os.fsync(copy.fileno())


def daily_is_due(folder: Path, at: datetime, step: int) -> bool:
    """Whether today has no daily copy yet and the ledger has moved since the last one."""
    taken = _daily(folder)
    if not taken:
        return step > 0
    newest = max(taken, key=_step)
    days = {_day(path) for path in taken}
    return at.astimezone(UTC).date() not in days and _step(newest) != step


def day_has_daily(folder: Path, at: datetime) -> bool:
    """Whether the day of this instant has a daily copy already."""
    return at.astimezone(UTC).date() in {_day(path) for path in _daily(folder)}


def thin(folder: Path) -> None:
    """Keep the daily copies of the last 7 days, 4 weeks and 12 months that have one.

    Counted over the copies there are and not from today, so that a wrong clock removes nothing.
    Copies made for another reason are the user's own and stay.
    """
    newest_first = sorted(_daily(folder), key=lambda path: path.name, reverse=True)
    kept: set[Path] = set()
    for most, period in (
        (_KEPT_DAYS, _day),
        (_KEPT_WEEKS, lambda path: _day(path).isocalendar()[:2]),
        (_KEPT_MONTHS, lambda path: (_day(path).year, _day(path).month)),
    ):
        seen: dict[object, Path] = {}
        for path in newest_first:
            seen.setdefault(period(path), path)
        kept.update(list(seen.values())[:most])
    for path in newest_first:
        if path not in kept:
            path.unlink()


def read_name(path: Path) -> tuple[datetime, str, int] | None:
    """The instant, the reason and the last step that a copy's name tells; None for other files."""
    match = _NAME.fullmatch(path.name)
    if match is None:
        return None
    at = datetime.strptime(match["at"], "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    return at, match["reason"], int(match["step"])


def name_for(folder: Path, reason: str, at: datetime, step: int) -> Path:
    """A free name for a copy made at this instant, for this reason, after this step."""
    plain = re.sub(r"[^a-z0-9]+", "-", reason.lower()).strip("-") or "asked"
    stem = f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}-{plain}-step-{step}"
    target = folder / f"{stem}.sqlite"
    count = 1
    while target.exists():
        count += 1
        target = folder / f"{stem}-{count}.sqlite"
    return target


def _daily(folder: Path) -> list[Path]:
    return [
        path
        for path in folder.glob("*.sqlite")
        if (match := _NAME.fullmatch(path.name)) and match["reason"] == DAILY
    ]


def _day(path: Path) -> date:
    return datetime.strptime(path.name[:8], "%Y%m%d").replace(tzinfo=UTC).date()


def _step(path: Path) -> int:
    match = _NAME.fullmatch(path.name)
    return int(match["step"]) if match else 0
