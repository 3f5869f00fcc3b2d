"""The tables of ``stock.sqlite``.

Times are ISO 8601 text in UTC, dates ISO 8601 text, money decimal text, outlines and rings JSON
text: every column holds a plain value, so a row in the ledger is the row itself. References are
checked when a transaction ends, so that a step may put rows back in any order. Row ids and codes
are never used twice.

The tables named in ``TRACKED`` are the stock: each change to them is a movement in the ledger.
"""

from bindery_stock.stock.books.tables import BOOK_ROWS
from bindery_stock.stock.keeping.tables import CodeSeriesRow, SettingRow
from bindery_stock.stock.ledger.tables import MovementRow, StepRow
from bindery_stock.stock.lots.tables import AdhesiveLotRow, LotPartRow, LotUseRow
from bindery_stock.stock.photos.tables import PhotoRow
from bindery_stock.stock.pieces.tables import (
    ColourRow,
    ConfirmationRow,
    CuttingRow,
    MarkRow,
    PieceRow,
    ReservationRow,
)
from bindery_stock.stock.rulings.tables import RulingRow
from bindery_stock.stock.table_base import Base, TrackedBase
from bindery_stock.stock.wants.tables import ReorderRow, WantedRow

_STOCK_ROWS: tuple[type[TrackedBase], ...] = (
    PieceRow,
    ColourRow,
    MarkRow,
    CuttingRow,
    ReservationRow,
    ConfirmationRow,
    AdhesiveLotRow,
    LotPartRow,
    LotUseRow,
    WantedRow,
    ReorderRow,
    RulingRow,
)
TRACKED: dict[str, type[TrackedBase]] = {
    row.__tablename__: row for row in (*_STOCK_ROWS, *BOOK_ROWS)
}
"""The stock itself: the rows of these tables are what the ledger adds up to."""

BESIDE: tuple[type[Base], ...] = (PhotoRow, StepRow, MovementRow, SettingRow, CodeSeriesRow)
"""What stands beside the stock and is not undone: originals, the ledger itself, settings."""
