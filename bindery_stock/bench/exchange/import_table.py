"""A table that comes in: which column is what, and every row tried before any is kept."""

import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from enum import Enum

from bindery_stock.bench.exchange import import_lots, import_pieces
from bindery_stock.bench.exchange.import_cells import CellForms, Cells, Field, LengthIn
from bindery_stock.bench.exchange.import_dates import DatesSeen, DayOrder, seen_in
from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.records.counted import counted
from bindery_stock.records.table_in import IncomingTable
from bindery_stock.stock import NewAdhesiveLot, NewPiece
from bindery_stock.trade import Rules

MOST_TOLD = 200
"""So many faulty rows are told one by one; the rest are counted."""
_TOLD_EVERY = 500
_NAMED = 3
_LEFT_OUT = 6
Tell = Callable[[float, str], None]
Check = Callable[[], None]


class Subject(Enum):
    """What each row of a table is."""

    PIECES = ("piece", import_pieces.FIELDS, import_pieces.NEEDED, import_pieces.DATES)
    LOTS = ("lot", import_lots.FIELDS, import_lots.NEEDED, import_lots.DATES)

    def __init__(
        self,
        word: str,
        fields: tuple[Field, ...],
        needed: tuple[Field, ...],
        dates: tuple[Field, ...],
    ) -> None:
        """``word`` is one of them; ``fields`` what its columns may be."""
        self.word, self.fields, self.needed, self.dates = word, fields, needed, dates


@dataclass(frozen=True, slots=True)
class Fault:
    """A row that cannot be kept."""

    line: int
    sentence: str


@dataclass(frozen=True, slots=True)
class Trial:
    """What taking the table in would do. Nothing has been changed."""

    subject: Subject
    pieces: tuple[tuple[NewPiece, str], ...]
    lots: tuple[tuple[NewAdhesiveLot, str], ...]
    """Each with the code its row gives, or an empty one for the next free."""
    faults: tuple[Fault, ...]
    more_faults: int
    """Faulty rows beyond those told one by one."""
    known: tuple[str, ...]
    """Codes that are in the stockroom already: their rows are left out."""
    dates: str
    """In which order dates were read and why; empty where there was nothing to settle."""
    left_out: tuple[str, ...]
    """Headings of the columns that are not taken in."""

    @property
    def count(self) -> int:
        """How many would come in."""
        return len(self.pieces) + len(self.lots)

    @property
    def good(self) -> bool:
        """Whether it can be taken in: something is new, and no row is faulty."""
        return self.count > 0 and not self.faults

    @property
    def words(self) -> str:
        """What it would do, in a few sentences."""
        told = [f"{counted(self.count, self.subject.word)} would be shelved."]
        if self.known:
            some = ", ".join(self.known[:_NAMED]) + (" …" if len(self.known) > _NAMED else "")
            told.append(f"{counted(len(self.known), 'row')} already here: left out ({some}).")
        faulty = len(self.faults) + self.more_faults
        if faulty:
            told.append(
                f"{counted(faulty, 'row')} cannot be read, so nothing is taken in until mended."
            )
        if self.dates:
            told.append(self.dates)
        if self.left_out:
            some = ", ".join(self.left_out[:_LEFT_OUT])
            more = len(self.left_out) - _LEFT_OUT
            told.append(f"Not taken in: {some}{f' and {more} more' if more > 0 else ''}.")
        return " ".join(told)


def likely_subject(headings: tuple[str, ...]) -> Subject:
    """What the rows are, by what is known of the headings; to be seen and changed."""
    lots = likely_columns(headings, Subject.LOTS)
    pieces = likely_columns(headings, Subject.PIECES)
    sized = Field.WIDTH in pieces or Field.HEIGHT in pieces
    return Subject.LOTS if not sized and len(lots) > len(pieces) else Subject.PIECES


