"""Pieces from a table that comes in: which column is what, and every row tried before any is kept.

Figures are read strictly: one decimal sign, chosen, and no sign between thousands, because
``1.500`` is one and a half to one reader and fifteen hundred to another.
"""

import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum, StrEnum
from typing import TypeVar

from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.records.counted import counted
from bindery_stock.records.incoming import Sheet
from bindery_stock.shape import Outline
from bindery_stock.stock import Colour, NewPiece
from bindery_stock.trade.vocabulary import CODE_LETTER, Backing, Fibre, Form, Kind

LONGEST_MM = 100_000.0
MOST_TOLD = 200
"""So many faulty rows are told one by one; the rest are counted."""
_TOLD_EVERY = 500
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
    PLACE = ("Place", "place", "location", "lies in")
    SOURCE = ("Source", "source", "from", "came from")
    SOURCE_DATE = ("Source date", "source date")
    PRICE = ("Price", "price")
    NOTE = ("Note", "note", "notes", "remarks")

    @property
    def words(self) -> str:
        """As the mapping page shows it."""
        words: str = self.value[0]
        return words


NEEDED = (Field.KIND, Field.WIDTH, Field.HEIGHT)


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
class Reading:
    """How the file is to be read."""

    columns: Mapping[Field, int]
    point: Point = Point.POINT
    length: LengthIn = LengthIn.MM
    kind: Kind | None = None
    """The kind of every row, where no column tells it."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A row that cannot be kept."""

    line: int
    sentence: str


@dataclass(frozen=True, slots=True)
class Trial:
    """What taking the table in would do. Nothing has been changed."""

    pieces: tuple[tuple[NewPiece, str], ...]
    """Each piece with the code its row gives, or an empty one for the next free."""
    faults: tuple[Fault, ...]
    more_faults: int
    """Faulty rows beyond those told one by one."""
    known: tuple[str, ...]
    """Codes that are in the stockroom already: their rows are left out."""

    @property
    def good(self) -> bool:
        """Whether it can be taken in: something is new, and no row is faulty."""
        return bool(self.pieces) and not self.faults

    @property
    def words(self) -> str:
        """What it would do, in one or two sentences."""
        told = f"{counted(len(self.pieces), 'piece')} would be shelved."
        if self.known:
            some = ", ".join(self.known[:3]) + (" …" if len(self.known) > 3 else "")
            told += f" {counted(len(self.known), 'row')} already here: left out ({some})."
        faulty = len(self.faults) + self.more_faults
        if faulty:
            told += (
                f" {counted(faulty, 'row')} cannot be read, so nothing is taken in until mended."
            )
        return told


def likely_columns(headings: tuple[str, ...]) -> dict[Field, int]:
    """The columns known by their headings, units in brackets left aside; to be seen and changed."""
    plain = [re.sub(r"\s*\(.*\)\s*$", "", one).strip().casefold() for one in headings]
    found: dict[Field, int] = {}
    for field in Field:
        for name in field.value[1:]:
            if name in plain:
                found[field] = plain.index(name)
                break
    return found


def likely_unit(headings: tuple[str, ...], columns: Mapping[Field, int]) -> LengthIn:
    """The unit named in the heading of the widths, or mm."""
    if Field.WIDTH not in columns:
        return LengthIn.MM
    named = re.search(r"\((mm|cm|in)\)", headings[columns[Field.WIDTH]].casefold())
    return LengthIn(named[1]) if named else LengthIn.MM


def try_rows(
    sheet: Sheet,
    reading: Reading,
    known: Collection[str],
    *,
    tell: Callable[[float, str], None] = lambda _share, _words: None,
    check: Callable[[], None] = lambda: None,
) -> Trial:
    """Read every row. Raises ``EntryError`` where a needed column is not named."""
    for field in NEEDED:
        if field not in reading.columns and not (field is Field.KIND and reading.kind):
            raise EntryError(field.words, f"{field.words}: say which column holds it.")
    known = frozenset(known)
    pieces: list[tuple[NewPiece, str]] = []
    faults: list[Fault] = []
    seen: dict[str, int] = {}
    here: list[str] = []
    more = 0
    for number, (line, cells) in enumerate(sheet.rows):
        if number % _TOLD_EVERY == 0:
            check()
            tell(number / len(sheet.rows), f"Row {number} of {len(sheet.rows)}")
        try:
            new, code = _row(cells, len(sheet.headings), reading)
            if code and code in seen:
                raise EntryError("Code", f"Code: {code} stands on line {seen[code]} already.")
        except BinderyError as error:
            if len(faults) < MOST_TOLD:
                faults.append(Fault(line, str(error)))
            else:
                more += 1
            continue
        if code:
            seen[code] = line
        if code in known:
            here.append(code)
        else:
            pieces.append((new, code))
    return Trial(tuple(pieces), tuple(faults), more, tuple(here))


