"""The adhesive lots as a Qt list, what needs using up first at the top."""

from bindery_stock.bench.adhesives.shelf_rows import LotRow
from bindery_stock.desktop.row_list import RowList


class LotModel(RowList[LotRow]):
    """The rows of the shelf."""

    def place_of(self, code: str) -> int | None:
        """The number of the row of this lot."""
        codes = [row.lot.code for row in self._rows]
        return codes.index(code) if code in codes else None

    def tip(self, row: LotRow) -> str:
        """How long it keeps, and each use with its verdict."""
        return "\n".join((row.life.words, *(f"{one.short}: {one.use}" for one in row.fitness)))
