"""A list that leaves the program: columns with their types and units, and rows of plain values."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

Cell = str | int | float | Decimal | date | None


class Sort(StrEnum):
    """What sort of value a column holds."""

    TEXT = "text"
    NUMBER = "number"
    DATE = "date"
    MONEY = "money"


@dataclass(frozen=True, slots=True)
class Column:
    """One column."""

    head: str
    sort: Sort = Sort.TEXT
    unit: str = ""
    decimals: int = 0
    on_paper: bool = True
    """Whether it is printed too; a file has every column."""

    @property
    def heading(self) -> str:
        """``Width (mm)``."""
        return f"{self.head} ({self.unit})" if self.unit else self.head


@dataclass(frozen=True, slots=True)
class Table:
    """A list with its title and a sentence on what it shows, from when."""

    title: str
    told: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    @property
    def headings(self) -> list[str]:
        """The headings with their units."""
        return [column.heading for column in self.columns]


def table_of(
    title: str, told: str, columns: Sequence[Column], rows: Sequence[Sequence[Cell]]
) -> Table:
    """A table, each row checked to have a cell for every column."""
    made = tuple(tuple(row) for row in rows)
    for row in made:
        if len(row) != len(columns):
            raise ValueError(f"{title}: a row has {len(row)} cells for {len(columns)} columns")
    return Table(title, told, tuple(columns), made)


def shown(cell: Cell, column: Column, *, point: str = ".") -> str:
    """A cell as text: ISO 8601 dates, the column's decimals, no group separators."""
    match cell:
        case None:
            return ""
        case str():
            return cell
        case date():
            return cell.isoformat()
        case Decimal():
            return f"{cell:f}".replace(".", point)
        case int():
            return str(cell)
        case float():
            return f"{cell:.{column.decimals}f}".replace(".", point)
