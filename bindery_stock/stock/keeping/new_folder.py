"""A stock folder made from the contents of another."""

from pathlib import Path
from typing import Any

from sqlalchemy import Connection, MetaData, insert, text
from sqlalchemy.exc import DBAPIError, IntegrityError, StatementError

from bindery_stock.errors import DamagedStockroom, StockError
from bindery_stock.stock.keeping.disk import APPLICATION_ID, engine, told
from bindery_stock.stock.keeping.layout import BACKUPS, DATABASE, PHOTOS, PREVIEWS
from bindery_stock.stock.keeping.migrate import upgrade, upgrade_to
from bindery_stock.stock.ledger.movements import to_json
from bindery_stock.stock.ledger.whole import JSON_COLUMNS, Whole


def lay_out(folder: Path, whole: Whole) -> None:
    """Make a stock folder of these contents; an older schema is brought up to today's.

    Photographs may lie in its ``photos`` already. Raises ``StockError`` where the folder holds a
    stockroom, ``DamagedStockroom`` where the contents do not hang together.
    """
    database = folder / DATABASE
    with told(folder):
        for name in (PHOTOS, PREVIEWS, BACKUPS):
            (folder / name).mkdir(parents=True, exist_ok=True)
        if database.exists():
            raise StockError(f"{folder} holds a stockroom already. Choose an empty folder.")
        database.touch()
        made = engine(database, writing=True)
        try:
            with made.begin() as connection:
                _fill(connection, whole)
                upgrade(connection)
        except (IntegrityError, StatementError) as fault:
            if not isinstance(fault, IntegrityError) and isinstance(fault, DBAPIError):
                raise
            raise DamagedStockroom(
                f"its rows do not hang together ({fault.orig or fault})"
            ) from fault
        finally:
            made.dispose()  # the last connection folds the journal in


def _fill(connection: Connection, whole: Whole) -> None:
    upgrade_to(connection, f"{whole.schema:04d}")
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
    there = MetaData()
    there.reflect(connection)
    for name, rows in whole.tables.items():
        table = there.tables.get(name)
        if table is None:
            raise DamagedStockroom(f"A stockroom has nothing called {name}.")
        columns = {column.key for column in table.columns}
        for row in rows:
            if row.keys() != columns:
                odd = ", ".join(sorted(row.keys() ^ columns))
                raise DamagedStockroom(f"A row of {name} is not whole: {odd}.")
        written = [{key: _written(key, value) for key, value in row.items()} for row in rows]
        if written:
            connection.execute(insert(table), written)
    for name, last in whole.sequences.items():
        connection.execute(text("DELETE FROM sqlite_sequence WHERE name = :n"), {"n": name})
        connection.execute(
            text("INSERT INTO sqlite_sequence (name, seq) VALUES (:n, :s)"), {"n": name, "s": last}
        )


def _written(name: str, value: Any) -> Any:
    if name in JSON_COLUMNS and value is not None and not isinstance(value, str):
        return to_json(value)
    return value