def _row(cells: tuple[str, ...], width: int, reading: Reading) -> tuple[NewPiece, str]:
    if len(cells) > width:
        raise EntryError(
            "Row", f"Row: it has {len(cells)} cells under {width} headings. Mend it in the file."
        )

    def text(field: Field) -> str:
        column = reading.columns.get(field)
        return "" if column is None else cells[column]

    kind = reading.kind or _word(text(Field.KIND), Kind, Field.KIND)
    across, along = (_length(text(field), field, reading) for field in (Field.WIDTH, Field.HEIGHT))
    new = NewPiece(
        kind=kind,
        outline=Outline(((0.0, 0.0), (across, 0.0), (across, along), (0.0, along))),
        form=_word(text(Field.FORM), Form, Field.FORM, Form.SCRAP),
        pattern=text(Field.PATTERN),
        backing=_word(text(Field.BACKING), Backing, Field.BACKING, Backing.UNKNOWN),
        fibre=_word(text(Field.FIBRE), Fibre, Field.FIBRE, Fibre.UNKNOWN),
        colours=_colours(text, reading),
        place=text(Field.PLACE),
        source=text(Field.SOURCE),
        source_date=text(Field.SOURCE_DATE),
        price=_price(text(Field.PRICE), reading),
        note=text(Field.NOTE),
    )
    return new, _code(text(Field.CODE), kind)


def _code(typed: str, kind: Kind) -> str:
    code = typed.upper()
    if not code:
        return ""
    if not _CODE.fullmatch(code) or code[0] != CODE_LETTER[kind]:
        raise EntryError(
            "Code",
            f"Code: “{typed}” is no code for {kind}; it would be {CODE_LETTER[kind]}-0042. Take "
            "the column as a note, and codes will be given.",
        )
    return code


def _word(typed: str, words: type[E], field: Field, empty: E | None = None) -> E:
    if not typed and empty is not None:
        return empty
    try:
        return words(typed.casefold())
    except ValueError as error:
        some = ", ".join(word.value for word in words)
        raise EntryError(field.words, f"{field.words}: “{typed}” is none of {some}.") from error


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


def _length(typed: str, field: Field, reading: Reading) -> float:
    if not typed:
        raise EntryError(field.words, f"{field.words}: is empty.")
    named = re.fullmatch(r"(.*?)\s*(mm|cm|in)", typed.casefold())
    unit = LengthIn(named[2]) if named else reading.length
    figure = number(named[1] if named else typed, field.words, reading.point) * _TO_MM[unit]
    if not 0.0 < figure <= LONGEST_MM:
        raise EntryError(field.words, f"{field.words}: {typed} {unit} is no size of a piece.")
    return figure


def _colours(text: Callable[[Field], str], reading: Reading) -> tuple[Colour, ...]:
    figures = [text(field) for field in (Field.LIGHTNESS, Field.A, Field.B)]
    if not any(figures):
        return ()
    if not all(figures):
        raise EntryError("Colour", "Colour: L*, a* and b* belong together; one is empty.")
    lightness, a, b = (
        number(figure, name, reading.point)
        for figure, name in zip(figures, ("L*", "a*", "b*"), strict=True)
    )
    if not 0.0 <= lightness <= 100.0 or max(abs(a), abs(b)) > 150.0:
        raise EntryError("Colour", f"Colour: {lightness:g}, {a:g}, {b:g} is no colour of cloth.")
    return (Colour(lab=(lightness, a, b), method="taken in from a table"),)


def _price(typed: str, reading: Reading) -> Decimal | None:
    if not typed:
        return None
    figure = number(typed, "Price", reading.point)
    if figure < 0:
        raise EntryError("Price", f"Price: {typed} is less than nothing.")
    return Decimal(typed.replace(",", ".").strip())
