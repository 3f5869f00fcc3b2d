"""A sound stockroom out of a damaged one, and an honest word on what was lost.

Where the whole ledger can be read, the stock is what it adds up to and nothing is lost. Where it
cannot, the rows that were read and those the ledger still tells of are put together, and the new
ledger begins with one step that brings them in.
"""

import json
import re
import shutil
import sqlite3
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy.orm import Session

from bindery_stock.colour import draft_photo
from bindery_stock.errors import DamagedStockroom, PhotoError
from bindery_stock.stock.keeping import backup
from bindery_stock.stock.keeping.disk import engine, told
from bindery_stock.stock.keeping.half_written import finish, journal_of
from bindery_stock.stock.keeping.layout import BACKUPS, DATABASE, PHOTOS
from bindery_stock.stock.keeping.legible import fault_of
from bindery_stock.stock.keeping.loose_rows import (
    code_series,
    hang_together,
    one_step,
)
from bindery_stock.stock.keeping.new_folder import lay_out
from bindery_stock.stock.keeping.photo_archive import settle
from bindery_stock.stock.keeping.wreck import Wreck, read_wreck
from bindery_stock.stock.ledger.movements import Key, Row, balance
from bindery_stock.stock.ledger.whole import Whole, row_schema
from bindery_stock.stock.tables import TRACKED

SALVAGED = "salvaged"
_LEDGER = ("step", "movement")
_SHA256 = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Salvaged:
    """What came out of a damaged stockroom."""

    copy: Path
    """A sound database among the backups, to go back to."""
    kept: dict[str, int]
    """Rows saved, by table."""
    lost: tuple[str, ...]
    """A sentence for each thing that is lost; none where all was saved."""

    @property
    def words(self) -> str:
        """One sentence on it."""
        saved = f"{self.kept.get('piece', 0)} pieces and {self.kept.get('adhesive_lot', 0)} lots"
        if not self.lost:
            return f"Everything was saved from the ledger: {saved}."
        return f"Saved: {saved}. Lost: {' '.join(self.lost)}"


def salvage(folder: Path, at: datetime) -> Salvaged:
    """Read what can be read of the stockroom in ``folder`` and write a sound copy of it.

    The damaged file is not touched; the copy lies among the backups, with a text beside it that
    names what was lost, and takes its place with ``restore``. Raises ``DamagedStockroom`` where
    nothing can be read.
    """
    with told(folder):
        wreck = _read(folder)
        lost: list[str] = []
        whole = _by_the_ledger(wreck)
        if whole is None:
            _find_photos(wreck, folder / PHOTOS, at)
            whole = _put_together(wreck, at, lost)
        scratch = folder / ".salvage"
        shutil.rmtree(scratch, ignore_errors=True)
        try:
            lay_out(scratch, whole)
            _must_balance(scratch / DATABASE)
            (folder / BACKUPS).mkdir(exist_ok=True)
            steps = max((row["number"] for row in whole.tables["step"]), default=0)
            copy = backup.name_for(folder / BACKUPS, SALVAGED, at, steps)
            (scratch / DATABASE).replace(copy)
        finally:
            shutil.rmtree(scratch, ignore_errors=True)
        done = Salvaged(copy, {name: len(rows) for name, rows in whole.tables.items()}, tuple(lost))
        copy.with_suffix(".txt").write_text(f"{done.words}\n", "utf-8")
        settle(folder / BACKUPS)
    return done


def _read(folder: Path) -> Wreck:
    """Read the wreck as it lies; what a kill left half written is rolled back in a copy of it."""
    database = folder / DATABASE
    journal = journal_of(database)
    if journal is None:
        return read_wreck(database)
    scratch = folder / ".salvage"
    shutil.rmtree(scratch, ignore_errors=True)
    scratch.mkdir()
    try:
        for file in (database, journal):
            shutil.copyfile(file, scratch / file.name)
        try:
            finish(scratch / DATABASE)
        except sqlite3.DatabaseError:  # the journal is no help: what lies there is read as it is
            (scratch / journal.name).unlink(missing_ok=True)
        return read_wreck(scratch / DATABASE)
    finally:
        shutil.rmtree(scratch, ignore_errors=True)


def _must_balance(database: Path) -> None:
    made = engine(database)
    try:
        with Session(made) as session:
            faults = balance(session)
    finally:
        made.dispose()
    if faults:
        raise DamagedStockroom(f"What was read does not hang together: {faults[0]}")


def _by_the_ledger(wreck: Wreck) -> Whole | None:
    """The stock as the ledger adds it up, where every step and movement can be read."""
    steps, movements = wreck.tables["step"], wreck.tables["movement"]
    if wreck.hurt & {*_LEDGER, "photo", "setting", "code_series"}:
        return None
    if not _unbroken(steps, "number") or not _unbroken(movements, "id"):
        return None
    folded: dict[Key, Row] = {}
    for movement in movements:
        key = (movement["kind"], movement["row_id"])
        try:
            before, after = (_row_of(wreck, key[0], movement[s]) for s in ("before", "after"))
        except ValueError:  # the text of the movement itself is spoilt
            return None
        if folded.get(key) != before:
            return None
        if after is None:
            folded.pop(key, None)
        else:
            folded[key] = after
    if any(fault_of(kind, row) for (kind, _), row in folded.items()):
        return None
    tables = dict(wreck.tables)
    for name in tables.keys() & TRACKED.keys():
        tables[name] = [row for (kind, _), row in sorted(folded.items()) if kind == name]
    return Whole(wreck.schema, tables, _sequences(wreck, tables))