def likely_columns(
    headings: tuple[str, ...], subject: Subject = Subject.PIECES
) -> dict[Field, int]:
    """The columns known by their headings, units in brackets left aside; to be seen and changed."""
    plain = [re.sub(r"\s*\(.*\)\s*$", "", one).strip().casefold() for one in headings]
    found: dict[Field, int] = {}
    for field in subject.fields:
        for name in field.headings:
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


def dates_seen(sheet: IncomingTable, reading: CellForms, subject: Subject) -> DatesSeen:
    """What the columns of dates tell of the order they are written in."""
    columns = [reading.columns[field] for field in subject.dates if field in reading.columns]
    return seen_in((line, cells[column]) for line, cells in sheet.rows for column in columns)


class _Tried:
    """The rows looked at so far."""

    def __init__(self, known: Collection[str]) -> None:
        self._known = frozenset(known)
        self._seen: dict[str, int] = {}
        self.pieces: list[tuple[NewPiece, str]] = []
        self.lots: list[tuple[NewAdhesiveLot, str]] = []
        self.faults: list[Fault] = []
        self.more = 0
        self.here: list[str] = []

    def add(self, line: int, new: NewPiece | NewAdhesiveLot, code: str) -> None:
        """Keep a row that was read. Raises ``EntryError`` where its code was there before."""
        if code and code in self._seen:
            raise EntryError("Code", f"Code: {code} stands on line {self._seen[code]} already.")
        if code:
            self._seen[code] = line
        if code in self._known:
            self.here.append(code)
        elif isinstance(new, NewPiece):
            self.pieces.append((new, code))
        else:
            self.lots.append((new, code))

    def refuse(self, line: int, sentence: str) -> None:
        """Keep why a row cannot be read."""
        if len(self.faults) < MOST_TOLD:
            self.faults.append(Fault(line, sentence))
        else:
            self.more += 1


def try_rows(
    sheet: IncomingTable,
    reading: CellForms,
    known: Collection[str],
    rules: Rules,
    subject: Subject = Subject.PIECES,
    *,
    tell: Tell = lambda _share, _words: None,
    check: Check = lambda: None,
) -> Trial:
    """Read every row, each as one of ``subject``.

    Raises ``EntryError`` where a needed column is not named, or where dates can be read two ways
    and the order was not chosen.
    """
    for field in subject.needed:
        if field not in reading.columns and not (field is Field.KIND and reading.kind):
            raise EntryError(field.words, f"{field.words}: say which column holds it.")
    seen = dates_seen(sheet, reading, subject)
    order = seen.order(reading.order)
    tried = _Tried(known)
    for number, (line, cells) in enumerate(sheet.rows):
        if number % _TOLD_EVERY == 0:
            check()
            tell(number / len(sheet.rows), f"Row {number} of {len(sheet.rows)}")
        try:
            new, code = _row(Cells(sheet.headings, cells, reading), subject, order, rules)
            tried.add(line, new, code)
        except BinderyError as error:
            tried.refuse(line, str(error))
    return Trial(
        subject,
        tuple(tried.pieces),
        tuple(tried.lots),
        tuple(tried.faults),
        tried.more,
        tuple(tried.here),
        seen.words(reading.order),
        _left_out(sheet, reading),
    )


def _row(
    row: Cells, subject: Subject, order: DayOrder | None, rules: Rules
) -> tuple[NewPiece | NewAdhesiveLot, str]:
    many, width = len(row.cells), len(row.headings)
    if many > width:
        raise EntryError(
            "Row", f"Row: it has {many} cells under {width} headings. Mend it in the file."
        )
    if subject is Subject.PIECES:
        return import_pieces.piece_of(row, order)
    return import_lots.lot_of(row, order, rules)


def _left_out(sheet: IncomingTable, reading: CellForms) -> tuple[str, ...]:
    """Headings of the columns with something in them that go nowhere."""
    if reading.rest_in_note:
        return ()
    named = set(reading.columns.values())
    rest = [column for column in range(len(sheet.headings)) if column not in named]
    return tuple(
        sheet.headings[column] for column in rest if any(cells[column] for _, cells in sheet.rows)
    )
