"""Questions about wants and reorder points."""

from sqlalchemy import Connection, select

from bindery_stock.stock.wants import rows as want_rows
from bindery_stock.stock.wants.tables import ReorderRow, WantedRow
from bindery_stock.stock.wants.values import ReorderPoint, Wanted


def wanted(connection: Connection, *, closed: bool) -> list[Wanted]:
    """The wanted list in the order of writing; closed lines only where asked for."""
    asked = select(WantedRow.__table__).order_by(WantedRow.id)
    if not closed:
        asked = asked.where(WantedRow.outcome == "")
    return [want_rows.wanted_of(row) for row in connection.execute(asked)]


def reorder_points(connection: Connection) -> list[ReorderPoint]:
    """The reorder points, by kind."""
    asked = select(ReorderRow.__table__).order_by(ReorderRow.kind)
    return [want_rows.reorder_of(row) for row in connection.execute(asked)]
