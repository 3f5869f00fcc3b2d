"""The check of a whole stockroom: one definition of sound, for the user and for the tests."""

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import Engine, func, select
from sqlalchemy.orm import Session

from bindery_stock.errors import DamagedStockroom
from bindery_stock.stock.keeping import legible, photo_archive
from bindery_stock.stock.keeping.disk import connect
from bindery_stock.stock.keeping.values import Soundness
from bindery_stock.stock.ledger.movements import balance
from bindery_stock.stock.ledger.tables import StepRow
from bindery_stock.stock.pieces import questions as piece_questions
from bindery_stock.stock.pieces.tables import PieceRow


def check(database: Path, photos: Path, reader: Engine) -> Soundness:
    """Pages, references, ledger and photographs. What it finds is said, never mended."""
    faults = _pages(database)
    faults = faults or [str(fault) for fault in legible.spoilt_texts(database)]
    if faults:
        return Soundness(tuple(faults))
    with Session(reader) as session:
        faults.extend(legible.faults(session.connection()))
        try:
            faults.extend(balance(session))
        except DamagedStockroom as fault:
            faults.append(str(fault))
        kept = piece_questions.all_photos(session.connection())
        pieces = session.scalar(select(func.count()).select_from(PieceRow)) or 0
        steps = session.scalar(select(func.count()).select_from(StepRow)) or 0
    said, orphans = photo_archive.faults(photos, kept)
    return Soundness(
        faults=(*faults, *said),
        orphans=tuple(orphans),
        pieces=pieces,
        photos=len(kept),
        steps=steps,
    )


def _pages(database: Path) -> list[str]:
    try:
        with closing(connect(database)) as connection:
            faults = [
                f"The database is damaged: {row[0]}."
                for row in connection.execute("PRAGMA integrity_check")
                if row[0] != "ok"
            ]
            faults.extend(
                f"Row {row_id} of {table} refers to a {target} that is not there."
                for table, row_id, target, _ in connection.execute("PRAGMA foreign_key_check")
            )
    except sqlite3.DatabaseError as fault:
        return [f"The database is damaged: {fault}."]
    return faults


def pages_look_whole(database: Path) -> bool:
    """The quick look taken at every opening; ``check`` looks further."""
    with closing(connect(database, writing=True)) as connection:
        (found,) = connection.execute("PRAGMA quick_check").fetchone()
    return bool(found == "ok")