def _unbroken(rows: list[Row], key: str) -> bool:
    return [row[key] for row in rows] == list(range(1, len(rows) + 1))


def _row_of(wreck: Wreck, kind: str, written: str | None) -> Row | None:
    """A row as the ledger tells it, in the columns of the wreck's own schema.

    A column that came later takes its default, as when the ledger is read.
    """
    if written is None:
        return None
    told_row = json.loads(written)
    if not isinstance(told_row, dict):
        raise ValueError("not a row")  # noqa: TRY004 - as any other spoilt text
    forms = row_schema(wreck.schema)["$defs"]
    if kind not in forms:
        return None
    row: Row = {}
    for name in forms[kind]["items"]["properties"]:
        column = TRACKED[kind].__table__.columns.get(name)
        default = None if column is None or column.default is None else column.default.arg
        row[name] = told_row.get(name, default)
    return row


def _put_together(wreck: Wreck, at: datetime, lost: list[str]) -> Whole:
    """The rows that were read, and those the ledger still tells of, with a ledger of one step."""
    tables = {name: list(rows) for name, rows in wreck.tables.items()}
    told_of = _latest(wreck)
    for name in tables.keys() & TRACKED.keys():
        found = {row["id"]: row for row in tables[name]}
        for (kind, row_id), row in told_of.items():
            if kind == name and row is not None and row_id not in found and name in wreck.hurt:
                found[row_id] = row
        tables[name] = [found[row_id] for row_id in sorted(found)]
    hang_together(tables, lost)
    _say_lost(wreck, tables, told_of, lost)
    tables["code_series"] = code_series(tables)
    tables["step"], tables["movement"] = one_step(tables, at)
    return Whole(wreck.schema, tables, _sequences(wreck, tables))


def _find_photos(wreck: Wreck, archive: Path, at: datetime) -> None:
    """Know a photograph again by its original, whose name is its content."""
    known = {row["sha256"] for row in wreck.tables["photo"]}
    for path in sorted(archive.iterdir()) if archive.is_dir() else ():
        if path.stem in known or not _SHA256.fullmatch(path.stem):
            continue
        try:
            width, height = draft_photo(path, 64).size
        except PhotoError:
            continue
        wreck.tables["photo"].append(
            {
                "sha256": path.stem,
                "name": f"found again {path.stem[:8]}{path.suffix}",
                "width": width,
                "height": height,
                "suffix": path.suffix,
                "archived_at": at.isoformat(),
            }
        )


def _latest(wreck: Wreck) -> dict[Key, Row | None]:
    """Each row as the last movement that can be read left it; None where it was taken away."""
    latest: dict[Key, Row | None] = {}
    for movement in wreck.tables["movement"]:
        try:
            row = _row_of(wreck, movement["kind"], movement["after"])
        except ValueError:  # the text of the movement itself is spoilt
            continue
        if row is not None and fault_of(movement["kind"], row):
            continue
        latest[movement["kind"], movement["row_id"]] = row
    return latest


def _say_lost(
    wreck: Wreck, tables: dict[str, list[Row]], told_of: dict[Key, Row | None], lost: list[str]
) -> None:
    """Name what the ledger or the row numbers show to be gone."""
    for name in ("piece", "adhesive_lot", "repair", "wanted"):
        if name not in tables:
            continue
        here = {row["id"] for row in tables[name]}
        gone = [
            row["code"]
            for (kind, row_id), row in sorted(told_of.items())
            if kind == name and row is not None and row_id not in here
        ]
        if gone:
            lost.append(f"{', '.join(gone)}: known from the ledger, but what they hang on is gone.")
    lost.extend(
        f"Part of {name.replace('_', ' ')} could not be read."
        for name in sorted(wreck.hurt - {"piece", *_LEDGER})
    )
    if "piece" in wreck.hurt:
        there = {row["id"] for row in tables["piece"]}
        holes = [n for n in range(1, max(there, default=0) + 1) if n not in there]
        if holes:
            lost.append(f"Up to {len(holes)} pieces could not be read.")
    if wreck.hurt & set(_LEDGER):
        lost.append("The ledger before today could not be read whole; it begins anew.")
    elif not lost:
        lost.append("The ledger did not agree with itself; it begins anew.")


def _sequences(wreck: Wreck, tables: dict[str, list[Row]]) -> dict[str, int]:
    """The last row number of each table, never below a row there is."""
    last = dict(wreck.sequences)
    for name in tables.keys() & TRACKED.keys():
        most = max((row["id"] for row in tables[name]), default=0)
        if most:
            last[name] = max(last.get(name, 0), most)
    return last
