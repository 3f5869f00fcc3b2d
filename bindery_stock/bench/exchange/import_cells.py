"""One cell of a table that comes in, read strictly.

One decimal sign, chosen, and no sign between thousands, because ``1.500`` is one and a half to one
reader and fifteen hundred to another.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum, StrEnum
from typing import TypeVar

from bindery_stock.bench.exchange.import_dates import DayOrder
from bindery_stock.errors import EntryError
from bindery_stock.trade.vocabulary import Kind

LONGEST_MM = 100_000.0
_CODE = re.compile(r"[A-Z]-\d{4,7}")
E = TypeVar("E", bound=StrEnum)


class Field(Enum):
    """What a column may be, with the headings by which it is known again."""

    CODE = ("Code", "code")
    KIND = ("Kind", "kind", "material")
    WIDTH = ("Width across the warp", "width", "width across warp", "width across the warp")
    HEIGHT = ("Height along the warp", "height", "height along warp", "height along the warp")
    FORM = ("Form", "form")
    PATTERN = ("Grain pattern", "grain pattern", "pattern", "grain")
    BACKING = ("Backing", "backing")
    FIBRE = ("Fibre", "fibre", "fiber")
    LIGHTNESS = ("L*", "l*")
    A = ("a*", "a*")
    B = ("b*", "b*")
    CLASS = ("Class", "class", "adhesive class", "kind", "type")
    NAME = ("Name", "name", "adhesive", "label")
    QUANTITY = ("How much is left", "left", "how much is left", "quantity", "amount")
    UNIT = ("Counted in", "counted in", "unit")
    BOUGHT = ("Bought", "bought", "date bought", "purchased", "purchase date")
    RECEIVED = ("Received", "received", "date received")
    OPENED = ("Opened", "opened", "date opened")
    MADE = ("Made or mixed", "made", "mixed", "cooked", "made or mixed")
    EXPIRES = (
        "Supplier’s date", "supplier's date", "supplier’s date", "expires", "expiry",
        "expiry date", "best before", "use by",
    )  # fmt: skip
    SUPPLIER = ("Supplier", "supplier", "maker")
    REFERENCE = ("Batch or order number", "batch or order number", "batch", "order number")
    STORAGE = ("Kept like the", "storage", "kept like the")
    FROZEN = ("Frozen once", "frozen", "frozen once")
    PH = ("pH", "ph")
    PLACE = ("Place", "place", "location", "lies in", "stands in")
    SOURCE = ("Source", "source", "from", "came from")
    SOURCE_DATE = ("Source date", "source date", "date of source", "book dated")
    PRICE = ("Price", "price")
    NOTE = ("Note", "note", "notes", "remarks")

    @property
    def words(self) -> str:
        """As the mapping page shows it."""
        words: str = self.value[0]
        return words

    @property
    def headings(self) -> tuple[str, ...]:
        """In small letters."""
        headings: tuple[str, ...] = self.value[1:]
        return headings


class Point(StrEnum):
    """The decimal sign of the file."""

    POINT = "."
    COMMA = ","


class LengthIn(StrEnum):
    """The unit of the file's lengths where a cell says none."""

    MM = "mm"
    CM = "cm"
    INCH = "in"


_TO_MM = {LengthIn.MM: 1.0, LengthIn.CM: 10.0, LengthIn.INCH: 25.4}


@dataclass(frozen=True, slots=True)
class CellForms:
    """How the file is to be read."""

    columns: Mapping[Field, int]
    point: Point = Point.POINT
    length: LengthIn = LengthIn.MM
    kind: Kind | None = None
    """The kind of every row, where no column tells it."""
    order: DayOrder | None = None
    """The order of its dates; None to take it from the table."""
    rest_in_note: bool = False
    """Whether what stands in columns without a name goes into the note."""


@dataclass(frozen=True, slots=True)
class Cells:
    """The cells of one row under the names they were given."""

    headings: tuple[str, ...]
    cells: tuple[str, ...]
    reading: CellForms

    def text(self, field: Field) -> str:
        """A cell as it stands; empty where no column holds it."""
        column = self.reading.columns.get(field)
        return "" if column is None else self.cells[column]

    def number(self, field: Field) -> float | None:
        """A figure; None where the cell is empty. Raises ``EntryError``."""
        typed = self.text(field)
        return number(typed, field.words, self.reading.point) if typed else None

    def word(self, field: Field, words: type[E], empty: E | None = None) -> E:
        """One of our words; ``empty`` where the cell is empty. Raises ``EntryError``."""
        typed = self.text(field)
        if not typed and empty is not None:
            return empty
        try:
            return words(typed.casefold())
        except ValueError as error:
            some = ", ".join(word.value for word in words)
            raise EntryError(field.words, f"{field.words}: “{typed}” is none of {some}.") from error

    def length(self, field: Field) -> float:
        """A length in mm, above zero. Raises ``EntryError``."""
        typed = self.text(field)
        if not typed:
            raise EntryError(field.words, f"{field.words}: is empty.")
        named = re.fullmatch(r"(.*?)\s*(mm|cm|in)", typed.casefold())
        unit = LengthIn(named[2]) if named else self.reading.length
        told = named[1] if named else typed
        figure = number(told, field.words, self.reading.point) * _TO_MM[unit]
        if not 0.0 < figure <= LONGEST_MM:
            raise EntryError(field.words, f"{field.words}: {told} {unit} is no size of a piece.")
        return figure

    def money(self, field: Field) -> Decimal | None:
        """An amount; None where the cell is empty. Raises ``EntryError``."""
        typed = self.text(field)
        if not typed:
            return None
        if number(typed, field.words, self.reading.point) < 0:
            raise EntryError(field.words, f"{field.words}: {typed} is less than nothing.")
        return Decimal(typed.replace("\N{MINUS SIGN}", "-").replace(",", ".").strip())

    def code(self, letter: str, what: str) -> str:
        """The code, or nothing where it is to be given. Raises ``EntryError``."""
        typed = self.text(Field.CODE)
        code = typed.upper()
        if code and (not _CODE.fullmatch(code) or code[0] != letter):
            raise EntryError(
                "Code",
                f"Code: “{typed}” is no code for {what}; it would be {letter}-0042. Take the "
                "column as a note, and codes will be given.",
            )
        return code

    def note(self) -> str:
        """The note, and below it what stands in the other columns, if that was asked for."""
        told = [self.text(Field.NOTE)] if self.text(Field.NOTE) else []
        if self.reading.rest_in_note:
            named = set(self.reading.columns.values())
            told += [
                f"{heading}: {cell}"
                for column, (heading, cell) in enumerate(
                    zip(self.headings, self.cells, strict=True)
                )
                if cell and column not in named
            ]
        return "\n".join(told)


def number(typed: str, field: str, point: Point) -> float:
    """A figure with the decimal sign of the file and nothing between its thousands.

    Raises ``EntryError``.
    """
    other = "," if point is Point.POINT else "."
    text = typed.replace("\N{MINUS SIGN}", "-").strip()
    if other in text or re.search(r"\d[\s'’_]\d", text) or text.count(point.value) > 1:
        raise EntryError(
            field,
            f"{field}: “{typed}” cannot be read with “{point.value}” as its decimal sign. Write "
            "figures without signs between thousands, or choose the other decimal sign.",
        )
    if not re.fullmatch(r"[-+]?(\d+([.,]\d*)?|[.,]\d+)", text):
        raise EntryError(field, f"{field}: “{typed}” is not a figure.")
    return float(text.replace(",", "."))
